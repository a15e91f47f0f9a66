/** Stepped profiles beside unknown air and reported dangers. */
import { describe, expect, test } from 'vitest';
import { makeCellFacts } from '../../worker/flight/cell-facts.ts';
import type { Hazard } from '../../worker/flight/hazards.ts';
import { costPerS } from '../../worker/flight/profile-lattice.ts';
import type { ChooseInput } from '../../worker/flight/types.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { choose, ftOf } from './choose.ts';
import {
  type CellAt,
  LIGHT_ICE,
  makeCurtain,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

const long = makeTestRoute(300);
const GENTLE = { ...LIGHT_ICE, growthMmPerMin: 0.05 };
const leg = (...altitudesFt: readonly number[]): Partial<ChooseInput> => ({
  aircraft: ROUND_AIRCRAFT,
  planned: NOTHING_PLANNED,
  route: long,
  candidateAltitudesM: altitudesFt.map(mFromFt),
});
/** Ice from 6,000 ft up over the first half, at 4,000-6,000 ft over the second: low first, then high. */
const sky: CellAt = (point, middleFt) => {
  const isIce = point < 30 ? middleFt > 6000 : middleFt > 4000 && middleFt < 6000;
  return isIce ? GENTLE : {};
};
const steppedFt = (cellAt: CellAt, change: Partial<ChooseInput>) =>
  choose(cellAt, change).stepped?.levels.map(({ altitudeM }) => ftOf(altitudeM));

describe('stepped profiles and unknown air', () => {
  test('under the ice first and over it then is found where all is known', () => {
    expect(steppedFt(sky, leg(5000, 7000))).toEqual([5000, 7000]);
  });

  test('an unknown level added never draws the profile into it', () => {
    const withUnknown: CellAt = (point, middleFt) => (middleFt > 11000 ? UNKNOWN : sky(point, middleFt));
    expect(steppedFt(withUnknown, leg(5000, 7000))).toEqual([5000, 7000]);
    for (const more of [[12000], [12000, 15000]]) {
      expect(steppedFt(withUnknown, leg(5000, 7000, ...more)), `${more}`).toEqual([5000, 7000]);
    }
  });

  // The worst ice that is not severe: 1 for the time in it and 2 mm/min, at 150 s a millimeter 5.
  test('a second in unknown air costs more than one in any ice within limits', () => {
    const worst = { ...LIGHT_ICE, icingProbability: 1, intensity: 3, growthMmPerMin: 2 };
    const facts = makeCellFacts(
      makeCurtain(long.pointCount, (_, middleFt) => (middleFt < 10000 ? worst : UNKNOWN)),
    );
    const [ice, unknown] = [5000, 12000].map((altitudeFt) => costPerS(facts, 20, mFromFt(altitudeFt)));
    expect(unknown).toBeGreaterThan(ice!);
    assertClose(
      unknown! - costPerS(makeCellFacts(makeCurtain(long.pointCount, () => ({}))), 20, mFromFt(5000)),
      50,
      {
        abs: 1e-6,
        why: 'the cost of unknown air',
      },
    );
  });
});

describe('stepped profiles and reported dangers', () => {
  const hazard = (change: Partial<Hazard>): Hazard => ({
    id: 'A1',
    kind: 'warning',
    severity: 'severe',
    sentence: 'SIGMET 1: severe icing until 14:00 UTC',
    validFromMs: 0,
    validToMs: 1,
    issuedMs: 0,
    firstPoint: 40,
    lastPoint: 44,
    lowerM: mFromFt(6500),
    upperM: mFromFt(7500),
    ...change,
  });

  test('none leads through severe icing or large drops warned of', () => {
    for (const severity of ['severe', 'large-drops'] as const) {
      const levels = steppedFt(sky, { ...leg(5000, 7000, 10000), hazards: [hazard({ severity })] });
      expect(levels, severity).toEqual([5000, 10000]);
    }
  });
});
