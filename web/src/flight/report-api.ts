/** Reports to the service: stored under the operator whose key it is, each piece kept or refused with its reason. */
import * as z from 'zod/mini';
import { type Answer, answerOf } from '../client/answer.ts';

const storedSchema = z.object({
  stored: z.number(),
  rejectedCount: z.number(),
  rejected: z.array(z.object({ line: z.number(), reason: z.string(), text: z.string() })),
});
export type StoredReports = z.infer<typeof storedSchema>;

const TIMEOUT_MS = 20_000;

interface ReportsToSend {
  readonly text: string;
  readonly key: string;
  /** Month and year of the reports are taken near this; undefined: near now. */
  readonly nearMs?: number | undefined;
}

export function sendReports({ text, key, nearMs }: ReportsToSend): Promise<Answer<StoredReports>> {
  const query = nearMs === undefined ? '' : `?near=${new Date(nearMs).toISOString()}`;
  const send = async (signal: AbortSignal) => {
    const headers = { authorization: `Bearer ${key}`, 'content-type': 'text/plain' };
    const response = await fetch(`/api/reports${query}`, { method: 'POST', headers, body: text, signal });
    return isReading(response) ? new Response(response.body, { status: 200 }) : response;
  };
  return answerOf(send, undefined, { timeoutMs: TIMEOUT_MS, schema: storedSchema });
}

/** Nothing could be kept, and each piece says why: that is an answer, not a fault of the call. */
function isReading({ status, headers }: Response): boolean {
  return status === 422 && !headers.get('content-type')?.includes('problem');
}
