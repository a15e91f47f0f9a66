/** One table from error class to RFC 9457 answer; the only place where errors become HTTP. */
import { type AppError, type GoneError, isAppError } from '../errors.ts';
import type { Problem } from '../schema/problem.ts';

const STATUS: Readonly<Record<AppError['kind'], number>> = {
  'invalid-request': 422,
  format: 422,
  unsupported: 422,
  source: 502,
  access: 401,
  gone: 410,
  'too-many': 429,
  live: 503,
  bug: 500,
};

const TITLE: Readonly<Record<AppError['kind'], string>> = {
  'invalid-request': 'The request does not fit the contract',
  format: 'The data does not follow its own format',
  unsupported: 'The data is of a kind that is not read here',
  source: 'A data source failed',
  access: 'A key is needed',
  gone: 'There is no such shared brief',
  'too-many': 'Too many writes',
  live: 'The live connection cannot be opened',
  bug: 'The service made an error',
};

const GONE_TITLE: Readonly<Record<GoneError['reason'], string>> = {
  unknown: TITLE.gone,
  expired: 'This shared brief has expired',
  revoked: 'This shared brief was taken back',
  'without-inputs': 'What this shared brief was made from was not kept',
};

/** Never there, as against there no more. */
const NOT_FOUND: readonly GoneError['reason'][] = ['unknown', 'without-inputs'];

/** Causes and stacks stay inside; an unexpected error tells nothing but that it happened. */
export function toProblem(error: unknown): Problem {
  if (!isAppError(error) || error.kind === 'bug') {
    return {
      type: 'about:blank',
      title: TITLE.bug,
      status: STATUS.bug,
      detail: 'An unexpected error in the service; try again, and tell its operator if it stays',
    };
  }
  return {
    type: 'about:blank',
    title: titleOf(error),
    status: statusOf(error),
    detail: error.message,
    ...(error.kind === 'invalid-request' ? { field: error.field } : {}),
  };
}

function titleOf(error: AppError): string {
  if (error.kind === 'gone') return GONE_TITLE[error.reason];
  return isRefusedKey(error) ? 'The key does not allow this' : TITLE[error.kind];
}

function statusOf(error: AppError): number {
  if (error.kind === 'gone' && NOT_FOUND.includes(error.reason)) return 404;
  if (error.kind === 'live' && error.reason === 'upgrade') return 426;
  return isRefusedKey(error) ? 403 : STATUS[error.kind];
}

/** It is known, and allows less. */
function isRefusedKey(error: AppError): boolean {
  return error.kind === 'access' && error.reason === 'not-enough';
}

export function problemResponse(problem: Problem, headers: Record<string, string> = {}): Response {
  return new Response(JSON.stringify(problem), {
    status: problem.status,
    headers: { 'content-type': 'application/problem+json', 'cache-control': 'no-store', ...headers },
  });
}
