/**
 * The receiver that our pushes are decrypted with, held to the published examples.
 *
 * RFC 8291 (Message Encryption for Web Push, 2017), section 5 and appendix A; RFC 8292 (Voluntary Application Server Identification,
 * 2017), section 2.4. Their signatures and tags fit no other bytes.
 */
import { expect, test } from 'vitest';
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

test('the message of RFC 8291 decrypts to its sentence, and with one bit changed to nothing', () => {
  expect(decrypt(RECEIVER, BODY)).toBe('When I grow up, I want to be a watermelon');
  const changed = Buffer.from(BODY);
  changed[100]! ^= 1;
  expect(() => decrypt(RECEIVER, changed)).toThrow();
});

test('the signature of RFC 8292 is of its key, and of no other words', () => {
  expect(senderOf(`vapid t=${TOKEN}, k=${KEY}`)).toEqual({
    publicKey: KEY,
    algorithm: 'ES256',
    claims: { aud: 'https://push.example.net', exp: 1453523768, sub: 'mailto:push@example.com' },
  });
  expect(() => senderOf(`vapid t=${TOKEN.replace('.eyJhdWQiOiJ', '.eyJhdWQiOiI')}, k=${KEY}`)).toThrow();
});
