/**
 * The last briefs, kept on this device so that they can be read without a connection. A list of what is kept lives in local
 * storage, the briefs themselves in a cache of their own. Where a device keeps neither, the page works without.
 */
import { signal } from '@preact/signals';
import * as z from 'zod/mini';
import { type BriefRequest, briefRequestSchema } from '../../../worker/schema/request.ts';
import { checkedBrief } from '../api.ts';
import type { Brief } from '../contract.ts';

export interface AnsweredBrief {
  readonly brief: Brief;
  readonly request: BriefRequest;
  /** When it was answered. */
  readonly briefedMs: number;
}

const keptBriefSchema = z.object({
  /** The leg as the query of the page's address. */
  query: z.string(),
  from: z.string(),
  to: z.string(),
  departureUtc: z.string(),
  aircraft: z.string(),
  sentence: z.string(),
  briefedMs: z.number(),
});
/** One line of the list. */
export type KeptBrief = z.infer<typeof keptBriefSchema>;

const LIST_KEY = 'rimeway-briefs';
const CACHE_NAME = 'rimeway-briefs';
export const MOST_KEPT = 12;

/** The newest first. */
export const keptBriefs = signal<readonly KeptBrief[]>(readList());

function readList(): KeptBrief[] {
  try {
    const parsed = z.array(keptBriefSchema).safeParse(JSON.parse(localStorage.getItem(LIST_KEY) ?? '[]'));
    return parsed.data ?? [];
  } catch {
    return [];
  }
}

/**
 * Keeps a brief under its leg's query; the oldest beyond the number kept are forgotten.
 *
 * @param passedQuery  Of a brief that was only passed on the way to this one: forgotten too.
 */
export async function keepBrief(query: string, answered: AnsweredBrief, passedQuery?: string): Promise<void> {
  const { leg, limits, verdict } = answered.brief.brief;
  const line: KeptBrief = {
    query,
    from: leg.from,
    to: leg.to,
    departureUtc: leg.departureUtc,
    aircraft: limits.aircraftName,
    sentence: verdict.sentence,
    briefedMs: answered.briefedMs,
  };
  try {
    const cache = await caches.open(CACHE_NAME);
    await cache.put(keyOf(query), Response.json(answered));
    // Another page may have kept one meanwhile: read and written in one turn.
    const before = readList();
    const others = before.filter((one) => one.query !== query && one.query !== passedQuery);
    const list = [line, ...others].slice(0, MOST_KEPT);
    writeList(list);
    const queries = new Set(list.map((one) => one.query));
    await Promise.all(
      before.filter((one) => !queries.has(one.query)).map((one) => cache.delete(keyOf(one.query))),
    );
  } catch {
    // No room, or storage is refused: the list stays what it was.
  }
}

/** @returns undefined where nothing whole is kept of this request. */
export async function readKeptBrief(
  query: string,
  request: BriefRequest,
): Promise<AnsweredBrief | undefined> {
  try {
    const cache = await caches.open(CACHE_NAME);
    const found = await cache.match(keyOf(query));
    return found && answeredFrom(await found.json(), request);
  } catch {
    return undefined;
  }
}

/** The figures of an aircraft may have been edited since under the same name: that is another request. */
function answeredFrom(body: unknown, request: BriefRequest): AnsweredBrief | undefined {
  const parsed = z
    .object({ brief: z.unknown(), request: briefRequestSchema, briefedMs: z.number() })
    .safeParse(body).data;
  if (parsed === undefined || JSON.stringify(parsed.request) !== JSON.stringify(request)) return undefined;
  const brief = checkedBrief(parsed.brief);
  return brief && { brief, request, briefedMs: parsed.briefedMs };
}

export async function forgetBriefs(): Promise<void> {
  try {
    await caches.delete(CACHE_NAME);
  } finally {
    writeList([]);
  }
}

function keyOf(query: string): string {
  return `/kept-brief?${query}`;
}

function writeList(list: readonly KeptBrief[]): void {
  localStorage.setItem(LIST_KEY, JSON.stringify(list));
  keptBriefs.value = list;
}
