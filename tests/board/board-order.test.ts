/** In which order flights stand on a board. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BoardFlight } from '../../worker/schema/board.ts';
import {
  type FollowedFlight,
  isOverdue,
  isUnread,
  overdueAtMs,
  verdictGravity,
  worstFirst,
  worstVerdict,
} from '../../worker/schema/board-order.ts';
import { verdictCodes } from '../../worker/schema/choice-words.ts';
import { makeEvaluation, makeFlight, makeStanding } from '../support/board-flights.ts';

const NOW_MS = Date.parse('2026-01-14T11:00Z');
const LATER = { overdueAtUtc: '2026-01-14T12:30:00.000Z' };
const SHORT = makeEvaluation({ fluid: { onBoardL: 10, neededHighL: 40, coversHighEstimate: false } });
const BELOW = makeEvaluation({ destination: makeStanding({ standing: 'below' }) });
const BY = { atUtc: '2026-01-14T10:00:00.000Z', by: 'Ana' };

const namesInOrder = (flights: readonly BoardFlight[]) =>
  [...flights].sort((a, b) => worstFirst(a, b, NOW_MS)).map(({ label }) => label);

describe('worstFirst', () => {
  it('has overdue, then what calls for somebody and can be acted on, then verdict, weather, fluid, departure and id', () => {
    const flight = (label: string, given: Partial<BoardFlight> = {}) =>
      makeFlight({ label, ...LATER, ...given });
    const overdue = { overdueAtUtc: '2026-01-14T11:00:00.000Z' };
    const afterSix = { departureUtc: '2026-01-14T17:00:00.001Z' };
    const withinSix = { departureUtc: '2026-01-14T17:00:00.000Z' };
    const unknownThere = makeEvaluation({ destination: makeStanding({ standing: 'unknown' }) });
    const alternateBelow = makeEvaluation({ alternate: makeStanding({ standing: 'below' }) });
    const wanted = [
      flight('overdue in the air, no ice', { verdict: 'no-ice-found', departed: BY, ...overdue }),
      flight('overdue, not departed, outside', { verdict: 'outside-limits', ...overdue }),
      flight('overdue, not departed, no ice', { verdict: 'no-ice-found', ...overdue }),
      flight('outside in six hours', { verdict: 'outside-limits', ...withinSix }),
      flight('in the air, unknown', { verdict: 'unknown', departed: BY, ...afterSix, evaluation: BELOW }),
      flight('unknown, never worked out', { verdict: 'unknown', evaluation: null }),
      flight('unknown, above', { verdict: 'unknown', departureUtc: '2026-01-14T11:01:00.000Z' }),
      flight('fluid short within two hours', { evaluation: SHORT, departureUtc: '2026-01-14T12:59:00.000Z' }),
      flight('below minima', { evaluation: BELOW, departureUtc: '2026-01-14T16:00:00.000Z' }),
      flight('fluid short', { evaluation: SHORT, departureUtc: '2026-01-14T15:00:00.000Z' }),
      flight('below minima, no ice', { verdict: 'no-ice-found', evaluation: BELOW }),
      flight('outside after six hours', { verdict: 'outside-limits', ...afterSix }),
      flight('below minima after six hours', { evaluation: BELOW, ...afterSix }),
      flight('below minima after six hours, no ice', {
        ...{ verdict: 'no-ice-found', evaluation: BELOW },
        ...afterSix,
      }),
      flight('sooner', { departureUtc: '2026-01-14T11:30:00.000Z' }),
      flight('first by id', { id: 'a' }),
      flight('second by id', { id: 'b' }),
      flight('destination unknown', { evaluation: unknownThere, ...afterSix }),
      flight('alternate below', { evaluation: alternateBelow, departureUtc: '2026-01-14T16:00:00.000Z' }),
      flight('later', afterSix),
      flight('no ice', { verdict: 'no-ice-found', departureUtc: '2026-01-14T11:01:00.000Z' }),
      flight('cancelled, outside', { verdict: 'outside-limits', cancelled: true, overdueAtUtc: null }),
      flight('arrived, no ice', { verdict: 'no-ice-found', departed: BY, arrived: BY, overdueAtUtc: null }),
    ];
    expect(namesInOrder([...wanted].reverse())).toEqual(wanted.map(({ label }) => label));
  });

  it('has fluid that does not cover before fluid that does, of the same verdict and weather', () => {
    const given = { verdict: 'unknown', ...LATER } as const;
    const covered = makeFlight({ ...given, id: 'a' });
    expect(worstFirst(makeFlight({ ...given, id: 'b', evaluation: SHORT }), covered, NOW_MS)).toBeLessThan(0);
  });

  const flights = fc.record({
    id: fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f'),
    verdict: fc.constantFrom(...verdictCodes),
    evaluation: fc.constantFrom(null, BELOW, SHORT, makeEvaluation()),
    departed: fc.constantFrom(null, BY),
    overdueAtUtc: fc.constantFrom(null, '2026-01-14T10:59:59.999Z', LATER.overdueAtUtc),
    departureUtc: fc.constantFrom(
      '2026-01-14T11:30:00.000Z',
      '2026-01-14T11:30:00Z',
      '2026-01-14T12:00:00.000Z',
      '2026-01-14T18:00:00.000Z',
    ),
    arrived: fc.constantFrom(null, null, BY),
    cancelled: fc.boolean(),
  });

  it('is a total order: of two either comes first, and of three the first before the last', () => {
    fc.assert(
      fc.property(flights, flights, flights, (...given) => {
        const [a, b, c] = given.map(makeFlight) as [BoardFlight, BoardFlight, BoardFlight];
        const of = (x: BoardFlight, y: BoardFlight) => Math.sign(worstFirst(x, y, NOW_MS));
        expect(of(a, a)).toBe(0);
        expect(of(a, b) + of(b, a)).toBe(0);
        if (a.id !== b.id) expect(of(a, b)).not.toBe(0);
        if (of(a, b) <= 0 && of(b, c) <= 0) expect(of(a, c)).toBeLessThanOrEqual(0);
      }),
      { numRuns: 2000 },
    );
  });

  it('never has what is worse alone behind', () => {
    fc.assert(
      fc.property(flights, fc.constantFrom(...verdictCodes), (given, verdict) => {
        const flight = makeFlight({ ...given, id: 'z' });
        const other = makeFlight({ ...given, id: 'a', verdict });
        if (verdictGravity(flight.verdict) > verdictGravity(verdict)) {
          expect(worstFirst(flight, other, NOW_MS)).toBeLessThan(0);
        }
      }),
    );
  });
});

describe('overdueAtMs', () => {
  const atMs = (clock: string) => Date.parse(`2026-01-14T${clock}Z`);
  const flight: FollowedFlight = {
    ...{ departureMs: atMs('12:00'), departedMs: undefined, isDone: false, timeMinutes: 45 },
  };
  // Half an hour: common practice of flight following, from memory.
  it.each<[string, Partial<FollowedFlight>, number | null, string | null]>([
    ['half an hour after the planned departure', {}, 70, '12:30'],
    ['half an hour after the arrival that the evaluation has', { departedMs: atMs('12:10') }, 40, '13:25'],
    ['after the planned one where that is later', { departedMs: atMs('12:10') }, 70, '13:50'],
    ['after the one of the evaluation where none is planned', { departedMs: atMs('12:10') }, null, '13:25'],
    [
      'after the planned one where no altitude can be flown',
      { departedMs: atMs('12:10'), timeMinutes: undefined },
      70,
      '13:50',
    ],
    [
      'half an hour after departure where no duration is known',
      { departedMs: atMs('12:10'), timeMinutes: undefined },
      null,
      '12:40',
    ],
    ['never once it arrived or is cancelled', { isDone: true, departedMs: atMs('12:10') }, 70, null],
  ])('is %s', (...[, given, plannedMinutes, clock]) => {
    expect(overdueAtMs({ ...flight, ...given }, plannedMinutes)).toBe(clock === null ? null : atMs(clock));
  });

  it('makes a flight overdue from that instant on', () => {
    const overdueAtUtc = '2026-01-14T12:30:00.000Z';
    expect(isOverdue({ overdueAtUtc }, atMs('12:29'))).toBe(false);
    expect(isOverdue({ overdueAtUtc }, atMs('12:30'))).toBe(true);
    expect(isOverdue({ overdueAtUtc: null }, atMs('23:00'))).toBe(false);
  });
});

describe('isUnread', () => {
  const change = (kind: 'first' | 'worse' | 'mark') => ({
    ...{ seq: 7, sentence: 'Why', kind },
    atUtc: BY.atUtc,
  });
  const seen = (seq: number) => ({ ...BY, seq });
  it.each<[string, Partial<BoardFlight>, boolean]>([
    ['a change that nobody acknowledged', { change: change('worse') }, true],
    ['one after what was acknowledged', { change: change('worse'), acknowledged: seen(6) }, true],
    ['one that was acknowledged', { change: change('worse'), acknowledged: seen(7) }, false],
    ['no change', { change: null }, false],
    ['a mark', { change: change('mark') }, false],
    ['a first result within limits', { change: change('first') }, false],
    ['a first result that is unknown', { change: change('first'), verdict: 'unknown' }, true],
  ])('of %s', (_, given, expected) => {
    expect(isUnread(makeFlight(given))).toBe(expected);
  });
});

describe('worstVerdict', () => {
  it('is the gravest of them, unknown before all that is known to be within limits', () => {
    expect(worstVerdict(['no-ice-found', 'unknown', 'within-limits'])).toBe('unknown');
    expect(worstVerdict(['unknown', 'outside-limits'])).toBe('outside-limits');
    expect(worstVerdict([])).toBeUndefined();
  });
});
