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
  bug: 'The service made an error',
};

const GONE_TITLE: Readonly<Record<GoneError['reason'], string>> = {
  unknown: TITLE.gone,
  expired: 'This shared brief has expired',
  revoked: 'This shared brief was taken back',
};

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
    title: error.kind === 'gone' ? GONE_TITLE[error.reason] : TITLE[error.kind],
    status: error.kind === 'gone' && error.reason === 'unknown' ? 404 : STATUS[error.kind],
    detail: error.message,
    ...(error.kind === 'invalid-request' ? { field: error.field } : {}),
  };
}

export function problemResponse(problem: Problem, headers: Record<string, string> = {}): Response {
  return new Response(JSON.stringify(problem), {
    status: problem.status,
    headers: { 'content-type': 'application/problem+json', 'cache-control': 'no-store', ...headers },
  });
}
