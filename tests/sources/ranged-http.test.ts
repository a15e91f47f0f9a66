import { afterEach, describe, expect, test } from 'vitest';
import { createRangedHttp, DEFAULT_HTTP_LIMITS } from '../../worker/sources/ranged-http.ts';
import {
  type BucketFault,
  type BucketServer,
  type SeenRequest,
  startBucketServer,
} from '../support/bucket-server.ts';
import { rehearsalHttp } from '../support/rehearsal-http.ts';
import { sourceErrorOf } from '../support/source-errors.ts';

const BYTES = Uint8Array.from({ length: 1000 }, (_, at) => (at * 7) % 251);
const BIG = new Uint8Array(40 * 2 ** 20);
const RANGE = { firstByte: 100, lastByte: 299, isEndOpen: false };

let server: BucketServer;
afterEach(() => server.close());

/** A bucket whose answers fail as told: the n-th try of a range meets the n-th fault, the last one again and again. */
async function bucket(...faults: (BucketFault | undefined)[]) {
  const fault = ({ attempt }: SeenRequest) => faults[Math.min(attempt, faults.length) - 1];
  server = await startBucketServer({
    files: { 'a.grib2': { bytes: BYTES }, 'a.idx': { bytes: '1:0:é' }, big: { bytes: BIG } },
    fault,
  });
  return { url: `${server.baseUrl}a.grib2`, http: rehearsalHttp(server.baseUrl), server };
}

const status = (code: number, retryAfter?: string): BucketFault => ({
  kind: 'status',
  status: code,
  ...(retryAfter === undefined ? {} : { retryAfter }),
});
const headers = (changes: Readonly<Record<string, string | undefined>>): BucketFault => ({
  kind: 'headers',
  headers: changes,
});

describe('range', () => {
  test('brings exactly its bytes and says of which version they are', async () => {
    const { http, url } = await bucket();
    const { bytes, version } = await http.range(url, RANGE);
    expect([...bytes]).toEqual([...BYTES.subarray(100, 300)]);
    expect(version).toEqual({ etag: expect.stringMatching(/^"1000-\d+"$/), totalBytes: 1000 });
    expect(server.requests[0]?.headers.range).toBe('bytes=100-299');
    expect(server.requests[0]?.headers['accept-encoding']).toMatch(/^identity/);
  });

  test('sends no cookie, no authorization and no referrer', async () => {
    const { http, url } = await bucket();
    await http.range(url, RANGE);
    const names = Object.keys(server.requests[0]!.headers);
    expect(names.filter((name) => ['cookie', 'authorization', 'referer'].includes(name))).toEqual([]);
  });

  test('with an open end brings what there is up to the end of the file', async () => {
    const { http, url } = await bucket();
    const { bytes } = await http.range(url, { firstByte: 900, lastByte: 5000, isEndOpen: true });
    expect([...bytes]).toEqual([...BYTES.subarray(900)]);
  });

  test('with an open end is refused when the file goes on behind the cap', async () => {
    const { http, url } = await bucket();
    const call = () => http.range(url, { firstByte: 900, lastByte: 950, isEndOpen: true });
    expect(await sourceErrorOf(call)).toMatchObject({
      fault: 'range',
      found: 'Content-Range bytes 900-950/1000',
    });
  });

  test('is refused when the file ends before it does', async () => {
    const { http, url } = await bucket();
    const call = () => http.range(url, { firstByte: 900, lastByte: 1000, isEndOpen: false });
    expect(await sourceErrorOf(call)).toMatchObject({ fault: 'range', expected: 'bytes 900-1000' });
    const behind = () => http.range(url, { firstByte: 1000, lastByte: 1001, isEndOpen: false });
    expect(await sourceErrorOf(behind)).toMatchObject({ fault: 'status', found: 'status 416' });
    expect(server.requests).toHaveLength(2);
  });

  test('takes the whole file only when that is what was asked for', async () => {
    const { http, url } = await bucket({ kind: 'whole-file' });
    const whole = await http.range(url, { firstByte: 0, lastByte: 999, isEndOpen: false });
    expect(whole.bytes).toHaveLength(1000);
    const call = () => http.range(url, RANGE);
    expect(await sourceErrorOf(call)).toMatchObject({ fault: 'range', found: 'the whole file, 1000 bytes' });
  });

  test('does not read the whole file that came in its place', async () => {
    const { http, server } = await bucket({ kind: 'whole-file' });
    const call = () => http.range(`${server.baseUrl}big`, RANGE);
    expect((await sourceErrorOf(call)).fault).toBe('range');
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(server.requests).toHaveLength(1);
    expect(server.requests[0]!.sentBytes).toBeLessThan(BIG.length / 2);
    expect(server.openNow()).toBe(0);
  });
});

describe('what helps when it is tried again', () => {
  test.each<[string, BucketFault]>([
    ['a reset connection', { kind: 'reset' }],
    ['a body cut short', { kind: 'short-body', bytes: 50 }],
    ['fewer bytes than the range has', { kind: 'short-length', bytes: 199 }],
    ['a status of 503', status(503)],
    ['a status of 500', status(500)],
    ['a status of 429', status(429)],
  ])('%s', async (_, fault) => {
    const { http, url } = await bucket(fault, undefined);
    expect([...(await http.range(url, RANGE)).bytes]).toEqual([...BYTES.subarray(100, 300)]);
    expect(server.requests).toHaveLength(2);
  });

  test('is told as what it was when it lasts, after three tries', async () => {
    const { http, url } = await bucket(status(503));
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({
      ...{ fault: 'status', found: 'status 503', expected: 'status 200 or 206', retryable: true },
    });
    expect(server.requests).toHaveLength(3);
  });

  test.each<[string, BucketFault, object]>([
    ['resets', { kind: 'reset' }, { fault: 'unreachable' }],
    [
      'short bodies',
      { kind: 'short-length', bytes: 7 },
      { fault: 'short', found: '7 bytes', expected: '200' },
    ],
  ])('%s that last are told so', async (_, fault, expected) => {
    const { http, url } = await bucket(fault);
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({ ...expected, retryable: true });
    expect(server.requests).toHaveLength(3);
  });

  test('a burst of 503 is waited out for as long as the source asks', async () => {
    const { http, url } = await bucket(status(503, '1'), undefined);
    const startMs = performance.now();
    await http.range(url, RANGE);
    expect(performance.now() - startMs).toBeGreaterThanOrEqual(990);
  });

  test('a source that asks for an hour is asked once, and the error says how long', async () => {
    const { http, url } = await bucket(status(503, '3600'));
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({ retryAfterMs: 3_600_000 });
    expect(server.requests).toHaveLength(1);
  });
});

describe('what does not help when it is tried again is refused at once', () => {
  test.each<[string, BucketFault, string, string]>([
    [
      'a range that begins elsewhere',
      headers({ 'content-range': 'bytes 101-299/1000' }),
      'range',
      'bytes 101-299/1000',
    ],
    ['a range that ends elsewhere', headers({ 'content-range': 'bytes 100-298/1000' }), 'range', '100-298'],
    [
      'a range beyond its own file',
      headers({ 'content-range': 'bytes 100-299/200' }),
      'range',
      '100-299/200',
    ],
    ['a range of an unknown file', headers({ 'content-range': 'bytes 100-299/*' }), 'range', '/*'],
    ['a range of other units', headers({ 'content-range': 'lines 100-299/1000' }), 'range', 'lines'],
    ['no Content-Range', headers({ 'content-range': undefined }), 'range', 'none'],
    ['compressed bytes', headers({ 'content-encoding': 'br' }), 'range', 'encoding br'],
    ['403', status(403), 'status', 'status 403'],
    ['204', status(204), 'status', 'status 204'],
    ['400', status(400), 'status', 'status 400'],
  ])('%s', async (...[, fault, kind, found]) => {
    const { http, url } = await bucket(fault);
    const error = await sourceErrorOf(() => http.range(url, RANGE));
    expect(error).toMatchObject({ fault: kind, retryable: false, host: new URL(url).host });
    expect(error.found).toContain(found);
    expect(server.requests).toHaveLength(1);
  });

  test('404 is a file that is not there yet', async () => {
    const { http, server } = await bucket();
    for (const call of [
      () => http.range(`${server.baseUrl}b`, RANGE),
      () => http.text(`${server.baseUrl}b`, { mostBytes: 9 }),
    ]) {
      expect(await sourceErrorOf(call)).toMatchObject({ fault: 'not-there-yet', retryable: false });
    }
    expect(server.requests).toHaveLength(2);
  });

  test('more bytes than the range has are cut off', async () => {
    const { http, url } = await bucket({ kind: 'endless' });
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({
      ...{ fault: 'too-large', expected: 'at most 200' },
    });
    expect(server.requests[0]!.sentBytes).toBeLessThan(20 * 2 ** 20);
  });
});

describe('one file, one version', () => {
  test('a file replaced between two ranges is refused', async () => {
    const { http, url, server } = await bucket();
    const { version } = await http.range(url, RANGE);
    server.put('a.grib2', { bytes: BYTES.toReversed() });
    expect(await sourceErrorOf(() => http.range(url, RANGE, { version }))).toMatchObject({
      fault: 'replaced',
    });
    expect(server.requests[1]).toMatchObject({ status: 200, headers: { 'if-range': version.etag } });
  });

  test.each<[string, BucketFault]>([
    ['another tag', headers({ etag: '"other"' })],
    ['no tag any more', headers({ etag: undefined })],
    ['another size of the file', headers({ 'content-range': 'bytes 100-299/1001' })],
  ])('%s is refused', async (_, fault) => {
    const { http, url } = await bucket(undefined, fault);
    const { version } = await http.range(url, RANGE);
    expect((await sourceErrorOf(() => http.range(url, RANGE, { version }))).fault).toBe('replaced');
  });

  test('a weak tag is compared but not sent as a condition', async () => {
    const { http, url } = await bucket(headers({ etag: 'W/"1"' }));
    const { version } = await http.range(url, RANGE);
    await http.range(url, RANGE, { version });
    expect(server.requests[1]!.headers['if-range']).toBeUndefined();
  });
});

describe('time', () => {
  const once = { attempts: 1, firstWaitMs: 1, greatestWaitMs: 1, greatestRetryAfterMs: 1 };

  test('a silent server is left', async () => {
    const { url, server } = await bucket({ kind: 'silence' });
    const http = rehearsalHttp(server.baseUrl, { answerTimeoutMs: 60, retry: once });
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({
      ...{ fault: 'timeout', found: 'none within 60 ms', expected: 'an answer', retryable: true },
    });
  });

  test('a body that drips is left, however steadily', async () => {
    const { url, server } = await bucket({ kind: 'drip', bytes: 1, everyMs: 5 });
    const http = rehearsalHttp(server.baseUrl, { answerTimeoutMs: 60, wholeTimeoutMs: 150, retry: once });
    const startMs = performance.now();
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({
      ...{ fault: 'timeout', found: 'none within 150 ms', expected: 'all bytes' },
    });
    expect(performance.now() - startMs).toBeLessThan(1000);
  });

  test('a drip that is quick enough is read', async () => {
    const { http, url } = await bucket({ kind: 'drip', bytes: 40, everyMs: 2 });
    expect((await http.range(url, RANGE)).bytes).toHaveLength(200);
  });

  test('a timeout is tried again', async () => {
    const { url, server } = await bucket({ kind: 'silence' }, undefined);
    const http = rehearsalHttp(server.baseUrl, { answerTimeoutMs: 60 });
    expect((await http.range(url, RANGE)).bytes).toHaveLength(200);
  });

  test('a request that is no longer wanted ends, and is not tried again', async () => {
    const { http, url, server } = await bucket({ kind: 'silence' });
    const stop = new AbortController();
    const asking = sourceErrorOf(() => http.range(url, RANGE, { signal: stop.signal }));
    await expect.poll(() => server.requests.length).toBe(1);
    stop.abort();
    expect((await asking).fault).toBe('cancelled');
    expect((await sourceErrorOf(() => http.range(url, RANGE, { signal: stop.signal }))).fault).toBe(
      'cancelled',
    );
    expect(server.requests).toHaveLength(1);
  });
});

describe('redirects', () => {
  test('are followed within the allowed addresses, with the range', async () => {
    server = await startBucketServer({
      files: { 'a.grib2': { bytes: BYTES }, 'moved.grib2': { bytes: '' } },
      fault: ({ path }) => (path === 'moved.grib2' ? { kind: 'redirect', location: '/a.grib2' } : undefined),
    });
    const { bytes } = await rehearsalHttp(server.baseUrl).range(`${server.baseUrl}moved.grib2`, RANGE);
    expect([...bytes]).toEqual([...BYTES.subarray(100, 300)]);
  });

  test.each([
    'http://127.0.0.1:1/a',
    'https://example.org/a',
    'file:///etc/passwd',
    '//example.org/a',
    'http://[',
  ])('out to %s are refused, and nothing is asked there', async (location) => {
    const { http, url } = await bucket({ kind: 'redirect', location });
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({
      fault: 'outside',
      retryable: false,
    });
    expect(server.requests).toHaveLength(1);
  });

  test('in a circle end after the third', async () => {
    const { http, url, server } = await bucket({ kind: 'redirect', location: '/a.grib2' });
    expect(await sourceErrorOf(() => http.range(url, RANGE))).toMatchObject({
      ...{ fault: 'redirect', found: 'more than 3 redirects' },
    });
    expect(server.requests).toHaveLength(4);
  });
});

describe('text', () => {
  test('comes whole, as UTF-8', async () => {
    const { http, server } = await bucket();
    expect(await http.text(`${server.baseUrl}a.idx`, { mostBytes: 100 })).toBe('1:0:é');
  });

  test('is refused before it is read when it says that it is too large', async () => {
    const { http, server } = await bucket();
    const call = () => http.text(`${server.baseUrl}big`, { mostBytes: 1000 });
    expect(await sourceErrorOf(call)).toMatchObject({
      ...{ fault: 'too-large', found: `${BIG.length} bytes or more`, expected: 'at most 1000' },
    });
    expect(server.requests[0]!.sentBytes).toBeLessThan(BIG.length / 2);
  });

  test('is cut off when it does not say its size and does not end', async () => {
    const { http, server } = await bucket({ kind: 'endless' });
    const call = () => http.text(`${server.baseUrl}a.idx`, { mostBytes: 100_000 });
    expect((await sourceErrorOf(call)).fault).toBe('too-large');
  });

  test('of a host that is not allowed is never asked for', async () => {
    await bucket();
    let asked = 0;
    const fetch = async () => {
      asked += 1;
      return new Response('');
    };
    const deps = { fetch, nowMs: () => 0, random: () => 0, sleep: async () => undefined };
    const http = createRangedHttp(deps, { ...DEFAULT_HTTP_LIMITS, allowed: { hosts: ['a.example'] } });
    const call = () => http.text('https://b.example/x', { mostBytes: 9 });
    expect((await sourceErrorOf(call)).fault).toBe('outside');
    expect(asked).toBe(0);
  });
});
