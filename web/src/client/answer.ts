/** What comes of a call: its answer, checked against the contract, or why there is none. */
import type * as z from 'zod/mini';
import { type Problem, problemSchema } from '../../../worker/schema/problem.ts';

export type Answer<T> =
  | { readonly kind: 'ok'; readonly value: T }
  | { readonly kind: 'problem'; readonly problem: Problem }
  | { readonly kind: 'unreachable' }
  | { readonly kind: 'timeout'; readonly afterMs: number }
  | { readonly kind: 'not-understood'; readonly where: string }
  /** The caller gave the call up; nothing is to be shown. */
  | { readonly kind: 'abandoned' };

/** JSON of one schema. */
export function answerOf<Schema extends z.ZodMiniType>(
  send: (signal: AbortSignal) => Promise<Response>,
  asked: AbortSignal | undefined,
  { timeoutMs, schema }: { readonly timeoutMs: number; readonly schema: Schema },
): Promise<Answer<z.output<Schema>>> {
  const read = (response: Response, text: string) => (response.ok ? checkedJson(schema, text) : undefined);
  return answerRead(send, asked, { timeoutMs, read });
}

interface Reading<T> {
  readonly timeoutMs: number;
  /** undefined for what is a problem. */
  readonly read: (response: Response, text: string) => Answer<T> | undefined;
}

/** An answer that its caller reads. */
export async function answerRead<T>(
  send: (signal: AbortSignal) => Promise<Response>,
  asked: AbortSignal | undefined,
  { timeoutMs, read }: Reading<T>,
): Promise<Answer<T>> {
  const timeout = AbortSignal.timeout(timeoutMs);
  try {
    const response = await send(asked ? AbortSignal.any([asked, timeout]) : timeout);
    const text = await response.text();
    return read(response, text) ?? problemOf(response, text);
  } catch {
    if (timeout.aborted) return { kind: 'timeout', afterMs: timeoutMs };
    return asked?.aborted ? { kind: 'abandoned' } : { kind: 'unreachable' };
  }
}

/** An answer that does not keep to the contract is not shown. */
export function checkedJson<Schema extends z.ZodMiniType>(
  schema: Schema,
  text: string,
): Answer<z.output<Schema>> {
  const parsed = schema.safeParse(jsonOf(text));
  if (parsed.success) return { kind: 'ok', value: parsed.data };
  return { kind: 'not-understood', where: parsed.error.issues[0]?.path.join('.') ?? '' };
}

/** undefined for a body that is not JSON: the page of a proxy, say. */
function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

function problemOf(response: Response, text: string): Answer<never> {
  const parsed = problemSchema.safeParse(jsonOf(text));
  if (parsed.success) return { kind: 'problem', problem: parsed.data };
  const problem = {
    type: 'about:blank',
    title: 'The service gave no reason',
    status: response.status,
    detail: `status ${response.status}`,
  };
  return { kind: 'problem', problem };
}
