/** Legs of an invented schedule, for tests that say only what matters to them. */
import type { ScheduleLeg, StoredLeg } from '../../worker/schema/board.ts';

/** 22 characters, as identifiers of legs are. */
export const legId = (text: string): string => text.padEnd(22, '-').slice(0, 22);

export function makeLeg(given: Partial<ScheduleLeg> = {}): ScheduleLeg {
  return {
    label: 'RW 101',
    tail: 'N101',
    route: 'AAAA DCT BBBB',
    weekdays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    departureLocal: '05:40',
    timeZone: null,
    fromDate: null,
    untilDate: null,
    aircraft: 'generic-fluid-turboprop',
    plannedMinutes: 60,
    alternate: null,
    destinationMinima: null,
    alternateMinima: null,
    ...given,
  };
}

export function storedLeg(given: Partial<ScheduleLeg> = {}, id = 'leg'): StoredLeg {
  return { id: legId(id), leg: makeLeg(given) };
}
