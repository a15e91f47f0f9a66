/** Briefs that were shared from this device, with the keys that take them back: told once, and kept nowhere else. */
import { signal } from '@preact/signals';
import * as z from 'zod/mini';
import { type CreatedBrief, createdBriefSchema } from '../../../worker/schema/shared-brief.ts';
import { type Answer, answerOf } from '../client/answer.ts';
import type { BriefMember, BriefRequest } from '../contract.ts';
import { storedText, storeText } from '../device-value.ts';

const TIMEOUT_MS = 60_000;
const LIST_KEY = 'rimeway-shared-briefs';
const MOST_KEPT = 50;

const ownShareSchema = z.object({
  id: z.string(),
  key: z.string(),
  /** The three below are missing of what was shared before they were kept. */
  title: z.optional(z.string()),
  createdUtc: z.optional(z.string()),
  expiresUtc: z.optional(z.string()),
});
export type OwnShare = z.infer<typeof ownShareSchema>;

/** The newest first. */
export const ownShares = signal<readonly OwnShare[]>(readList());

function readList(): OwnShare[] {
  try {
    return z.array(ownShareSchema).safeParse(JSON.parse(storedText(LIST_KEY) ?? '[]')).data ?? [];
  } catch {
    return [];
  }
}

/** Another page of this device may have changed the list meanwhile: it is read anew. */
function changeList(change: (list: OwnShare[]) => OwnShare[]): void {
  const list = change(readList());
  storeText(LIST_KEY, list.length === 0 ? undefined : JSON.stringify(list));
  ownShares.value = list;
}

/** Those whose links are still open, as far as this device knows. */
export function openShares(list: readonly OwnShare[], nowMs: number): OwnShare[] {
  return list.filter(({ expiresUtc }) => expiresUtc === undefined || Date.parse(expiresUtc) > nowMs);
}

/** Has the brief of a request made anew and shared, and keeps its key. */
export async function shareNow(
  request: BriefRequest,
  { from, to, departureUtc }: BriefMember['leg'],
): Promise<Answer<CreatedBrief>> {
  const send = (signal: AbortSignal) =>
    fetch('/api/briefs', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(request),
      signal,
    });
  const answer = await answerOf(send, undefined, { timeoutMs: TIMEOUT_MS, schema: createdBriefSchema });
  if (answer.kind !== 'ok') return answer;
  const { id, key, createdUtc, expiresUtc } = answer.value;
  const share = { id, key, createdUtc, expiresUtc, title: `${from} → ${to}, ${departureUtc}` };
  changeList((list) => openShares([share, ...list], Date.now()).slice(0, MOST_KEPT));
  return answer;
}

/**
 * The key stays until the link opens nothing any more.
 *
 * @returns whether it does.
 */
export async function takeBack({ id, key }: Pick<OwnShare, 'id' | 'key'>): Promise<boolean> {
  try {
    const headers = { authorization: `Bearer ${key}` };
    const { status } = await fetch(`/api/briefs/${id}`, { method: 'DELETE', headers });
    if (![204, 404, 410].includes(status)) return false;
  } catch {
    return false;
  }
  changeList((list) => list.filter((one) => one.id !== id));
  return true;
}
