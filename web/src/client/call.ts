/** Calls of the interface, typed by their entries: a page carries the schemas of those entries alone that it imports. */
import type * as z from 'zod/mini';
import type { AnswerOf, Call, CallAnswer, PathParameter } from '../../../worker/schema/call.ts';
import { type Answer, answerRead, checkedJson } from './answer.ts';

type Plain = string | number | boolean;

type PathInput<C extends Call> = [PathParameter<C['path']>] extends [never]
  ? { readonly path?: undefined }
  : { readonly path: Readonly<Record<PathParameter<C['path']>, string>> };

/** Texts in the address: numbers and truth values are written as such. */
type QueryMembers<Members> = { readonly [Name in keyof Members]: Members[Name] | Plain };

type QueryInput<C extends Call> = C extends { readonly query: infer Query extends z.ZodMiniObject }
  ? Record<string, never> extends z.input<Query>
    ? { readonly query?: QueryMembers<z.input<Query>> }
    : { readonly query: QueryMembers<z.input<Query>> }
  : { readonly query?: undefined };

type BodyInput<C extends Call> =
  | (C extends { readonly request: infer Schema extends z.ZodMiniType } ? z.input<Schema> : never)
  | (C extends { readonly raw: object } ? string | Blob : never);

/** What goes along with a call: parameters of its path, of its query, and its body, each where it has them. */
export type CallInput<C extends Call> = PathInput<C> &
  QueryInput<C> &
  ([BodyInput<C>] extends [never]
    ? { readonly body?: undefined }
    : { readonly body: Readonly<BodyInput<C>> });

export interface CallOptions {
  /** Goes as Authorization: Bearer. */
  readonly key?: string | undefined;
  /** Whose key it is, for calls without a board in their path: its operator's own data are read then. */
  readonly board?: string | undefined;
  readonly signal?: AbortSignal | undefined;
  readonly timeoutMs?: number | undefined;
  /** Of another origin than the page's. */
  readonly baseUrl?: string | undefined;
}

const TIMEOUT_MS = 20_000;

/** Makes one call; what does not keep to its entry is not understood. Never throws. */
export function call<C extends Call>(
  entry: C,
  input: CallInput<C>,
  options: CallOptions = {},
): Promise<Answer<AnswerOf<C>>> {
  const { signal, timeoutMs = TIMEOUT_MS, baseUrl = '' } = options;
  const { body } = input as { readonly body?: unknown };
  const send = async (both: AbortSignal) =>
    fetch(baseUrl + pathOf(entry, input as Parts), {
      method: entry.method,
      headers: headersOf(entry, body, options),
      ...(body === undefined ? {} : { body: isRaw(entry, body) ? body : JSON.stringify(body) }),
      signal: both,
    });
  const read = (response: Response, text: string) => readAnswer(entry, response, text);
  return answerRead(send, signal, { timeoutMs, read }) as Promise<Answer<AnswerOf<C>>>;
}

interface Parts {
  readonly path?: Readonly<Record<string, string>> | undefined;
  readonly query?: Readonly<Record<string, Plain | undefined>> | undefined;
}

/** Path and query of a call: what stands in them means nothing but itself. */
export function pathOf({ path }: Pick<Call, 'path'>, { path: values = {}, query = {} }: Parts): string {
  const filled = path.replace(/\{(\w+)\}/g, (_part, name: string) => encodeURIComponent(values[name] ?? ''));
  const pairs = Object.entries(query).flatMap(([name, value]) =>
    value === undefined ? [] : [`${name}=${encodeURIComponent(value)}`],
  );
  return pairs.length === 0 ? filled : `${filled}?${pairs.join('&')}`;
}

function isRaw({ raw }: Call, body: unknown): body is string | Blob {
  return raw !== undefined && (typeof body === 'string' || body instanceof Blob);
}

function headersOf(entry: Call, body: unknown, { key, board }: CallOptions): Record<string, string> {
  const headers: Record<string, string> = {};
  if (key !== undefined) headers.authorization = `Bearer ${key}`;
  if (board !== undefined) headers['x-rimeway-board'] = board;
  if (body !== undefined)
    headers['content-type'] = isRaw(entry, body) ? entry.raw!.contentTypes[0] : 'application/json';
  return headers;
}

/** undefined for a problem. A status of failure may carry an answer: nothing was kept, and each piece says why. */
function readAnswer(entry: Call, response: Response, text: string): Answer<unknown> | undefined {
  const { status, ok, headers } = response;
  const answer: CallAnswer | undefined = entry.answer[status];
  if (!ok && (answer === undefined || headers.get('content-type')?.includes('problem'))) return undefined;
  if (answer === undefined) return { kind: 'not-understood', where: `status ${status}` };
  if (answer === null) return { kind: 'ok', value: undefined };
  if (typeof answer === 'string') return { kind: 'ok', value: text };
  return checkedJson('contentType' in answer ? answer.schema : answer, text);
}
