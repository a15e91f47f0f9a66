/**
 * Small texts and byte ranges over HTTP, from allowed hosts only, bounded in size, time and tries.
 *
 * Nothing is taken on trust: a range is used only when the answer says that it is that range of that version of the file, and
 * when as many bytes come as it says.
 */
import { SourceError } from '../errors.ts';
import { type AllowedUrls, allowedUrl, redirectedUrl } from './allowed-urls.ts';
import { readBody } from './http-body.ts';
import { type ByteRange, type FileVersion, rangeAnswer } from './range-answer.ts';
import { type RetryDeps, type RetryPolicy, retryAfterMs, withRetries } from './retry.ts';

export interface RangedHttpSettings {
  readonly allowed: AllowedUrls;
  readonly retry: RetryPolicy;
  /** From the request to the answer's headers, redirects included, ms. */
  readonly answerTimeoutMs: number;
  /** From the request to the last byte of the body, ms. */
  readonly wholeTimeoutMs: number;
  /** Packings that the platform undoes, for whole texts; as bytes lie in the file by default, which ranges need. */
  readonly acceptEncoding?: string;
}

export const DEFAULT_HTTP_LIMITS: Omit<RangedHttpSettings, 'allowed'> = {
  retry: { attempts: 4, firstWaitMs: 500, greatestWaitMs: 8000, greatestRetryAfterMs: 30_000 },
  answerTimeoutMs: 15_000,
  wholeTimeoutMs: 60_000,
};

export interface RangedHttpDeps extends RetryDeps {
  readonly fetch: (url: string, init: RequestInit) => Promise<Response>;
  readonly nowMs: () => number;
}

export interface RangedHttp {
  /**
   * A whole text in UTF-8.
   *
   * @throws SourceError; `not-there-yet` for 404, `too-large` beyond `mostBytes`.
   */
  text(url: string, limits: { readonly mostBytes: number; readonly signal?: AbortSignal }): Promise<string>;
  /**
   * A whole small file, byte by byte.
   *
   * @throws SourceError; `not-there-yet` for 404, `too-large` beyond `mostBytes`.
   */
  bytes(
    url: string,
    limits: { readonly mostBytes: number; readonly signal?: AbortSignal },
  ): Promise<Uint8Array>;
  /**
   * One range of a file. `version` is what an earlier range said of the file: another version is refused as `replaced`.
   *
   * @returns exactly the bytes of the range; where its end is open, those up to the end of the file.
   * @throws SourceError; `not-there-yet` for 404.
   */
  range(
    url: string,
    range: ByteRange,
    options?: { readonly version?: FileVersion | undefined; readonly signal?: AbortSignal },
  ): Promise<{ readonly bytes: Uint8Array; readonly version: FileVersion }>;
}

export function createRangedHttp(deps: RangedHttpDeps, settings: RangedHttpSettings): RangedHttp {
  const attempt = <T>(task: Task<T>): Promise<T> =>
    withRetries(() => askOnce(deps, settings, task), settings.retry, deps, task.signal);
  const bytes: RangedHttp['bytes'] = (url, { mostBytes, signal }) =>
    attempt({
      url,
      headers: {},
      signal,
      take: (response, host) => {
        refuseStatus(response, host, deps.nowMs(), [200]);
        return readBody(response, { host, mostBytes, exactBytes: contentLength(response) });
      },
    });
  return {
    bytes,
    text: async (url, limits) => new TextDecoder().decode(await bytes(url, limits)),
    range: (url, range, { version, signal } = {}) =>
      attempt({
        url,
        headers: rangeHeaders(range, version),
        signal,
        take: async (response, host) => {
          refuseStatus(response, host, deps.nowMs(), [200, 206]);
          const answer = rangeAnswer(response, range, { host, version });
          const { lengthBytes } = answer;
          const limits = { host, mostBytes: lengthBytes, exactBytes: lengthBytes };
          return { bytes: await readBody(response, limits), version: answer.version };
        },
      }),
  };
}

/** A weak tag names no bytes: it is compared, but not sent as a condition. */
function rangeHeaders(range: ByteRange, version: FileVersion | undefined): Record<string, string> {
  const etag = version?.etag;
  return {
    range: `bytes=${range.firstByte}-${range.lastByte}`,
    ...(etag === undefined || etag.startsWith('W/') ? {} : { 'if-range': etag }),
  };
}

interface Task<T> {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly signal: AbortSignal | undefined;
  /** Judges the answer and reads its body. */
  readonly take: (response: Response, host: string) => Promise<T>;
}

/** One try: request, redirects, body; within both times. */
async function askOnce<T>(deps: RangedHttpDeps, settings: RangedHttpSettings, task: Task<T>): Promise<T> {
  const url = allowedUrl(task.url, settings.allowed);
  const stop = new AbortController();
  const finished = new AbortController();
  const onCancel = () => stop.abort(cancelled(url.host));
  if (task.signal?.aborted === true) throw cancelled(url.host);
  task.signal?.addEventListener('abort', onCancel, { once: true });
  const answered = startTimer(deps, settings.answerTimeoutMs, finished.signal, () => {
    stop.abort(timedOut(url.host, 'answer', settings.answerTimeoutMs));
  });
  startTimer(deps, settings.wholeTimeoutMs, finished.signal, () => {
    stop.abort(timedOut(url.host, 'body', settings.wholeTimeoutMs));
  });
  let response: Response | undefined;
  try {
    response = await followed(deps, settings.allowed, url, {
      headers: { 'accept-encoding': settings.acceptEncoding ?? 'identity', ...task.headers },
      redirect: 'manual',
      signal: stop.signal,
    });
    answered.cancel();
    return await task.take(response, url.host);
  } catch (error) {
    await response?.body?.cancel().catch(() => undefined);
    throw sourceErrorOf(error, stop.signal, url.host);
  } finally {
    finished.abort();
    task.signal?.removeEventListener('abort', onCancel);
  }
}

function startTimer(
  { sleep }: RetryDeps,
  durationMs: number,
  finished: AbortSignal,
  onTime: () => void,
): { cancel(): void } {
  const off = new AbortController();
  finished.addEventListener('abort', () => off.abort(), { once: true });
  void sleep(durationMs, off.signal).then(() => {
    if (!off.signal.aborted) onTime();
  });
  return { cancel: () => off.abort() };
}

const MOST_REDIRECTS = 3;
const REDIRECTS: ReadonlySet<number> = new Set([301, 302, 303, 307, 308]);

/** Redirects are followed by hand, so that none leads outside. */
async function followed(
  { fetch }: RangedHttpDeps,
  allowed: AllowedUrls,
  url: URL,
  init: RequestInit,
): Promise<Response> {
  let at = url;
  for (let redirects = 0; ; redirects += 1) {
    const response = await fetch(at.href, init);
    if (!REDIRECTS.has(response.status)) return response;
    await response.body?.cancel().catch(() => undefined);
    if (redirects === MOST_REDIRECTS) {
      throw new SourceError({
        host: url.host,
        fault: 'redirect',
        what: 'answer',
        found: `more than ${MOST_REDIRECTS} redirects`,
        expected: 'the file',
      });
    }
    at = redirectedUrl(response.headers.get('location') ?? '', at, allowed);
  }
}

const TOO_MANY = 429;
const NOT_FOUND = 404;

function refuseStatus(response: Response, host: string, nowMs: number, good: readonly number[]): void {
  const { status } = response;
  if (good.includes(status)) return;
  const isMissing = status === NOT_FOUND;
  throw new SourceError({
    host,
    fault: isMissing ? 'not-there-yet' : 'status',
    what: 'answer',
    found: `status ${status}`,
    expected: `status ${good.join(' or ')}`,
    retryable: status === TOO_MANY || status >= 500,
    retryAfterMs: retryAfterMs(response.headers.get('retry-after'), nowMs),
  });
}

/** undefined where it is not that of the bytes that are read. */
function contentLength(response: Response): number | undefined {
  if ((response.headers.get('content-encoding') ?? 'identity') !== 'identity') return undefined;
  const header = response.headers.get('content-length') ?? '';
  return /^\d{1,15}$/.test(header) ? Number(header) : undefined;
}

/** What stopped the try; a fetch that fails by itself is the network's doing. */
function sourceErrorOf(error: unknown, stopped: AbortSignal, host: string): unknown {
  if (stopped.aborted && stopped.reason instanceof SourceError) return stopped.reason;
  if (error instanceof SourceError) return error;
  return new SourceError(
    {
      host,
      fault: 'unreachable',
      what: 'answer',
      found: 'a broken connection',
      expected: 'an answer',
      retryable: true,
    },
    { cause: error },
  );
}

function timedOut(host: string, what: 'answer' | 'body', withinMs: number): SourceError {
  return new SourceError({
    host,
    fault: 'timeout',
    what,
    found: `none within ${withinMs} ms`,
    expected: what === 'answer' ? 'an answer' : 'all bytes',
    retryable: true,
  });
}

function cancelled(host: string): SourceError {
  const fields = { what: 'answer', found: 'a request no longer wanted', expected: 'one that is' };
  return new SourceError({ host, fault: 'cancelled', ...fields });
}
