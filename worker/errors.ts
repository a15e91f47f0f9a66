/**
 * Every class this project throws. Each error is data: a literal `kind`, typed fields and its cause.
 * Messages say what failed, where, what was found and what was expected, with no full stop.
 */

/** A request that does not fit the contract; `field` is the path of the offending member. */
export class InvalidRequestError extends Error {
  readonly kind = 'invalid-request';
  readonly field: string;
  readonly found: string;
  readonly expected: string;
  constructor(fields: { field: string; found: string; expected: string }, options?: ErrorOptions) {
    super(`${fields.field}: found ${fields.found}, expected ${fields.expected}`, options);
    this.field = fields.field;
    this.found = fields.found;
    this.expected = fields.expected;
  }
}

/** Where in a file a record is wrong: bytes for binary formats, lines (from 1) for text. */
export type FormatPlace =
  | { readonly unit: 'byte'; readonly offsetBytes: number }
  | { readonly unit: 'line'; readonly line: number };

/** Bytes or text that break the rules of their own format. */
export class FormatError extends Error {
  readonly kind = 'format';
  readonly format: string;
  readonly place: FormatPlace;
  readonly what: string;
  readonly found: string;
  readonly expected: string;
  constructor(
    fields: {
      format: string;
      place: FormatPlace;
      what: string;
      found: string;
      expected: string;
    },
    options?: ErrorOptions,
  ) {
    const where =
      fields.place.unit === 'byte' ? `offset ${fields.place.offsetBytes}` : `line ${fields.place.line}`;
    super(
      `${fields.format} ${fields.what} at ${where}: found ${fields.found}, expected ${fields.expected}`,
      options,
    );
    this.format = fields.format;
    this.place = fields.place;
    this.what = fields.what;
    this.found = fields.found;
    this.expected = fields.expected;
  }
}

/** Well-formed input of a kind we do not read; names the code table and the value seen. */
export class UnsupportedError extends Error {
  readonly kind = 'unsupported';
  readonly feature: string;
  readonly table: string;
  readonly value: string;
  constructor(fields: { feature: string; table: string; value: string }, options?: ErrorOptions) {
    super(`${fields.feature} ${fields.value} (${fields.table}) is not supported`, options);
    this.feature = fields.feature;
    this.table = fields.table;
    this.value = fields.value;
  }
}

/**
 * What went wrong at a source. `outside`: an address that may not be fetched; `not-there-yet`: the file does not exist so far;
 * `replaced`: the file became another one meanwhile; `range`: an answer that is not the range asked for; `index`: an index that
 * is of no use for its file.
 */
export type SourceFault =
  | 'outside'
  | 'redirect'
  | 'not-there-yet'
  | 'status'
  | 'unreachable'
  | 'timeout'
  | 'short'
  | 'too-large'
  | 'range'
  | 'replaced'
  | 'index'
  | 'cancelled';

/** A place bytes come from that failed to give them, or may not be asked. */
export class SourceError extends Error {
  readonly kind = 'source';
  readonly host: string;
  readonly fault: SourceFault;
  readonly found: string;
  readonly expected: string;
  /** True when the same request may succeed later. */
  readonly retryable: boolean;
  /** How long the source asks to be left alone, ms; undefined when it does not say. */
  readonly retryAfterMs: number | undefined;
  constructor(
    fields: {
      host: string;
      fault: SourceFault;
      what: string;
      found: string;
      expected: string;
      retryable?: boolean;
      retryAfterMs?: number | undefined;
    },
    options?: ErrorOptions,
  ) {
    super(`${fields.what} from ${fields.host}: found ${fields.found}, expected ${fields.expected}`, options);
    this.host = fields.host;
    this.fault = fields.fault;
    this.found = fields.found;
    this.expected = fields.expected;
    this.retryable = fields.retryable ?? false;
    this.retryAfterMs = fields.retryAfterMs;
  }
}

const ACCESS_MESSAGES = {
  missing: 'Authorization: found nothing, expected Bearer and a key',
  wrong: 'Authorization: found a key that opens nothing here, expected one of this instance',
  'not-enough': 'Authorization: found a key that allows less, expected one that allows this call',
} as const;

/**
 * A call without the key that it needs. `wrong` is said alike of a key of nobody, one of somebody else, and one of a board that there
 * is not: it tells nothing of what there is.
 */
export class AccessError extends Error {
  readonly kind = 'access';
  readonly reason: keyof typeof ACCESS_MESSAGES;
  constructor(reason: AccessError['reason'], options?: ErrorOptions) {
    super(ACCESS_MESSAGES[reason], options);
    this.reason = reason;
  }
}

/** A link or call that names nothing here, or something that is no more. */
export class GoneError extends Error {
  readonly kind = 'gone';
  readonly reason: 'unknown' | 'expired' | 'revoked' | 'without-inputs';
  constructor(reason: GoneError['reason'], options?: ErrorOptions) {
    const found = {
      unknown: 'no brief of that name',
      expired: 'one that has expired',
      revoked: 'one that was taken back',
      'without-inputs': 'one whose inputs were not kept',
    };
    super(`id: found ${found[reason]}, expected a shared brief`, options);
    this.reason = reason;
  }
}

/** More writes than one sender may make within a time. */
export class TooManyError extends Error {
  readonly kind = 'too-many';
  readonly retryAfterS: number;
  constructor(fields: { found: number; expected: number; retryAfterS: number }, options?: ErrorOptions) {
    super(
      `writes: found ${fields.found} within the window, expected at most ${fields.expected}: again in ${fields.retryAfterS} s`,
      options,
    );
    this.retryAfterS = fields.retryAfterS;
  }
}

/** A live connection that cannot be opened. */
export class LiveError extends Error {
  readonly kind = 'live';
  readonly reason: 'upgrade' | 'full';
  constructor(reason: LiveError['reason'], options?: ErrorOptions) {
    super(
      reason === 'upgrade'
        ? 'Upgrade: found none to a WebSocket, expected websocket'
        : 'connections: found as many as one board may have, expected fewer',
      options,
    );
    this.reason = reason;
  }
}

/** A state that the code rules out; never the user's doing. */
export class AppBug extends Error {
  readonly kind = 'bug';
}

export type AppError =
  | InvalidRequestError
  | FormatError
  | UnsupportedError
  | SourceError
  | AccessError
  | GoneError
  | TooManyError
  | LiveError
  | AppBug;

/** True for the errors above; anything else reaching the edge is unexpected. */
export function isAppError(error: unknown): error is AppError {
  return (
    error instanceof InvalidRequestError ||
    error instanceof FormatError ||
    error instanceof UnsupportedError ||
    error instanceof SourceError ||
    error instanceof AccessError ||
    error instanceof GoneError ||
    error instanceof TooManyError ||
    error instanceof LiveError ||
    error instanceof AppBug
  );
}
