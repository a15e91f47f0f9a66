/** What a tank holds at a departure. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FlightBefore, fluidAtDeparture } from '../../worker/board/fluid-left.ts';
import type { StoredTail } from '../../worker/sources/boards.ts';
import { MORNING_MS, makeEvaluation, makeExposure } from '../support/board-flights.ts';

const HOUR_MS = 3_600_000;
/** Sixty liters entered at ten. */
const TAIL: StoredTail = {
  ...{ tail: 'N101', fluidOnBoardL: 60, inoperative: [], note: '', enteredMs: MORNING_MS, by: 'Ana' },
  fluidEnteredMs: MORNING_MS,
};
const earlier = (
  afterH: number,
  fluidTripHighL: number | null,
  given: Partial<FlightBefore> = {},
): FlightBefore => ({
  departureMs: MORNING_MS + afterH * HOUR_MS,
  evaluation: makeEvaluation({ exposure: makeExposure({ fluidTripHighL }) }),
  cancelled: undefined,
  ...given,
});
const at = (afterH: number, others: FlightBefore[], tail: StoredTail | undefined = TAIL) =>
  fluidAtDeparture(MORNING_MS + afterH * HOUR_MS, tail, others);
const mark = (afterH: number) => ({ atMs: MORNING_MS + afterH * HOUR_MS, by: 'Ana' });

describe('fluidAtDeparture', () => {
  it('is what was entered where no flight is before', () => {
    expect(at(2, [])).toEqual({ fluidOnBoardL: 60, why: '' });
  });

  it('is less by the high estimate of each flight between the entry and the departure', () => {
    expect(at(5, [earlier(1, 12.3), earlier(3, 20)])).toEqual({ fluidOnBoardL: 27, why: '' });
  });

  it.each<[string, FlightBefore, number]>([
    ['that had arrived before the entry', earlier(-1, 20, { arrived: mark(-0.1) }), 60],
    ['that was to be down long before the entry', earlier(-4, 20), 60],
    ['that may still be in the air at the entry', earlier(-1, 20), 40],
    ['that was in the air at the entry', earlier(-1, 20, { departed: mark(-0.9), arrived: mark(0.2) }), 40],
    ['that leaves in the moment of the entry', earlier(0, 20), 40],
    ['that leaves later', earlier(6, 20), 60],
    ['that is cancelled', earlier(1, 20, { cancelled: mark(0) }), 60],
    ['that was to leave before the entry and left after it', earlier(-1, 20, { departed: mark(0.5) }), 40],
    [
      'that was to leave after it and came back before',
      earlier(0.5, 20, { departed: mark(-2), arrived: mark(-0.5) }),
      60,
    ],
  ])('counts of a flight %s what it takes', (_, other, liters) => {
    expect(at(5, [other]).fluidOnBoardL).toBe(liters);
  });

  it('is not known twelve hours after the entry', () => {
    expect(at(12, []).fluidOnBoardL).toBe(60);
    expect(at(12.1, [])).toMatchObject({
      fluidOnBoardL: undefined,
      why: expect.stringContaining('too long before'),
    });
  });

  it('is never below nothing, and never rounded up', () => {
    expect(at(5, [earlier(1, 50), earlier(2, 50)])).toEqual({ fluidOnBoardL: 0, why: '' });
    expect(at(5, [earlier(1, 0.05)]).fluidOnBoardL).toBe(59);
  });

  it.each<[string, FlightBefore[], StoredTail | undefined, string]>([
    ['nobody entered anything', [], undefined, 'Nobody entered the fluid of the aeroplane'],
    [
      'it is entered as not known',
      [],
      { ...TAIL, fluidOnBoardL: undefined },
      'The fluid of N101 is entered as not known',
    ],
    [
      'a flight before was not worked out',
      [earlier(1, 5), earlier(2, 5, { evaluation: undefined })],
      TAIL,
      'What N101 uses on its flight of 14 Jan 12:00 UTC is not known',
    ],
    [
      'a flight before cannot be flown at any altitude',
      [earlier(2, 5, { evaluation: makeEvaluation({ exposure: null }) })],
      TAIL,
      'What N101 uses on its flight of 14 Jan 12:00 UTC is not known',
    ],
    [
      'a flight before has no figure',
      [earlier(2, null)],
      TAIL,
      'What N101 uses on its flight of 14 Jan 12:00 UTC is not known',
    ],
  ])('is not known where %s', (...[, others, tail, why]) => {
    expect(fluidAtDeparture(MORNING_MS + 5 * HOUR_MS, tail, others)).toEqual({
      fluidOnBoardL: undefined,
      why,
    });
  });

  it('is never more with a further flight', () => {
    const flights = fc
      .tuple(fc.integer({ min: -4, max: 8 }), fc.option(fc.integer({ min: 0, max: 30 })))
      .map(([afterH, liters]) => earlier(afterH, liters));
    fc.assert(
      fc.property(fc.array(flights, { maxLength: 5 }), flights, (others, further) => {
        const less = at(5, [...others, further]).fluidOnBoardL;
        const more = at(5, others).fluidOnBoardL;
        if (less !== undefined) expect(less).toBeLessThanOrEqual(more!);
      }),
    );
  });
});
