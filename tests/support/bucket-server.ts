/**
 * A small HTTP server that behaves as a public bucket does: ranges, tags, 404 for what is not there yet; and that fails as
 * networks do where a test asks for it.
 */
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface BucketFile {
  readonly bytes: Uint8Array | string;
  /** Before this instant the file is not there; epoch ms. */
  readonly availableFromMs?: number;
}

/** One thing that goes wrong with one answer. */
export type BucketFault =
  /** The whole file, status 200, to a request for a range. */
  | { readonly kind: 'whole-file' }
  /** The headers of the whole body, then so many of its bytes and a closed connection. */
  | { readonly kind: 'short-body'; readonly bytes: number }
  /** Fewer bytes than the range has, and a Content-Length that says so. */
  | { readonly kind: 'short-length'; readonly bytes: number }
  | { readonly kind: 'reset' }
  | { readonly kind: 'status'; readonly status: number; readonly retryAfter?: string }
  /** So many bytes at a time, with a pause between. */
  | { readonly kind: 'drip'; readonly bytes: number; readonly everyMs: number }
  /** No answer at all until the client goes. */
  | { readonly kind: 'silence' }
  | { readonly kind: 'headers'; readonly headers: Readonly<Record<string, string | undefined>> }
  | { readonly kind: 'redirect'; readonly location: string }
  /** A byte of the file turned over, wherever a body holds it. */
  | { readonly kind: 'corrupt'; readonly offsetBytes: number; readonly xor: number }
  /** Further bytes behind the body, without a Content-Length. */
  | { readonly kind: 'endless' };

export interface SeenRequest {
  readonly path: string;
  /** From 1, for each path and range. */
  readonly attempt: number;
  readonly range: string | undefined;
  readonly headers: IncomingMessage['headers'];
  status: number;
  sentBytes: number;
}

export interface BucketOptions {
  /** By path without the leading slash. */
  readonly files: Readonly<Record<string, BucketFile>>;
  readonly nowMs?: () => number;
  readonly fault?: (request: SeenRequest) => BucketFault | undefined;
}

export interface BucketServer {
  /** With a slash at its end. */
  readonly baseUrl: string;
  readonly requests: readonly SeenRequest[];
  /** The most answers under way at the same time. */
  readonly mostAtOnce: () => number;
  /** Answers under way now. */
  readonly openNow: () => number;
  /** Sets a file, as when a bucket's file is replaced. */
  put(path: string, file: BucketFile): void;
  close(): Promise<void>;
}

export async function startBucketServer(options: BucketOptions): Promise<BucketServer> {
  const files = new Map(Object.entries(options.files).map(([path, file]) => [path, held(file)]));
  const requests: SeenRequest[] = [];
  let atOnce = 0;
  let mostAtOnce = 0;
  const server = createServer((request, response) => {
    atOnce += 1;
    mostAtOnce = Math.max(mostAtOnce, atOnce);
    response.once('close', () => {
      atOnce -= 1;
    });
    const seen = seenRequest(request, requests);
    requests.push(seen);
    answer(seen, response, { ...options, files });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    baseUrl: `http://127.0.0.1:${port}/`,
    requests,
    mostAtOnce: () => mostAtOnce,
    openNow: () => atOnce,
    put: (path, file) => {
      files.set(path, held(file));
    },
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

type HeldFile = BucketFile & { readonly bytes: Uint8Array };

const held = (file: BucketFile): HeldFile => ({
  ...file,
  bytes: typeof file.bytes === 'string' ? new TextEncoder().encode(file.bytes) : file.bytes,
});

function seenRequest(request: IncomingMessage, before: readonly SeenRequest[]): SeenRequest {
  const path = decodeURIComponent((request.url ?? '/').slice(1));
  const { range } = request.headers;
  const attempt = before.filter((each) => each.path === path && each.range === range).length + 1;
  return { path, attempt, range, headers: request.headers, status: 0, sentBytes: 0 };
}

function answer(
  seen: SeenRequest,
  response: ServerResponse,
  { files, nowMs = () => 0, fault }: Omit<BucketOptions, 'files'> & { files: ReadonlyMap<string, HeldFile> },
): void {
  const wrong = fault?.(seen);
  const file = files.get(seen.path);
  if (wrong?.kind === 'silence') return;
  if (wrong?.kind === 'reset') {
    response.destroy();
    return;
  }
  if (wrong?.kind === 'redirect') {
    send(seen, response, { status: 307, headers: { location: wrong.location } });
    return;
  }
  if (wrong?.kind === 'status') {
    const headers = wrong.retryAfter === undefined ? {} : { 'retry-after': wrong.retryAfter };
    send(seen, response, { status: wrong.status, headers });
    return;
  }
  if (file === undefined || (file.availableFromMs ?? Number.NEGATIVE_INFINITY) > nowMs()) {
    send(seen, response, { status: 404, headers: {} });
    return;
  }
  const { bytes } = file;
  const whole = wrong?.kind === 'corrupt' ? turned(bytes, wrong.offsetBytes, wrong.xor) : bytes;
  const etag = `"${tagOf(bytes)}"`;
  const isStale = seen.headers['if-range'] !== undefined && seen.headers['if-range'] !== etag;
  const asked = wrong?.kind === 'whole-file' || isStale ? undefined : rangeOf(seen.range, bytes.length);
  if (asked === 'outside') {
    send(seen, response, { status: 416, headers: { 'content-range': `bytes */${bytes.length}` } });
    return;
  }
  const body = asked === undefined ? whole : whole.subarray(asked.first, asked.last + 1);
  const headers: Record<string, string | undefined> = {
    'accept-ranges': 'bytes',
    'content-length': String(body.length),
    'last-modified': 'Mon, 10 Jan 2011 16:00:00 GMT',
    etag,
    ...(asked === undefined ? {} : { 'content-range': `bytes ${asked.first}-${asked.last}/${bytes.length}` }),
    ...(wrong?.kind === 'headers' ? wrong.headers : {}),
  };
  sendBody(seen, response, { status: asked === undefined ? 200 : 206, headers, body, wrong });
}

const tags = new WeakMap<Uint8Array, number>();
let tagCount = 0;

/** Another tag for every array of bytes. */
function tagOf(bytes: Uint8Array): string {
  const known = tags.get(bytes);
  if (known !== undefined) return `${bytes.length}-${known}`;
  tagCount += 1;
  tags.set(bytes, tagCount);
  return `${bytes.length}-${tagCount}`;
}

function turned(bytes: Uint8Array, offsetBytes: number, xor: number): Uint8Array {
  const copy = Uint8Array.from(bytes);
  copy[offsetBytes]! ^= xor;
  return copy;
}

/** `bytes=a-b`, `bytes=a-` and `bytes=-n`; undefined: the header is absent or of another kind, the whole file is meant. */
function rangeOf(
  header: string | undefined,
  totalBytes: number,
): { first: number; last: number } | 'outside' | undefined {
  const match = /^bytes=(\d*)-(\d*)$/.exec(header ?? '');
  if (match === null || (match[1] === '' && match[2] === '')) return undefined;
  const isSuffix = match[1] === '';
  const first = isSuffix ? Math.max(0, totalBytes - Number(match[2])) : Number(match[1]);
  const last = isSuffix || match[2] === '' ? totalBytes - 1 : Math.min(Number(match[2]), totalBytes - 1);
  return first > last ? 'outside' : { first, last };
}

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | undefined>>;
}

function send(seen: SeenRequest, response: ServerResponse, { status, headers }: Answer): void {
  seen.status = status;
  response.writeHead(status, definedOf(headers));
  response.end();
}

const definedOf = (headers: Answer['headers']) =>
  Object.fromEntries(Object.entries(headers).filter(([, value]) => value !== undefined));

function sendBody(
  seen: SeenRequest,
  response: ServerResponse,
  { status, headers, body, wrong }: Answer & { body: Uint8Array; wrong: BucketFault | undefined },
): void {
  seen.status = status;
  const write = (part: Uint8Array) => {
    seen.sentBytes += part.length;
    response.write(part);
  };
  if (wrong?.kind === 'short-length') {
    const part = body.subarray(0, wrong.bytes);
    response.writeHead(status, { ...definedOf(headers), 'content-length': String(part.length) });
    write(part);
    response.end();
    return;
  }
  const sent = wrong?.kind === 'endless' ? { ...headers, 'content-length': undefined } : headers;
  response.writeHead(status, definedOf(sent));
  if (wrong?.kind === 'short-body') {
    write(body.subarray(0, wrong.bytes));
    setTimeout(() => response.destroy(), 5);
    return;
  }
  if (wrong?.kind === 'drip') drip(response, body, wrong, write);
  else if (wrong?.kind === 'endless') endless(response, write);
  else sendInPieces(response, body, write);
}

const PIECE_BYTES = 64 * 1024;

/** Waits for the client, so that what a cancelled answer cost can be counted. */
function sendInPieces(response: ServerResponse, body: Uint8Array, write: (part: Uint8Array) => void): void {
  let at = 0;
  const more = () => {
    while (at < body.length) {
      if (response.destroyed) return;
      write(body.subarray(at, at + PIECE_BYTES));
      at += PIECE_BYTES;
      if (response.writableNeedDrain) {
        response.once('drain', more);
        return;
      }
    }
    response.end();
  };
  more();
}

function drip(
  response: ServerResponse,
  body: Uint8Array,
  { bytes, everyMs }: { bytes: number; everyMs: number },
  write: (part: Uint8Array) => void,
): void {
  let at = 0;
  const timer = setInterval(() => {
    if (response.destroyed || at >= body.length) {
      clearInterval(timer);
      response.end();
      return;
    }
    write(body.subarray(at, at + bytes));
    at += bytes;
  }, everyMs);
}

function endless(response: ServerResponse, write: (part: Uint8Array) => void): void {
  const more = () => {
    while (!response.destroyed && !response.writableNeedDrain) write(new Uint8Array(PIECE_BYTES));
    if (!response.destroyed) response.once('drain', more);
  };
  more();
}
