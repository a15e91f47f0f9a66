/**
 * The receiver that our pushes are decrypted with, held to the published examples.
 *
 * RFC 8291 (Message Encryption for Web Push, 2017), section 5 and appendix A; RFC 8292 (Voluntary Application Server Identification,
 * 2017), section 2.4. Counted as from memory, as they were not held against a copy here; but a tag or a signature fits no
 * other bytes than the published ones.
 */
import { expect } from 'vitest';
import { testPublished } from '../support/published-values.ts';
import { decrypt, type Receiver, senderOf } from '../support/web-push-receiver.ts';

const bytes = (text: string) => Buffer.from(text.replace(/\s/g, ''), 'base64url');

const RECEIVER: Receiver = {
  publicKey: bytes('BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4'),
  privateKey: bytes('q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94'),
  auth: bytes('BTBZMqHH6r4Tts7J_aSIgg'),
};

const BODY = bytes(`
  DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27ml
  mlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPT
  pK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN`);

const TOKEN = [
  'eyJ0eXAiOiJKV1QiLCJhbGciOiJFUzI1NiJ9',
  'eyJhdWQiOiJodHRwczovL3B1c2guZXhhbXBsZS5uZXQiLCJleHAiOjE0NTM1MjM3NjgsInN1YiI6Im1haWx0bzpwdXNoQGV4YW1wbGUuY29tIn0',
  'i3CYb7t4xfxCDquptFOepC9GAu_HLGkMlMuCGSK2rpiUfnK9ojFwDXb1JrErtmysazNjjvW2L9OkSSHzvoD1oA',
].join('.');
const KEY = 'BA1Hxzyi1RUM1b5wjxsn7nGxAszw2u61m164i3MrAIxHF6YK5h4SDYic-dRuU_RCPCfA5aq9ojSwk5Y2EmClBPs';

testPublished(
  'the message decrypts to its sentence, and with one bit changed to nothing',
  { source: 'RFC 8291, section 5', tag: 'M', values: 1 },
  (published) => {
    published.same(decrypt(RECEIVER, BODY), 'When I grow up, I want to be a watermelon', 'the sentence');
    const changed = Buffer.from(BODY);
    changed[100]! ^= 1;
    expect(() => decrypt(RECEIVER, changed)).toThrow();
  },
);

testPublished(
  'the signature is of its key, and of no other words',
  { source: 'RFC 8292, section 2.4', tag: 'M', values: 5 },
  (published) => {
    const { publicKey, algorithm, claims } = senderOf(`vapid t=${TOKEN}, k=${KEY}`);
    published.same(publicKey, KEY, 'k');
    published.same(algorithm, 'ES256', 'alg');
    published.same(claims.aud, 'https://push.example.net', 'aud');
    published.same(claims.exp, 1453523768, 'exp');
    published.same(claims.sub, 'mailto:push@example.com', 'sub');
    expect(() => senderOf(`vapid t=${TOKEN.replace('.eyJhdWQiOiJ', '.eyJhdWQiOiI')}, k=${KEY}`)).toThrow();
  },
);
