/** Range requests as workerd makes them: its fetch differs from that of Node in redirects, aborts and bodies. */
import { fileURLToPath } from 'node:url';
import { Miniflare } from 'miniflare';
import { build } from 'vite';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { type BucketFault, type BucketServer, startBucketServer } from '../support/bucket-server.ts';
import type { Errand } from '../support/ranged-http-worker.ts';

const ENTRY = fileURLToPath(new URL('../support/ranged-http-worker.ts', import.meta.url));
const BYTES = Uint8Array.from({ length: 1000 }, (_, at) => (at * 7) % 251);
const RANGE = { firstByte: 100, lastByte: 299, isEndOpen: false };

let worker: Miniflare;
let server: BucketServer;

beforeAll(async () => {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: { write: false, lib: { entry: ENTRY, formats: ['es'] } },
  });
  const [output] = Array.isArray(built) ? built : [built];
  if (output === undefined || !('output' in output)) throw new Error('expected a bundle');
  worker = new Miniflare({ modules: true, script: output.output[0].code, compatibilityDate: '2026-07-30' });
});
afterAll(() => worker.dispose());
afterEach(() => server.close());

async function asked(fault: BucketFault | undefined, errand: Partial<Errand> = {}, later?: BucketFault) {
  server = await startBucketServer({
    files: { a: { bytes: BYTES }, moved: { bytes: BYTES }, big: { bytes: new Uint8Array(2 ** 24) } },
    fault: ({ path, attempt }) => {
      if (errand.path === 'moved' && path !== 'moved') return undefined;
      return attempt === 1 ? fault : (later ?? fault);
    },
  });
  const body: Errand = { baseUrl: server.baseUrl, path: 'a', range: RANGE, ...errand };
  const response = await worker.dispatchFetch('http://worker/', {
    method: 'POST',
    body: JSON.stringify(body),
  });
  return (await response.json()) as { bytes?: number[]; fault?: string; found?: string };
}

test('a range comes byte for byte, once and under the condition of its version', async () => {
  expect((await asked(undefined, { times: 2 })).bytes).toEqual([...BYTES.subarray(100, 300)]);
  expect(server.requests.map(({ status }) => status)).toEqual([206, 206]);
  expect(server.requests[1]!.headers['if-range']).toMatch(/^"/);
});

test('an open end ends with the file', async () => {
  const range = { firstByte: 990, lastByte: 2000, isEndOpen: true };
  expect((await asked(undefined, { range })).bytes).toEqual([...BYTES.subarray(990)]);
});

test('a redirect within is followed, one that leads out is refused and not asked', async () => {
  const within = await asked({ kind: 'redirect', location: '/a' }, { path: 'moved' });
  expect(within.bytes).toHaveLength(200);
  await server.close();
  const out = await asked({ kind: 'redirect', location: 'https://example.org/' }, { path: 'moved' });
  expect(out.fault).toBe('outside');
});

test.each<[string, BucketFault, string]>([
  ['a silent server', { kind: 'silence' }, 'timeout'],
  ['a body that drips', { kind: 'drip', bytes: 1, everyMs: 20 }, 'timeout'],
  ['404', { kind: 'status', status: 404 }, 'not-there-yet'],
  ['503', { kind: 'status', status: 503 }, 'status'],
  ['another range', { kind: 'headers', headers: { 'content-range': 'bytes 0-199/1000' } }, 'range'],
  ['fewer bytes', { kind: 'short-length', bytes: 10 }, 'short'],
  ['more bytes', { kind: 'endless' }, 'too-large'],
  ['a broken connection', { kind: 'reset' }, 'unreachable'],
  ['a body cut short', { kind: 'short-body', bytes: 10 }, 'unreachable'],
])('%s is told as what it is', async (_, fault, kind) => {
  expect((await asked(fault)).fault).toBe(kind);
});

test('a replaced file is found out', async () => {
  const later: BucketFault = { kind: 'headers', headers: { etag: '"other"' } };
  expect((await asked(undefined, { times: 2 }, later)).fault).toBe('replaced');
});

test('the whole file in the place of a range is left where it is', async () => {
  expect((await asked({ kind: 'whole-file' }, { path: 'big' })).fault).toBe('range');
  await new Promise((resolve) => setTimeout(resolve, 100));
  expect(server.openNow()).toBe(0);
  expect(server.requests[0]!.sentBytes).toBeLessThan(2 ** 23);
});
