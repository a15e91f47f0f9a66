/** Which legs are listed: kept in the query of the address, so that they outlast a load; the key never is. */
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { type VerdictCode, verdictCodes } from '../../../worker/schema/choice-words.ts';
import { isDone, overdueMs } from './leg-times.ts';

/** What a count in the head stands for. */
export const GROUPS = [
  'outside-limits',
  'unknown',
  'within-limits',
  'no-ice-found',
  'overdue',
  'done',
] as const;
export type Group = (typeof GROUPS)[number];
export const NEXT_HOURS = [2, 6, 12] as const;

export interface Filters {
  /** Departing within so many hours; undefined for all. */
  readonly nextHours: number | undefined;
  /** From or to; begins with. */
  readonly station: string;
  /** Of label and tail. */
  readonly text: string;
  /** Any of them; empty for all. */
  readonly groups: readonly Group[];
}

export const NO_FILTERS: Filters = { nextHours: undefined, station: '', text: '', groups: [] };

export function filtersFromQuery(query: URLSearchParams): Filters {
  const hours = Number(query.get('next'));
  const names = (query.get('only') ?? '').split(',');
  return {
    nextHours: NEXT_HOURS.find((each) => each === hours),
    station: (query.get('at') ?? '').slice(0, 10),
    text: (query.get('find') ?? '').slice(0, 30),
    groups: GROUPS.filter((group) => names.includes(group)),
  };
}

/** Puts them into a query that may hold other things. */
export function putFilters(query: URLSearchParams, { nextHours, station, text, groups }: Filters): void {
  const put = (name: string, value: string) => (value === '' ? query.delete(name) : query.set(name, value));
  put('next', nextHours === undefined ? '' : String(nextHours));
  put('at', station);
  put('find', text);
  put('only', groups.join(','));
}

/** Every group that a leg counts in: one verdict or done, and overdue beside it. */
export function groupsOf(flight: BoardFlight, nowMs: number): Group[] {
  if (isDone(flight)) return ['done'];
  const groups: Group[] = [flight.verdict];
  if (overdueMs(flight, nowMs) !== undefined) groups.push('overdue');
  return groups;
}

export type Counts = Readonly<Record<Group, number>>;

export function countsOf(flights: readonly BoardFlight[], nowMs: number): Counts {
  const counts = Object.fromEntries(GROUPS.map((group) => [group, 0])) as Record<Group, number>;
  for (const flight of flights) for (const group of groupsOf(flight, nowMs)) counts[group] += 1;
  return counts;
}

/** Without the groups: what the counts of the head are made of. */
export function isInScope(flight: BoardFlight, filters: Filters, nowMs: number): boolean {
  const { nextHours, station, text } = filters;
  if (nextHours !== undefined && (isDone(flight) || !departsWithin(flight, nextHours, nowMs))) return false;
  const place = station.trim().toUpperCase();
  if (place !== '' && ![flight.from, flight.to].some((each) => each.toUpperCase().startsWith(place)))
    return false;
  const wanted = text.trim().toUpperCase();
  return wanted === '' || `${flight.label}\n${flight.tail ?? ''}`.toUpperCase().includes(wanted);
}

/** One that should have left and did not, or that is under way, is never out of the way. */
function departsWithin({ departureUtc }: BoardFlight, hours: number, nowMs: number): boolean {
  return Date.parse(departureUtc) <= nowMs + hours * 3_600_000;
}

export function isListed(flight: BoardFlight, filters: Filters, nowMs: number): boolean {
  if (!isInScope(flight, filters, nowMs)) return false;
  return (
    filters.groups.length === 0 || groupsOf(flight, nowMs).some((group) => filters.groups.includes(group))
  );
}

/** A leg that nobody should overlook behind a filter. */
export function isGrave(flight: BoardFlight, nowMs: number): boolean {
  return groupsOf(flight, nowMs).some((group) => ['outside-limits', 'unknown', 'overdue'].includes(group));
}

export const VERDICTS_WORST_FIRST: readonly VerdictCode[] = GROUPS.filter((group): group is VerdictCode =>
  (verdictCodes as readonly string[]).includes(group),
);
