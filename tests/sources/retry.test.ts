import { describe, expect, test } from 'vitest';
import { SourceError } from '../../worker/errors.ts';
import { type RetryPolicy, retryAfterMs, withRetries } from '../../worker/sources/retry.ts';
import { sourceErrorOf } from '../support/source-errors.ts';

const POLICY: RetryPolicy = {
  attempts: 5,
  firstWaitMs: 100,
  greatestWaitMs: 300,
  greatestRetryAfterMs: 1000,
};

const failure = (fields: { retryable?: boolean; retryAfterMs?: number } = {}) =>
  new SourceError({
    ...{ host: 'h', fault: 'status', what: 'answer', found: 'status 503', expected: 'status 206' },
    retryable: true,
    ...fields,
  });

/** Runs a call that fails as listed and then gives 'done'; tells the waits. */
async function waitsOf(failures: readonly Error[], random: () => number, policy = POLICY) {
  const waits: number[] = [];
  let calls = 0;
  const sleep = async (durationMs: number) => {
    waits.push(durationMs);
  };
  const run = async () => {
    const error = failures[calls];
    calls += 1;
    if (error !== undefined) throw error;
    return 'done';
  };
  const result = await withRetries(run, policy, { sleep, random }).catch((error: unknown) => error);
  return { waits, calls, result };
}

describe('withRetries', () => {
  test('draws each wait from 0 to a bound that doubles up to its greatest', async () => {
    const fails = Array.from({ length: 4 }, () => failure());
    expect((await waitsOf(fails, () => 1)).waits).toEqual([100, 200, 300, 300]);
    expect((await waitsOf(fails, () => 0)).waits).toEqual([0, 0, 0, 0]);
    expect((await waitsOf(fails, () => 0.25)).waits).toEqual([25, 50, 75, 75]);
  });

  test('gives up after so many tries, with the last error', async () => {
    const fails = Array.from({ length: 9 }, () => failure());
    const { calls, result } = await waitsOf(fails, () => 0);
    expect(calls).toBe(POLICY.attempts);
    expect(result).toBe(fails[POLICY.attempts - 1]);
  });

  test('does not try again what no retry can mend', async () => {
    expect((await waitsOf([failure({ retryable: false })], () => 0)).calls).toBe(1);
    expect((await waitsOf([new TypeError('ours')], () => 0)).calls).toBe(1);
  });

  test('waits at least as long as the source asks', async () => {
    expect((await waitsOf([failure({ retryAfterMs: 700 })], () => 0)).waits).toEqual([700]);
    expect((await waitsOf([failure({ retryAfterMs: 700 })], () => 1)).waits).toEqual([800]);
  });

  test('leaves a source alone that asks for a longer wait than the bound', async () => {
    const asked = failure({ retryAfterMs: 1001 });
    expect(await waitsOf([asked], () => 0)).toEqual({ waits: [], calls: 1, result: asked });
  });

  test('stops when it is cancelled while it waits', async () => {
    const stop = new AbortController();
    const sleep = async () => stop.abort();
    let calls = 0;
    const run = () => {
      calls += 1;
      return Promise.reject(failure());
    };
    const call = () => withRetries(run, POLICY, { sleep, random: () => 0 }, stop.signal);
    expect((await sourceErrorOf(call)).fault).toBe('status');
    expect(calls).toBe(1);
  });
});

describe('retryAfterMs', () => {
  const NOW_MS = Date.UTC(2026, 0, 14, 12);
  test.each([
    ['3', 3000],
    ['0', 0],
    ['Wed, 14 Jan 2026 12:00:05 GMT', 5000],
    ['Wed, 14 Jan 2026 11:00:00 GMT', 0],
    ['soon', undefined],
    ['', undefined],
    ['-3', undefined],
    [null, undefined],
  ])('reads %j as %s ms', (header, expected) => {
    expect(retryAfterMs(header, NOW_MS)).toBe(expected);
  });
});
