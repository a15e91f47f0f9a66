/** Pushes as workerd makes them: its cryptography, redirects and aborts are not those of Node. */
import { fileURLToPath } from 'node:url';
import { Miniflare, type Request as OutboundRequest, Response } from 'miniflare';
import { build } from 'vite';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { newPushKeys } from '../../worker/cli/push-keys.ts';
import { decrypt, keysOf, newReceiver, senderOf } from '../support/web-push-receiver.ts';
import type { PushErrand } from '../support/web-push-worker.ts';

const ENTRY = fileURLToPath(new URL('../support/web-push-worker.ts', import.meta.url));
const RECEIVER = newReceiver();
const ERRAND: PushErrand = {
  keys: { ...(await newPushKeys()), subject: 'mailto:ops@example.com' },
  subscriber: {
    ...{ boardId: 'b', keyId: 'k', by: 'night desk' },
    endpoint: 'https://push.example.net/p/1',
    keys: keysOf(RECEIVER),
  },
  message: {
    title: 'IV 101: outside limits',
    body: 'Above the limit – refuse',
    path: '/board/b',
    topic: 't',
  },
};

let worker: Miniflare;
let answer: (path: string) => Response | Promise<Response>;
let got: { path: string; method: string; headers: Headers; body: Uint8Array }[];

beforeAll(async () => {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: { write: false, lib: { entry: ENTRY, formats: ['es'] } },
  });
  const [output] = Array.isArray(built) ? built : [built];
  if (output === undefined || !('output' in output)) throw new Error('expected a bundle');
  worker = new Miniflare({
    ...{ modules: true, script: output.output[0].code, compatibilityDate: '2026-07-30' },
    outboundService: async (request: OutboundRequest) => {
      const { pathname } = new URL(request.url);
      const headers = new Headers([...request.headers] as [string, string][]);
      const body = new Uint8Array(await request.arrayBuffer());
      got.push({ path: pathname, method: request.method, headers, body });
      return answer(pathname);
    },
  });
});
afterAll(() => worker.dispose());
beforeEach(() => {
  got = [];
  answer = () => new Response(null, { status: 201 });
});

async function sent(): Promise<unknown> {
  const init = { method: 'POST', body: JSON.stringify(ERRAND) };
  return (await worker.dispatchFetch('http://worker/', init)).json();
}

test('a push out of workerd is read by its browser and signed by the instance', async () => {
  expect(await sent()).toBe('sent');
  const [{ method, headers, body }] = got as [(typeof got)[0]];
  expect(method).toBe('POST');
  expect(JSON.parse(decrypt(RECEIVER, body))).toEqual(ERRAND.message);
  const { publicKey, claims } = senderOf(headers.get('authorization')!);
  expect([publicKey, claims.aud]).toEqual([ERRAND.keys.publicKey, 'https://push.example.net']);
  expect([headers.get('ttl'), headers.get('content-encoding')]).toEqual(['7200', 'aes128gcm']);
});

test('a redirect is not followed', async () => {
  answer = (path) =>
    path === '/p/1'
      ? new Response(null, { status: 307, headers: { location: 'https://push.example.net/inside' } })
      : new Response(null, { status: 201 });
  expect(await sent()).toBe('failed');
  expect(got.map(({ path }) => path)).toEqual(['/p/1']);
});

test('a service that does not answer is given up, after one more try', async () => {
  answer = () => new Promise(() => {});
  expect(await sent()).toBe('failed');
  expect(got.length).toBe(2);
});

test('a subscription that was taken back is gone', async () => {
  answer = () => new Response('no more', { status: 410 });
  expect(await sent()).toBe('gone');
});
