/** Flights of an invented board and what they came to, for tests that say only what matters to them. */
import type { BoardFlight, Evaluation, WeatherStanding } from '../../worker/schema/board.ts';
import { legId } from './board-legs.ts';

export const MORNING_MS = Date.UTC(2026, 0, 14, 10);

export function makeStanding(given: Partial<WeatherStanding> = {}): WeatherStanding {
  return {
    aerodrome: 'BBBB',
    atUtc: '2026-01-14T12:45:00.000Z',
    standing: 'above',
    sentence: 'TAF of 05:30 UTC: no ceiling, 10 km or more',
    ceilingFt: null,
    visibilityM: 9999,
    issuedUtc: '2026-01-14T05:30:00.000Z',
    ...given,
  };
}

export function makeExposure(
  given: Partial<NonNullable<Evaluation['exposure']>> = {},
): NonNullable<Evaluation['exposure']> {
  return {
    altitudeFt: 11_000,
    timeMinutes: 45,
    icingMinutesHigh: 5,
    unknownMinutes: 0,
    builtMmHigh: 1,
    worstIntensity: 'light',
    worstLargeDrops: 'none',
    fluidTripHighL: 12,
    ...given,
  };
}

/** Within limits at 11,000 ft. */
export function makeEvaluation(given: Partial<Evaluation> = {}): Evaluation {
  return {
    atUtc: new Date(MORNING_MS).toISOString(),
    request: {
      route: 'AAAA BBBB',
      departure: { atUtc: '2026-01-14T12:00:00Z' },
      aircraft: 'generic-fluid-turboprop',
    },
    methodVersion: 'test',
    verdict: 'within-limits',
    sentence: 'File 11,000 ft: up to 5 min icing, climb, worst light',
    radio: 'File 11,000. Light ice in climb.',
    reasonCodes: ['icing'],
    altitudeFt: 11_000,
    acceptFt: { lowerFt: 11_000, upperFt: 13_000 },
    exposure: makeExposure(),
    fluid: { onBoardL: 60, neededHighL: 20, coversHighEstimate: true },
    fluidUnknownWhy: '',
    destination: makeStanding(),
    alternate: null,
    arrivalUtc: '2026-01-14T12:45:00.000Z',
    newestDataUtc: '2026-01-14T06:00:00.000Z',
    oldestDataUtc: '2026-01-14T06:00:00.000Z',
    staleAtUtc: '2026-01-14T13:30:00.000Z',
    hasInventedData: true,
    line: [
      [-73, 44.5],
      [-70, 44.5],
    ],
    ...given,
  };
}

export function makeFlight(given: Partial<BoardFlight> = {}): BoardFlight {
  return {
    id: `${legId('leg')}.2026-01-14`,
    legId: legId('leg'),
    seq: 1,
    label: 'RW 101',
    tail: 'N101',
    from: 'AAAA',
    to: 'BBBB',
    routeText: 'AAAA DCT BBBB',
    departureUtc: '2026-01-14T12:00:00.000Z',
    verdict: 'within-limits',
    holdsUntilUtc: null,
    why: 'File 11,000 ft: up to 5 min icing, climb, worst light',
    evaluation: makeEvaluation(),
    failure: null,
    inoperative: [],
    change: null,
    acknowledged: null,
    shared: null,
    departed: null,
    arrived: null,
    overdueAtUtc: '2026-01-14T12:30:00.000Z',
    cancelled: false,
    ...given,
  };
}
