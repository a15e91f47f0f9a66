/** What the board's page knows, as signals. start-board.ts and acts.ts change it; components read it. */
import { computed, signal } from '@preact/signals';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { worstFirst } from '../../../worker/schema/board-order.ts';
import { storedText, storeText } from '../device-value.ts';
import { agedFlight } from './aged-flight.ts';
import type { BoardLink } from './board-key.ts';
import type { BoardState } from './board-state.ts';
import {
  countsOf,
  type Filters,
  filtersFromQuery,
  isGrave,
  isInScope,
  isListed,
  NO_FILTERS,
} from './filters.ts';
import type { Hearing } from './head-words.ts';
import { type ServiceClock, serviceInstantMs, serviceNowMs } from './service-clock.ts';
import { isUnread, NOTHING_SEEN, type Seen, wentBad } from './unread.ts';

/** What became of the first question; a board that is at hand stays, whatever comes later. */
export type Opening =
  | { readonly kind: 'asking' | 'open' | 'no-key' | 'refused' }
  | { readonly kind: 'failed'; readonly sentence: string };

export const opening = signal<Opening>({ kind: 'asking' });
export const link = signal<BoardLink | undefined>(undefined);
export const boardState = signal<BoardState | undefined>(undefined);
export const clock = signal<ServiceClock | undefined>(undefined);
/** On the device's own clock, set a few times a minute. */
export const deviceMs = signal(Date.now());
export const live = signal<
  { readonly kind: Exclude<Hearing['kind'], 'asking'>; readonly sinceMs: number } | undefined
>(undefined);
/** When what is shown was kept, where it comes from this device. */
export const keptMs = signal<number | undefined>(undefined);
export const seen = signal<Seen>(NOTHING_SEEN);
/** This device never looked at the board before. */
export const isFirstLook = signal(false);
export const filters = signal<Filters>(
  typeof location === 'undefined' ? NO_FILTERS : filtersFromQuery(new URLSearchParams(location.search)),
);

export type Part = 'network' | 'handover' | 'setup' | 'notify';
/** What stands beside the list. */
export type Beside = { readonly kind: 'leg'; readonly id: string } | { readonly kind: Part };
export const beside = signal<Beside | undefined>(undefined);

export interface Notice {
  readonly text: string;
  readonly isBad: boolean;
  readonly undo?: () => void;
}
export const notice = signal<Notice | undefined>(undefined);

const PERSON = 'rimeway-board-person';
export const person = signal(storedText(PERSON) ?? '');
/** What waits for a name. */
export const awaitsPerson = signal<((name: string) => void) | undefined>(undefined);

export function namePerson(name: string): void {
  person.value = name;
  storeText(PERSON, name === '' ? undefined : name);
}

/** Of the service; of the device while the service told none. */
export const nowMs = computed(() =>
  clock.value === undefined ? deviceMs.value : serviceNowMs(clock.value, deviceMs.value, performance.now()),
);

/** Since the service was heard: 0 while it is, undefined where this device's clock makes no sense of it. */
const silentMs = computed(() => {
  const heardMs = keptMs.value ?? (isHeard() ? undefined : live.value?.sinceMs);
  if (heardMs === undefined) return 0;
  const ms = deviceMs.value - heardMs;
  return ms < -60_000 ? undefined : Math.max(0, ms);
});

const isHeard = () => ['live', 'polling', undefined].includes(live.value?.kind);

export const hearing = computed<Hearing>(() => {
  const now = live.value;
  if (now === undefined) return { kind: 'asking' };
  if (now.kind !== 'offline') return { kind: now.kind } as Hearing;
  const sinceMs = Math.min(keptMs.value ?? now.sinceMs, now.sinceMs);
  return { kind: 'offline', sinceMs: clock.value ? serviceInstantMs(clock.value, sinceMs) : sinceMs };
});

/** Every flight as it is to be shown by now. */
export const flights = computed<readonly BoardFlight[]>(() => {
  const standing = { nowMs: nowMs.value, silentMs: silentMs.value };
  return [...(boardState.value?.flights.values() ?? [])].map(({ flight }) => agedFlight(flight, standing));
});

export const flightsById = computed(() => new Map(flights.value.map((flight) => [flight.id, flight])));

export const counts = computed(() =>
  countsOf(
    flights.value.filter((flight) => isInScope(flight, filters.value, nowMs.value)),
    nowMs.value,
  ),
);

/** Listed, as they are to stand by now: worst first. */
export const wantedIds = computed(() =>
  flights.value
    .filter((flight) => isListed(flight, filters.value, nowMs.value))
    .sort((one, other) => worstFirst(one, other, nowMs.value))
    .map(({ id }) => id),
);

export const hidden = computed(() => {
  const out = flights.value.filter((flight) => !isListed(flight, filters.value, nowMs.value));
  return { count: out.length, grave: out.filter((flight) => isGrave(flight, nowMs.value)).length };
});

/** Whether its change was looked at goes by the change itself; beside these stand the ones whose verdict went since. */
export const unreadIds = computed(() => {
  const held = [...(boardState.value?.flights.values() ?? [])].map(({ flight }) => flight);
  const unread = [...held.filter((flight) => isUnread(flight, seen.value)), ...badNews.value];
  return new Set(unread.map(({ id }) => id));
});

/** By the change as by what became of it with age: as it is shown. A first result that turned unknown by age alone is news by that. */
export const badNews = computed(() =>
  flights.value
    .filter((flight) => wentBad(flight, seen.value))
    .sort((one, other) => worstFirst(one, other, nowMs.value)),
);

export const canEdit = computed(() => boardState.value?.access === 'edit');
