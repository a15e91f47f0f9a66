/**
 * The last shared briefs that were opened here, kept on this device so that they open again without a connection. What expired or was
 * taken back is kept no longer than this device hears of it.
 */
import { signal } from '@preact/signals';
import * as z from 'zod/mini';
import { type AboutBrief, aboutBriefSchema } from '../../../worker/schema/shared-brief.ts';
import { checkedBrief } from '../api.ts';
import type { Brief } from '../contract.ts';
import { storedText, storeText } from '../device-value.ts';
import { OPENED_SHARED } from './opened-shared.ts';

const lineSchema = z.object({
  id: z.string(),
  from: z.string(),
  to: z.string(),
  departureUtc: z.string(),
  createdUtc: z.string(),
  expiresUtc: z.string(),
});
/** One line of the list. */
export type KeptShared = z.infer<typeof lineSchema>;

export interface SharedAnswer {
  readonly brief: Brief;
  readonly about: AboutBrief;
}

const LIST_KEY = OPENED_SHARED;
const CACHE_NAME = OPENED_SHARED;
export const MOST_KEPT_SHARED = 12;

/** The one opened last first. */
export const keptSharedBriefs = signal<readonly KeptShared[]>(readList());

function readList(): KeptShared[] {
  try {
    return z.array(lineSchema).safeParse(JSON.parse(storedText(LIST_KEY) ?? '[]')).data ?? [];
  } catch {
    return [];
  }
}

function writeList(list: readonly KeptShared[]): void {
  storeText(LIST_KEY, list.length === 0 ? undefined : JSON.stringify(list));
  keptSharedBriefs.value = list;
}

/** The ones opened longest ago beyond the number kept are forgotten. */
export async function keepShared({ brief, about }: SharedAnswer): Promise<void> {
  const { id, createdUtc, expiresUtc } = about;
  const { from, to, departureUtc } = brief.brief.leg;
  try {
    const cache = await caches.open(CACHE_NAME);
    await cache.put(keyOf(id), Response.json({ brief, about }));
    const line = { id, from, to, departureUtc, createdUtc, expiresUtc };
    // Another page may have kept one meanwhile: read and written in one turn.
    const list = [line, ...readList().filter((one) => one.id !== id)];
    writeList(list.slice(0, MOST_KEPT_SHARED));
    await Promise.all(list.slice(MOST_KEPT_SHARED).map((one) => cache.delete(keyOf(one.id))));
  } catch {
    // No room, or storage is refused: the list stays what it was.
  }
}

const keptSchema = z.object({ brief: z.unknown(), about: aboutBriefSchema });

/** @returns undefined where nothing whole is kept of it, and where its link is open no more. */
export async function readKeptShared(id: string, nowMs: number): Promise<SharedAnswer | undefined> {
  try {
    const found = await (await caches.open(CACHE_NAME)).match(keyOf(id));
    const parsed = found && keptSchema.safeParse(await found.json()).data;
    if (parsed === undefined) return undefined;
    if (Date.parse(parsed.about.expiresUtc) <= nowMs) return await forgetShared(id);
    const brief = checkedBrief(parsed.brief);
    return brief && { brief, about: parsed.about };
  } catch {
    return undefined;
  }
}

export async function forgetShared(id: string): Promise<undefined> {
  try {
    writeList(readList().filter((one) => one.id !== id));
    await (await caches.open(CACHE_NAME)).delete(keyOf(id));
  } catch {
    // Storage is refused: nothing is kept.
  }
}

export async function forgetAllShared(): Promise<void> {
  try {
    await caches.delete(CACHE_NAME);
  } finally {
    writeList([]);
  }
}

function keyOf(id: string): string {
  return `/kept-shared/${id}`;
}
