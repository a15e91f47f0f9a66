/** Which verdict a flight's line carries. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { carriedVerdict, holdsUntilMs, type StandingParts } from '../../worker/board/standing.ts';
import { MORNING_MS, makeEvaluation } from '../support/board-flights.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const AGES = [
  { withinMs: 2 * HOUR_MS, mostMs: 20 * MINUTE_MS },
  { withinMs: 12 * HOUR_MS, mostMs: HOUR_MS },
];

/** Evaluated at ten, asked at half past ten, departing at noon. */
const partsOf = (given: Partial<StandingParts>): StandingParts => ({
  ...{ evaluation: makeEvaluation(), failure: undefined, nowMs: MORNING_MS + 30 * MINUTE_MS },
  ...{ departureMs: MORNING_MS + 2 * HOUR_MS, hasArrived: false, ages: AGES },
  ...{ departed: undefined, tailEnteredMs: undefined },
  ...given,
});
const carried = (given: Partial<StandingParts> = {}) => carriedVerdict(partsOf(given));

/** In the air since noon. */
const GONE = { departed: { atMs: MORNING_MS + 2 * HOUR_MS, by: 'Ana' } };

describe('carriedVerdict', () => {
  it('is that of the evaluation, with its sentence', () => {
    const { verdict, sentence } = makeEvaluation();
    expect(carried()).toEqual({ verdict, why: sentence });
  });

  it.each<[string, Partial<StandingParts>, string | undefined]>([
    ['nothing was worked out', { evaluation: undefined }, 'Not worked out yet'],
    [
      'the first attempt failed',
      { evaluation: undefined, failure: { atMs: MORNING_MS, sentence: 'no place XXXX' } },
      'Could not be worked out at 14 Jan 10:00 UTC: no place XXXX',
    ],
    [
      'the last attempt failed',
      { failure: { atMs: MORNING_MS + 15 * MINUTE_MS, sentence: 'the store gave no answer' } },
      'Could not be worked out at 14 Jan 10:15 UTC: the store gave no answer',
    ],
    [
      'it failed after it arrived',
      { failure: { atMs: MORNING_MS + 1, sentence: 'why' }, hasArrived: true },
      'Could not be worked out at 14 Jan 10:00 UTC: why',
    ],
    [
      'it failed in the moment in which it was worked out',
      { failure: { atMs: MORNING_MS, sentence: 'why' } },
      'Could not be worked out at 14 Jan 10:00 UTC: why',
    ],
    ['an attempt before it failed', { failure: { atMs: MORNING_MS - 1, sentence: 'why' } }, undefined],
    ['three times the rule’s age have passed to the millisecond', { nowMs: MORNING_MS + HOUR_MS }, undefined],
    [
      'more than three times the rule’s age has passed',
      { nowMs: MORNING_MS + HOUR_MS + 1 },
      'Worked out at 14 Jan 10:00 UTC, which is too long ago to hold',
    ],
    [
      'that has passed, but of the rule for later departures',
      { nowMs: MORNING_MS + HOUR_MS + 1, departureMs: MORNING_MS + 9 * HOUR_MS },
      undefined,
    ],
    [
      'the longest rule’s has passed, of a departure beyond all rules',
      { nowMs: MORNING_MS + 3 * HOUR_MS + 1, departureMs: MORNING_MS + 40 * HOUR_MS },
      'Worked out at 14 Jan 10:00 UTC, which is too long ago to hold',
    ],
    ['the flight has arrived', { nowMs: MORNING_MS + 9 * HOUR_MS, hasArrived: true }, undefined],
    ['the board knows no age', { nowMs: MORNING_MS + 4 * HOUR_MS, ages: [], ...GONE }, undefined],
    [
      'nobody marked it as departed half an hour after it was to leave',
      {
        nowMs: MORNING_MS + 2.5 * HOUR_MS + 1,
        evaluation: makeEvaluation({ atUtc: '2026-01-14T12:30:00.000Z' }),
      },
      'Its planned departure at 14 Jan 12:00 UTC is past, and nobody marked it as departed',
    ],
    [
      'something of its aeroplane was entered since',
      { tailEnteredMs: MORNING_MS + MINUTE_MS },
      'Being worked out again for what was entered of the aeroplane at 14 Jan 10:01 UTC',
    ],
    ['it was entered before', { tailEnteredMs: MORNING_MS }, undefined],
    [
      'its data were to be replaced more than an hour ago, however new it is',
      {
        ...GONE,
        nowMs: MORNING_MS + 4.5 * HOUR_MS + 1,
        evaluation: makeEvaluation({ atUtc: '2026-01-14T14:30:00.000Z' }),
      },
      'Its data were due to be replaced at 14 Jan 13:30 UTC, and nothing newer came',
    ],
    [
      'they were an hour ago',
      {
        ...GONE,
        nowMs: MORNING_MS + 4.5 * HOUR_MS,
        evaluation: makeEvaluation({ atUtc: '2026-01-14T14:30:00.000Z' }),
      },
      undefined,
    ],
    ['it has no data that are replaced', { evaluation: makeEvaluation({ staleAtUtc: null }) }, undefined],
  ])('where %s', (_, given, why) => {
    const { sentence } = makeEvaluation();
    expect(carried(given)).toEqual(
      why === undefined ? { verdict: 'within-limits', why: sentence } : { verdict: 'unknown', why },
    );
  });

  it('takes instants that do not read for too old', () => {
    expect(carried({ evaluation: makeEvaluation({ atUtc: 'soon' }) }).verdict).toBe('unknown');
    expect(carried({ evaluation: makeEvaluation({ staleAtUtc: 'soon' }) }).verdict).toBe('unknown');
  });

  it('holds as long as holdsUntilMs says, and no longer', () => {
    const hours = fc.integer({ min: 0, max: 14 * 60 });
    fc.assert(
      fc.property(hours, hours, fc.boolean(), fc.boolean(), (departsMin, askedMin, hasRules, isGone) => {
        const given = {
          departureMs: MORNING_MS + departsMin * MINUTE_MS,
          ages: hasRules ? AGES : [],
          departed: isGone ? GONE.departed : undefined,
        };
        const nowMs = MORNING_MS + askedMin * MINUTE_MS;
        const untilMs = holdsUntilMs(partsOf(given));
        const isHeld = carried({ ...given, nowMs }).verdict !== 'unknown';
        expect(isHeld).toBe(untilMs === undefined || nowMs <= untilMs);
      }),
    );
  });

  it('never gets better by time alone', () => {
    const instants = fc.integer({ min: MORNING_MS, max: MORNING_MS + 12 * HOUR_MS });
    fc.assert(
      fc.property(instants, instants, fc.boolean(), (a, b, hasRules) => {
        const at = (nowMs: number) => carried({ nowMs, ages: hasRules ? AGES : [] }).verdict;
        const [earlier, later] = [Math.min(a, b), Math.max(a, b)];
        if (at(earlier) === 'unknown') expect(at(later)).toBe('unknown');
      }),
    );
  });
});
