/** What is told of a flight from one evaluation to the next. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changeBetween, type Line, sinceShared } from '../../worker/board/changes.ts';
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
    ['and better than outside limits', line(OUTSIDE), line(UNKNOWN), 'better: Unknown, was outside limits'],
    ['better', line(OUTSIDE), line(), 'better: Within limits at 11,000 ft, was outside limits'],
    ['another altitude', line(), line({ altitudeFt: 9000 }), 'other: File 9,000 ft, was 11,000 ft'],
    [
      'large drops',
      line(),
      line({ exposure: makeExposure({ worstLargeDrops: 'freezing-rain' }) }),
      'other: Freezing rain, was none',
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
      'other: Fluid does not cover up to 75 L',
    ],
    [
      'fluid not known any more',
      line(),
      line({ fluid: null, fluidUnknownWhy: 'why' }),
      'other: Fluid on board is not known any more',
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
      'other: BBBB below minima, was above minima',
    ],
    [
      'the destination, not known',
      line(),
      line({ destination: makeStanding({ standing: 'unknown' }) }),
      'other: BBBB unknown against minima, was above minima',
    ],
    [
      'the alternate',
      line({ alternate: makeStanding({ aerodrome: 'CCCC', standing: 'below' }) }),
      line({ alternate: makeStanding({ aerodrome: 'CCCC' }) }),
      'other: CCCC above minima, was below minima',
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

describe('any two evaluations', () => {
  it('tell of one that is the same nothing, and of another verdict always, one way worse and back better', () => {
    fc.assert(
      fc.property(lines, lines, (a, b) => {
        expect(changeBetween(a, a, AT_MS)).toBeUndefined();
        const [there, back] = [changeBetween(a, b, AT_MS), changeBetween(b, a, AT_MS)];
        if (a.verdict === b.verdict) expect(there?.kind ?? 'other').toBe('other');
        else expect(new Set([there!.kind, back!.kind])).toEqual(new Set(['worse', 'better']));
        expect((there?.sentence ?? '').split('; ').length).toBeLessThanOrEqual(3);
        expect(there?.sentence ?? '').not.toMatch(/safe|clear|null|undefined/);
        if (a.verdict === 'unknown' && there?.kind === 'worse') expect(b.verdict).toBe('outside-limits');
      }),
      { numRuns: 1000 },
    );
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

  it('compares no fluid where none was kept of what was shared', () => {
    const { verdict, fluid: _, fluidUnknownWhy: __, ...evaluation } = makeEvaluation();
    const kept = { id: 'shared', atMs: MORNING_MS, evaluation: { verdict, ...evaluation } };
    expect(sinceShared(kept, makeEvaluation({ fluid: null, fluidUnknownWhy: 'why' }), verdict)).toEqual([]);
  });
});
