/** What is told of a flight from one evaluation to the next. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changeBetween, failureChange, type Line, sinceShared } from '../../worker/board/changes.ts';
import type { Evaluation } from '../../worker/schema/board.ts';
import type { VerdictCode } from '../../worker/schema/choice-words.ts';
import { MORNING_MS, makeEvaluation, makeExposure, makeStanding } from '../support/board-flights.ts';

const AT_MS = MORNING_MS + 3_600_000;

const line = (given: Partial<Evaluation> = {}): Line => {
  const evaluation = makeEvaluation(given);
  return { verdict: evaluation.verdict, evaluation };
};
const told = (before: Line, after: Line) => {
  const change = changeBetween(before, after, AT_MS);
  return change && `${change.kind}: ${change.sentence}`;
};
const OUTSIDE = { verdict: 'outside-limits', altitudeFt: null, acceptFt: null } as const;
const UNKNOWN = { verdict: 'unknown', altitudeFt: null, acceptFt: null } as const;
const NO_ICE = {
  verdict: 'no-ice-found',
  altitudeFt: 9000,
  exposure: makeExposure({ worstIntensity: 'none', icingMinutesHigh: 0 }),
} as const;

describe('changeBetween', () => {
  it.each([
    ['the first time', undefined, line(), 'first: Within limits at 11,000 ft'],
    ['the first time, unknown', undefined, line(UNKNOWN), 'first: Unknown'],
    [
      'the first that succeeded',
      { verdict: 'unknown', evaluation: undefined },
      line(OUTSIDE),
      'first: Outside limits',
    ],
    ['beyond limits', line(), line(OUTSIDE), 'worse: Outside limits, was within limits at 11,000 ft'],
    [
      'worse',
      line(NO_ICE),
      line({ exposure: NO_ICE.exposure }),
      'worse: Within limits at 11,000 ft, was no ice found at 9,000 ft',
    ],
    [
      'unknown is worse than within limits',
      line(),
      line(UNKNOWN),
      'worse: Unknown, was within limits at 11,000 ft',
    ],
    [
      'unknown is worse than no ice found',
      line({ ...NO_ICE, exposure: makeExposure() }),
      line(UNKNOWN),
      'worse: Unknown, was no ice found at 9,000 ft',
    ],
    ['and no better than outside limits', line(OUTSIDE), line(UNKNOWN), 'other: Unknown, was outside limits'],
    ['better', line(OUTSIDE), line(), 'better: Within limits at 11,000 ft, was outside limits'],
    ['another altitude', line(), line({ altitudeFt: 9000 }), 'other: File 9,000 ft, was 11,000 ft'],
    [
      'large drops',
      line(),
      line({ exposure: makeExposure({ worstLargeDrops: 'freezing-rain' }) }),
      'worse: Freezing rain, was none',
    ],
    [
      'large drops that ended',
      line({ exposure: makeExposure({ worstLargeDrops: 'freezing-drizzle' }) }),
      line(),
      'other: No large drops, was freezing drizzle',
    ],
    [
      'intensity',
      line(),
      line({ exposure: makeExposure({ worstIntensity: 'severe' }) }),
      'other: Worst icing severe, was light',
    ],
    [
      'intensity not known any more',
      line(),
      line({ exposure: makeExposure({ worstIntensity: null }) }),
      'other: Worst icing unknown, was light',
    ],
    [
      'minutes',
      line(),
      line({ exposure: makeExposure({ icingMinutesHigh: 22 }) }),
      'other: Up to 25 min in ice, was 5 min',
    ],
    [
      'fluid',
      line(),
      line({ fluid: { onBoardL: 60, neededHighL: 73.2, coversHighEstimate: false } }),
      'worse: Fluid does not cover up to 75 L',
    ],
    [
      'fluid not known any more',
      line(),
      line({ fluid: null, fluidUnknownWhy: 'why' }),
      'worse: Fluid on board is not known any more',
    ],
    [
      'fluid that covers again',
      line({ fluid: { onBoardL: 60, neededHighL: 73, coversHighEstimate: false } }),
      line(),
      'other: Fluid covers what is needed',
    ],
    [
      'the destination',
      line(),
      line({ destination: makeStanding({ standing: 'below' }) }),
      'worse: BBBB below minima, was above minima',
    ],
    [
      'the destination, not known',
      line(),
      line({ destination: makeStanding({ standing: 'unknown' }) }),
      'worse: BBBB unknown against minima, was above minima',
    ],
    [
      'the alternate',
      line({ alternate: makeStanding({ aerodrome: 'CCCC', standing: 'below' }) }),
      line({ alternate: makeStanding({ aerodrome: 'CCCC' }) }),
      'other: CCCC above minima, was below minima',
    ],
    [
      'the alternate, below',
      line({ alternate: makeStanding({ aerodrome: 'CCCC' }) }),
      line({ alternate: makeStanding({ aerodrome: 'CCCC', standing: 'below' }) }),
      'worse: CCCC below minima, was above minima',
    ],
    ['no altitude to file', line(), line({ altitudeFt: null }), 'worse: No altitude to file, was 11,000 ft'],
    ['one to file again', line({ altitudeFt: null }), line(), 'other: File 11,000 ft, was none'],
    [
      'an altitude that cannot be accepted any more',
      line(),
      line({ acceptFt: { lowerFt: 11_000, upperFt: 12_000 } }),
      'worse: Accept 11,000 to 12,000 ft, was 11,000 to 13,000 ft',
    ],
    [
      'the lowest that cannot',
      line(),
      line({ acceptFt: { lowerFt: 13_000, upperFt: 13_000 } }),
      'worse: Accept 13,000 ft, was 11,000 to 13,000 ft',
    ],
    [
      'unknown air',
      line(),
      line({ exposure: makeExposure({ unknownMinutes: 10 }) }),
      'worse: Unknown air 10 min, was 0 min',
    ],
    [
      'unknown air that is known now',
      line({ exposure: makeExposure({ unknownMinutes: 10 }) }),
      line(),
      'other: Unknown air 0 min, was 10 min',
    ],
    [
      'ice built',
      line(),
      line({ exposure: makeExposure({ builtMmHigh: 6 }) }),
      'worse: Up to 6 mm of ice, was 1 mm',
    ],
    [
      'a grave reason',
      line(),
      line({ reasonCodes: ['icing', 'reported-icing'] }),
      'worse: Icing reported or warned of',
    ],
    [
      'a graver one of its kind',
      line({ reasonCodes: ['reported-icing', 'way-out-unknown'] }),
      line({ reasonCodes: ['no-way-out', 'reported-icing'] }),
      'worse: No way out of the ice',
    ],
    [
      'the arrival',
      line(),
      line({ arrivalUtc: '2026-01-14T13:05:00.000Z' }),
      'other: Arrives 13:05 UTC, was 12:45 UTC',
    ],
    [
      'a better verdict with less fluid than is needed',
      line(OUTSIDE),
      line({ fluid: { onBoardL: 60, neededHighL: 73.2, coversHighEstimate: false } }),
      'other: Within limits at 11,000 ft, was outside limits; fluid does not cover up to 75 L',
    ],
  ] as [string, Line | undefined, Line, string][])('tells of %s', (...[, before, after, sentence]) => {
    const change = changeBetween(before, after, AT_MS);
    expect(`${change!.kind}: ${change!.sentence}`).toBe(sentence);
    expect(change!.atUtc).toBe('2026-01-14T11:00:00.000Z');
  });

  it('has the verdict first, then what is worse by its gravity, then what is better, three in all', () => {
    const before = line({
      exposure: makeExposure({ worstLargeDrops: 'freezing-rain', icingMinutesHigh: 5 }),
    });
    const after = line({
      ...OUTSIDE,
      exposure: makeExposure({ icingMinutesHigh: 60, worstIntensity: 'severe' }),
      destination: makeStanding({ standing: 'below' }),
    });
    expect(told(before, after)).toBe(
      'worse: Outside limits, was within limits at 11,000 ft; BBBB below minima, was above minima; worst icing severe, was light',
    );
    const better = line({ exposure: makeExposure({ icingMinutesHigh: 60 }) });
    expect(told(before, better)).toBe(
      'other: Up to 60 min in ice, was 5 min; no large drops, was freezing rain',
    );
  });

  it('tells nothing of what is within rounding, and of nothing evaluated', () => {
    const other = line({
      exposure: makeExposure({ icingMinutesHigh: 14.9, timeMinutes: 49, builtMmHigh: 3, altitudeFt: 11_500 }),
      altitudeFt: 11_500,
      sentence: 'Other words',
      acceptFt: { lowerFt: 10_000, upperFt: 13_500 },
      arrivalUtc: '2026-01-14T13:04:00.000Z',
      reasonCodes: ['close-under-the-tops', 'icing'],
      atUtc: '2026-01-14T11:00:00.000Z',
    });
    expect(changeBetween(line(), other, AT_MS)).toBeUndefined();
    const none: Line = { verdict: 'unknown', evaluation: undefined };
    expect(changeBetween(none, none, AT_MS)).toBeUndefined();
    expect(changeBetween(undefined, none, AT_MS)).toBeUndefined();
  });

  it('tells that a verdict does not hold any more although the evaluation is the same', () => {
    expect(told(line(), { verdict: 'unknown', evaluation: makeEvaluation() })).toBe(
      'worse: Unknown, was within limits at 11,000 ft',
    );
  });

  it('tells no reason that is less grave than one of its kind before, nor drops twice', () => {
    const before = line({ reasonCodes: ['large-drops', 'reported-severe-icing'] });
    const after = line({ reasonCodes: ['large-drops-not-excluded', 'reported-icing'] });
    expect(changeBetween(before, after, AT_MS)).toBeUndefined();
    const rain = line({
      reasonCodes: ['large-drops'],
      exposure: makeExposure({ worstLargeDrops: 'freezing-rain' }),
    });
    expect(told(line(), rain)).toBe('worse: Freezing rain, was none');
  });

  it('tells what makes it worse before what does not, so that it is never left out', () => {
    const after = line({
      altitudeFt: 9000,
      acceptFt: { lowerFt: 9000, upperFt: 9000 },
      exposure: makeExposure({ worstIntensity: 'severe', icingMinutesHigh: 30, builtMmHigh: 9 }),
      alternate: makeStanding({ aerodrome: 'CCCC', standing: 'below' }),
    });
    expect(told(line({ alternate: makeStanding({ aerodrome: 'CCCC' }) }), after)).toBe(
      'worse: CCCC below minima, was above minima; accept 9,000 ft, was 11,000 to 13,000 ft; up to 9 mm of ice, was 1 mm',
    );
  });

  it('does not compare the weather of two aerodromes', () => {
    const elsewhere = makeStanding({ aerodrome: 'CCCC', standing: 'below' });
    expect(changeBetween(line(), line({ destination: elsewhere }), AT_MS)).toBeUndefined();
  });
});

const verdicts = fc.constantFrom<VerdictCode>('no-ice-found', 'within-limits', 'outside-limits', 'unknown');
const exposures = fc.option(
  fc.record({
    worstIntensity: fc.constantFrom('none', 'light', 'severe', null),
    worstLargeDrops: fc.constantFrom('none', 'freezing-rain'),
    icingMinutesHigh: fc.integer({ min: 0, max: 60 }),
  }),
);
const lines = fc
  .record({
    verdict: verdicts,
    exposure: exposures,
    altitudeFt: fc.option(fc.constantFrom(5000, 9000, 11_000)),
    fluid: fc.constantFrom(null, { onBoardL: 60, neededHighL: 70, coversHighEstimate: false }),
    standing: fc.constantFrom('above', 'below', 'unknown'),
  })
  .map(({ exposure, standing, ...given }) =>
    line({
      ...given,
      exposure: exposure && makeExposure(exposure as Partial<NonNullable<Evaluation['exposure']>>),
      destination: makeStanding({ standing: standing as 'above' }),
    }),
  );

const RANKS = { above: 0, unknown: 1, below: 2 } as const;

function gotWorse({ evaluation: a }: Line, { evaluation: b }: Line): boolean {
  const standings = [a, b].map((each) => RANKS[each!.destination.standing]);
  const hasRain = (each: typeof a) => each!.exposure?.worstLargeDrops === 'freezing-rain';
  const isShort = (each: typeof a) => each!.fluid !== null;
  return standings[1]! > standings[0]! || (hasRain(b) && !hasRain(a)) || (isShort(b) && !isShort(a));
}

describe('any two evaluations', () => {
  it('tell of one that is the same nothing, and of another verdict always, one way worse and back better only where all is', () => {
    fc.assert(
      fc.property(lines, lines, (a, b) => {
        expect(changeBetween(a, a, AT_MS)).toBeUndefined();
        const [there, back] = [changeBetween(a, b, AT_MS), changeBetween(b, a, AT_MS)];
        if (a.verdict === b.verdict) expect(['worse', 'other']).toContain(there?.kind ?? 'other');
        else expect([there!.kind, back!.kind].filter((kind) => kind === 'worse')).toHaveLength(1);
        if (there?.kind === 'better') {
          expect(b.verdict).not.toBe('unknown');
          expect(gotWorse(a, b)).toBe(false);
        }
        expect((there?.sentence ?? '').split('; ').length).toBeLessThanOrEqual(3);
        expect(there?.sentence ?? '').not.toMatch(/safe|clear|null|undefined/);
        if (a.verdict === 'unknown' && b.verdict !== 'unknown' && there!.kind === 'worse')
          expect(b.verdict).toBe('outside-limits');
      }),
      { numRuns: 1000 },
    );
  });
});

describe('failureChange', () => {
  it.each([
    ['within limits', line(), 'worse: Unknown: could not be worked out, was within limits (no KZZZ)'],
    ['no ice found', line(NO_ICE), 'worse: Unknown: could not be worked out, was no ice found (no KZZZ)'],
    [
      'outside limits, which it is not better than',
      line(OUTSIDE),
      'other: Unknown: could not be worked out, was outside limits (no KZZZ)',
    ],
    ['unknown', line(UNKNOWN), undefined],
    ['unknown by its age', { ...line(), verdict: 'unknown' as const }, undefined],
    ['nothing', undefined, undefined],
  ])('takes the place of %s', (_, before, expected) => {
    const change = failureChange(before, 'no KZZZ', AT_MS);
    expect(change && `${change.kind}: ${change.sentence}`).toBe(expected);
  });
});

describe('sinceShared', () => {
  const shared = (given: Partial<Evaluation> = {}) => ({
    ...{ id: 'shared', atMs: MORNING_MS },
    evaluation: makeEvaluation(given),
  });

  it('is empty while nothing is another', () => {
    expect(sinceShared(shared(), makeEvaluation(), 'within-limits')).toEqual([]);
  });

  it('says each thing that is another, gravest first', () => {
    const now = makeEvaluation({ ...OUTSIDE, exposure: makeExposure({ worstLargeDrops: 'freezing-rain' }) });
    expect(sinceShared(shared(), now, 'outside-limits')).toEqual([
      'Outside limits, was within limits at 11,000 ft',
      'Freezing rain, was none',
    ]);
  });

  it('says unknown where the flight’s line carries that, with an evaluation and without', () => {
    const sentence = ['Unknown, was within limits at 11,000 ft'];
    expect(sinceShared(shared(), makeEvaluation(), 'unknown')).toEqual(sentence);
    expect(sinceShared(shared(), null, 'unknown')).toEqual(sentence);
  });

  it('says what of weather, reasons and altitudes to accept is another', () => {
    const now = makeEvaluation({
      destination: makeStanding({ standing: 'below' }),
      acceptFt: { lowerFt: 11_000, upperFt: 11_000 },
      reasonCodes: ['icing', 'reported-icing'],
    });
    expect(sinceShared(shared(), now, 'within-limits')).toEqual([
      'Icing reported or warned of',
      'BBBB below minima, was above minima',
      'Accept 11,000 ft, was 11,000 to 13,000 ft',
    ]);
  });

  it('compares no fluid where none was kept of what was shared', () => {
    const { verdict, fluid: _, fluidUnknownWhy: __, ...evaluation } = makeEvaluation();
    const kept = { id: 'shared', atMs: MORNING_MS, evaluation: { verdict, ...evaluation } };
    expect(sinceShared(kept, makeEvaluation({ fluid: null, fluidUnknownWhy: 'why' }), verdict)).toEqual([]);
  });
});
