/**
 * A browser's side of Web Push, step by step after RFC 8291 section 3.4 and RFC 8188 section 2, and a push service's check of who
 * sends (RFC 8292), by Node's own cryptography: nothing here is shared with what sends.
 */
import { createDecipheriv, createECDH, createPublicKey, hkdfSync, randomBytes, verify } from 'node:crypto';

export interface Receiver {
  readonly publicKey: Buffer;
  readonly privateKey: Buffer;
  readonly auth: Buffer;
}

export function newReceiver(): Receiver {
  const ecdh = createECDH('prime256v1');
  const publicKey = ecdh.generateKeys();
  return { publicKey, privateKey: ecdh.getPrivateKey(), auth: randomBytes(16) };
}

/** As a browser gives it away. */
export function keysOf({ publicKey, auth }: Receiver): { p256dh: string; auth: string } {
  return { p256dh: publicKey.toString('base64url'), auth: auth.toString('base64url') };
}

/** @throws for a tag that does not fit, a record without its end, and a body of more records than one. */
export function decrypt(receiver: Receiver, body: Uint8Array): string {
  const bytes = Buffer.from(body);
  const salt = bytes.subarray(0, 16);
  const recordSize = bytes.readUInt32BE(16);
  const keyLength = bytes[20]!;
  const senderKey = bytes.subarray(21, 21 + keyLength);
  const record = bytes.subarray(21 + keyLength);
  if (record.length > recordSize) throw new Error(`record: ${record.length} bytes, at most ${recordSize}`);
  const { key, nonce } = keysFor(receiver, senderKey, salt);
  const decipher = createDecipheriv('aes-128-gcm', key, nonce);
  decipher.setAuthTag(record.subarray(-16));
  const padded = Buffer.concat([decipher.update(record.subarray(0, -16)), decipher.final()]);
  const end = padded.findLastIndex((byte) => byte !== 0);
  if (padded[end] !== 2) throw new Error('record: no end of the last one');
  return padded.subarray(0, end).toString('utf8');
}

function keysFor({ publicKey, privateKey, auth }: Receiver, senderKey: Buffer, salt: Buffer) {
  const ecdh = createECDH('prime256v1');
  ecdh.setPrivateKey(privateKey);
  const secret = ecdh.computeSecret(senderKey);
  const info = Buffer.concat([Buffer.from('WebPush: info\0'), publicKey, senderKey]);
  const material = Buffer.from(hkdfSync('sha256', secret, auth, info, 32));
  const derive = (label: string, length: number) =>
    Buffer.from(hkdfSync('sha256', material, salt, `Content-Encoding: ${label}\0`, length));
  return { key: derive('aes128gcm', 16), nonce: derive('nonce', 12) };
}

export interface Claims {
  readonly aud: string;
  readonly exp: number;
  readonly sub: string;
}

/** What the sender says of itself, and by which key. @throws where the signature is not of that key. */
export function senderOf(authorization: string): { publicKey: string; claims: Claims; algorithm: string } {
  const [, token = '', publicKey = ''] = /^vapid t=([^,]+), ?k=(.+)$/.exec(authorization) ?? [];
  const [head = '', body = '', signature = ''] = token.split('.');
  const point = Buffer.from(publicKey, 'base64url');
  const key = createPublicKey({
    format: 'jwk',
    key: {
      ...{ kty: 'EC', crv: 'P-256' },
      x: point.subarray(1, 33).toString('base64url'),
      y: point.subarray(33).toString('base64url'),
    },
  });
  const isSigned = verify(
    'sha256',
    Buffer.from(`${head}.${body}`),
    { key, dsaEncoding: 'ieee-p1363' },
    Buffer.from(signature, 'base64url'),
  );
  if (!isSigned) throw new Error('signature: not of the key');
  const parsed = (text: string): unknown => JSON.parse(Buffer.from(text, 'base64url').toString());
  return { publicKey, claims: parsed(body) as Claims, algorithm: (parsed(head) as { alg: string }).alg };
}
