/** Requests tried again, a few times, when trying again may help. */
import { SourceError } from '../errors.ts';

export interface RetryPolicy {
  /** Tries in all, the first included. */
  readonly attempts: number;
  /** The wait before try n is drawn evenly from 0 to first * 2^(n - 2), and to at most `greatestWaitMs`. */
  readonly firstWaitMs: number;
  readonly greatestWaitMs: number;
  /** A source that asks for a longer wait is left alone: the error says so. */
  readonly greatestRetryAfterMs: number;
}

export interface RetryDeps {
  /** Resolves after the time, or as soon as `signal` is aborted. */
  readonly sleep: (durationMs: number, signal?: AbortSignal) => Promise<void>;
  /** Evenly from 0 to 1. */
  readonly random: () => number;
}

/**
 * @param run  Its SourceErrors say whether trying again may help; any other error passes on at once.
 * @throws the last SourceError, or the first that no retry can mend.
 */
export async function withRetries<T>(
  run: () => Promise<T>,
  policy: RetryPolicy,
  deps: RetryDeps,
  signal?: AbortSignal,
): Promise<T> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await run();
    } catch (error) {
      const waitMs = waitBefore(error, attempt + 1, policy, deps);
      if (waitMs === undefined || isAborted(signal)) throw error;
      await deps.sleep(waitMs, signal);
      if (isAborted(signal)) throw error;
    }
  }
}

const isAborted = (signal: AbortSignal | undefined) => signal?.aborted === true;

/** undefined: not to be tried again. */
function waitBefore(
  error: unknown,
  attempt: number,
  policy: RetryPolicy,
  { random }: RetryDeps,
): number | undefined {
  if (!(error instanceof SourceError) || !error.retryable || attempt > policy.attempts) return undefined;
  const { retryAfterMs = 0 } = error;
  if (retryAfterMs > policy.greatestRetryAfterMs) return undefined;
  const boundMs = Math.min(policy.greatestWaitMs, policy.firstWaitMs * 2 ** (attempt - 2));
  return retryAfterMs + random() * boundMs;
}

const SECONDS = /^\d{1,9}$/;
const HTTP_DATE = /^[A-Z][a-z]{2}, [\w :]{20,25} GMT$/;

/** Retry-After as ms from now: seconds or a date. undefined where the header says nothing that can be read. */
export function retryAfterMs(header: string | null, nowMs: number): number | undefined {
  if (header === null) return undefined;
  if (SECONDS.test(header.trim())) return Number(header) * 1000;
  const atMs = HTTP_DATE.test(header) ? Date.parse(header) : Number.NaN;
  return Number.isNaN(atMs) ? undefined : Math.max(0, atMs - nowMs);
}
