/** The board's state in words: how it hears of changes, and how old its data are. */
import { durationWords } from '../../../worker/flight/words.ts';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { isDone } from '../../../worker/schema/board-order.ts';
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

/** "oldest data 5 h 10 min, newest 12 min", of the legs that are still to fly; how many have none is said too. */
export function dataAgeWords(flights: readonly BoardFlight[], nowMs: number): string {
  const ahead = flights.filter((flight) => !isDone(flight));
  if (ahead.length === 0) return 'no leg is still to fly';
  const oldest = epochs(ahead.map(({ evaluation }) => evaluation?.oldestDataUtc ?? null));
  const newest = epochs(ahead.map(({ evaluation }) => evaluation?.newestDataUtc ?? null));
  if (oldest.length === 0 || newest.length === 0) return 'no data';
  const words = `oldest data ${ageWords(Math.min(...oldest), nowMs)}, newest ${ageWords(Math.max(...newest), nowMs)}`;
  const without = ahead.length - oldest.length;
  return without === 0 ? words : `${words}; ${without === 1 ? '1 leg' : `${without} legs`} without data`;
}

const epochs = (instants: readonly (string | null)[]) =>
  instants.flatMap((utc) => (utc === null ? [] : Date.parse(utc)));

const ageWords = (atMs: number, nowMs: number) =>
  atMs > nowMs ? `for ${utcClock(atMs)} UTC` : durationWords(nowMs - atMs);

export function hasInventedData(flights: readonly BoardFlight[]): boolean {
  return flights.some(({ evaluation }) => evaluation?.hasInventedData === true);
}
