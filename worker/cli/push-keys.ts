/** `node worker/cli/push-keys.ts`: a fresh pair of keys for Web Push, as the settings that hold them. The private one is a secret. */
import type { PushKeys } from '../sources/push-keys.ts';

/** Never throws. */
export async function newPushKeys(): Promise<Pick<PushKeys, 'publicKey' | 'privateKey'>> {
  const pair = await crypto.subtle.generateKey({ name: 'ECDSA', namedCurve: 'P-256' }, true, [
    'sign',
    'verify',
  ]);
  const point = await crypto.subtle.exportKey('raw', pair.publicKey);
  const { d = '' } = await crypto.subtle.exportKey('jwk', pair.privateKey);
  return { publicKey: Buffer.from(point).toString('base64url'), privateKey: d };
}

if (import.meta.filename === process.argv[1]) {
  const { publicKey, privateKey } = await newPushKeys();
  console.log(`PUSH_PUBLIC_KEY=${publicKey}\nPUSH_PRIVATE_KEY=${privateKey}`);
}
