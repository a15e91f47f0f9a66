/** The board's state in words: how it hears of changes, and how old its data are. */
import { durationWords } from '../../../worker/flight/words.ts';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { utcClock } from './leg-times.ts';

export type Hearing =
  | { readonly kind: 'asking' }
  | { readonly kind: 'live' }
  | { readonly kind: 'polling' }
  | { readonly kind: 'refused' }
  /** Nobody answers; on the service's clock. */
  | { readonly kind: 'offline'; readonly sinceMs: number };

export function hearingWords(hearing: Hearing): string {
  if (hearing.kind === 'asking') return 'asking';
  if (hearing.kind === 'live') return 'live';
  if (hearing.kind === 'polling') return 'asking every 20 s';
  if (hearing.kind === 'refused') return 'link refused: it opens this board no more';
  return `no connection since ${utcClock(hearing.sinceMs)} UTC`;
}

/** "newest data 1 h 12 min old"; what has none says so. */
export function dataAgeWords(flights: readonly BoardFlight[], nowMs: number): string {
  let newestMs = Number.NEGATIVE_INFINITY;
  for (const { evaluation } of flights) {
    const newest = evaluation?.newestDataUtc ?? null;
    if (newest !== null) newestMs = Math.max(newestMs, Date.parse(newest));
  }
  if (newestMs === Number.NEGATIVE_INFINITY) return 'no data';
  return newestMs > nowMs
    ? `newest data for ${utcClock(newestMs)} UTC`
    : `newest data ${durationWords(nowMs - newestMs)} old`;
}

export function hasInventedData(flights: readonly BoardFlight[]): boolean {
  return flights.some(({ evaluation }) => evaluation?.hasInventedData === true);
}
