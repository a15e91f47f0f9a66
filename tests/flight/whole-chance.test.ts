/** Small chances over the trip and what is planned beyond it, and what is said of them. */
import { describe, expect, test } from 'vitest';
import { defaultPlanned } from '../../worker/flight/planned.ts';
import type { Exposure } from '../../worker/flight/types.ts';
import { MARK } from '../../worker/science/drawn-icing.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { choose, codesOf } from './choose.ts';
import { exposure, exposureIn } from './fly-curtain.ts';
import {
  LIGHT_ICE,
  layer,
  makeCurtain,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
} from './make-curtain.ts';

const DESTINATION = makeTestRoute().pointCount - 1;
/** In one draw of ten: the high estimate has none. */
const RARE = { ...LIGHT_ICE, icingProbability: 0.1 };
const inHold = layer(5000, 5500, RARE, [DESTINATION, DESTINATION]);

describe('chances of everything', () => {
  test('ice in one draw of the hold is a chance of a tenth of the whole, and a tenth of its time', () => {
    const found = exposure(inHold, { planned: { ...NOTHING_PLANNED, holdS: 1800 } });
    assertClose(found.wholeIceChance, 0.1, { abs: 1e-9, why: 'by hand' });
    assertClose(found.wholeExpectedIcingS, 180, { abs: 1e-6, why: 'by hand' });
    expect([found.iceChance, found.expectedIcingS, found.planned.icingHighS]).toEqual([0, 0, 0]);
  });

  test('that of the trip counts in it', () => {
    const found = exposure(layer(10000, 10500, RARE));
    expect(found.wholeIceChance).toBe(found.iceChance);
    expect(found.wholeExpectedIcingS).toBe(found.expectedIcingS);
    expect(found.iceChance).toBeCloseTo(0.1, 9);
  });
});

describe('the chance of large drops of everything', () => {
  /** Ice in three draws of ten, with large drops in so many of them in the hold, and in others of the cruise. */
  const withDrops = (holdDraws: readonly number[], cruiseDraws: readonly number[]): Exposure => {
    const three = { ...LIGHT_ICE, icingProbability: 0.3 };
    const curtain = makeCurtain(DESTINATION + 1, (point, middleFt) => ({
      ...layer(5000, 5500, three, [DESTINATION, DESTINATION])(point, middleFt),
      ...layer(10000, 10500, three, [20, 20])(point, middleFt),
    }));
    const { drawCount, marks } = curtain.drawn;
    const mark = (point: number, cell: number, draw: number) => {
      marks[(point * curtain.icing.axis.cellCount + cell) * drawCount + draw]! |= MARK.largeDrops;
    };
    for (const draw of holdDraws) mark(DESTINATION, 10, draw);
    for (const draw of cruiseDraws) mark(20, 20, draw);
    return exposureIn(curtain, { planned: { ...NOTHING_PLANNED, holdS: 1800 } });
  };

  test('is that of draws with them on the trip or in what is planned', () => {
    const chance = (...draws: readonly [readonly number[], readonly number[]]) =>
      Number(withDrops(...draws).wholeLargeDropChance.toFixed(9));
    expect(chance([0], [])).toBe(0.1);
    expect(chance([], [0])).toBe(0.1);
    expect(chance([0], [1, 2])).toBe(0.3);
    expect(chance([0, 1], [0, 1])).toBe(0.2);
    expect(chance([], [])).toBe(0);
  });
});

describe('what is filed with a small chance of ice in the hold alone', () => {
  const choice = choose(inHold, {
    aircraft: ROUND_AIRCRAFT,
    planned: defaultPlanned(0),
    candidateAltitudesM: [mFromFt(9000)],
  });

  test('is within limits, and the ice is told as not excluded', () => {
    expect(choice.verdict.code).toBe('within-limits');
    expect(codesOf(choice.verdict.reasons)).toEqual(['ice-not-excluded']);
  });

  test('does not say that the chance lies over much of the path, which has none', () => {
    expect(choice.verdict.sentence).not.toMatch(/much of the path/);
    expect(choice.verdict.reasons[0]?.sentence).not.toMatch(/on the path/);
  });
});
