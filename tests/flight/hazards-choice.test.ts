/** What is reported or warned of along a leg, and what it does to the choice. */
import { describe, expect, test } from 'vitest';
import { type Hazard, hazardsMet } from '../../worker/flight/hazards.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { at, choose, codesOf, filed } from './choose.ts';
import { DRY, makeAircraft } from './make-curtain.ts';

/** Over points 10 to 14, from 8,000 to 12,000 ft. */
const hazard = (change: Partial<Hazard> = {}): Hazard => ({
  id: 'A1',
  kind: 'pilot-report',
  severity: 'severe',
  sentence: 'Severe icing reported near 10,000 ft',
  validFromMs: 0,
  validToMs: 1,
  issuedMs: 0,
  firstPoint: 10,
  lastPoint: 14,
  lowerM: mFromFt(8000),
  upperM: mFromFt(12000),
  ...change,
});

/** One step of a minute. */
const step = (pointIndex: number, altitudeFt: number) => ({
  pointIndex,
  phase: 'cruise' as const,
  pressureAltitudeM: mFromFt(altitudeFt),
  endAltitudeM: mFromFt(altitudeFt),
  fromM: 0,
  toM: 1,
  durationS: 60,
  headwindMps: 0,
  builtM: 0,
});
const metS = (steps: readonly ReturnType<typeof step>[], change: Partial<Hazard> = {}) =>
  hazardsMet(steps, [hazard(change)])[0]?.metS;

describe('hazardsMet', () => {
  test.each([
    [9, 10000, undefined],
    [10, 10000, 60],
    [14, 10000, 60],
    [15, 10000, undefined],
    [12, 7400, undefined],
    [12, 7500, 60],
    [12, 12500, 60],
    [12, 12600, undefined],
  ])(
    'over point %i at %i ft for a minute it is met for %s s: 500 ft about its edges count',
    (point, altitudeFt, expected) => {
      expect(metS([step(point, altitudeFt)])).toBe(expected);
    },
  );

  test('without altitudes it holds from the ground to the top', () => {
    const change = { lowerM: Number.NEGATIVE_INFINITY, upperM: Number.POSITIVE_INFINITY };
    expect(metS([step(12, 0), step(12, 25000), step(15, 0)], change)).toBe(120);
  });

  test('those met are given in their order with the time in each, others are left out', () => {
    const others = [hazard({ id: 'far', firstPoint: 30, lastPoint: 31 }), hazard({ id: 'B2' }), hazard()];
    expect(
      hazardsMet([step(10, 10000), step(11, 10000)], others).map((met) => [met.hazard.id, met.metS]),
    ).toEqual([
      ['B2', 120],
      ['A1', 120],
    ]);
  });
});

describe('chooseAltitude and reports', () => {
  const candidateAltitudesM = [5000, 9000, 11000, 15000].map(mFromFt);

  test('severe icing reported puts its altitudes outside limits in air where the model has nothing', () => {
    const choice = choose(DRY, { candidateAltitudesM, hazards: [hazard()] });
    expect(at(choice, 9000)).toMatchObject({ standing: 'outside-limits', verdict: 'outside-limits' });
    expect(codesOf(at(choice, 9000).reasons)).toContain('reported-severe-icing');
    expect(at(choice, 9000).inWords).toBe('severe icing reported or warned of on the way');
    expect(at(choice, 5000).verdict).toBe('no-ice-found');
    // 10,000 to 12,000 ft are climbed through before point 10, so that 15,000 ft is over it.
    expect(at(choice, 15000).verdict).toBe('no-ice-found');
    expect(filed(choice)?.altitudeFt).toBe(5000);
  });

  test('large drops reported without an altitude leave no altitude', () => {
    const everywhere = { lowerM: Number.NEGATIVE_INFINITY, upperM: Number.POSITIVE_INFINITY };
    const drops = hazard({
      severity: 'large-drops',
      sentence: 'Freezing rain reported at BBBB',
      ...everywhere,
    });
    const choice = choose(DRY, { candidateAltitudesM, hazards: [drops] });
    expect(choice.verdict).toMatchObject({ code: 'outside-limits' });
    expect(choice.verdict.reasons[0]).toMatchObject({
      code: 'reported-large-drops',
      sentence: 'Freezing rain reported at BBBB',
    });
    expect(choice.file).toBeUndefined();
  });

  test('moderate icing reported is within limits, never "no ice found", and an altitude without a report is preferred', () => {
    const choice = choose(DRY, { candidateAltitudesM, hazards: [hazard({ severity: 'moderate' })] });
    expect(at(choice, 9000).verdict).toBe('within-limits');
    expect(filed(choice)?.altitudeFt).toBe(5000);
  });

  test('what is filed where icing is reported does not say that no ice is found', () => {
    const choice = choose(DRY, {
      candidateAltitudesM: [mFromFt(9000)],
      hazards: [hazard({ severity: 'moderate' })],
    });
    expect(choice.verdict.code).toBe('within-limits');
    expect(choice.verdict.sentence).not.toMatch(/no ice found on the whole path/);
  });

  test('a report alone is told as such of an aeroplane that is not certified', () => {
    const choice = choose(DRY, {
      candidateAltitudesM: [mFromFt(9000)],
      aircraft: makeAircraft('generic-unprotected-single'),
      fluidOnBoardM3: undefined,
      hazards: [hazard({ severity: 'moderate' })],
    });
    expect(choice.verdict.code).toBe('outside-limits');
    expect(choice.verdict.sentence).not.toMatch(/ 0 min/);
  });
});
