/** Small chances over the trip and what is planned beyond it, and what is said of them. */
import { describe, expect, test } from 'vitest';
import { defaultPlanned } from '../../worker/flight/planned.ts';
import type { Exposure } from '../../worker/flight/types.ts';
import { MARK } from '../../worker/science/drawn-icing.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { choose, codesOf } from './choose.ts';
import { exposureIn } from './fly-curtain.ts';
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

describe('ice in one draw of the hold alone', () => {
  test('is not spoken of: fewer than one draw in ten meet any where more is planned for', () => {
    const choice = choose(layer(5000, 5500, RARE, [DESTINATION, DESTINATION]), {
      aircraft: ROUND_AIRCRAFT,
      planned: defaultPlanned(0),
      candidateAltitudesM: [mFromFt(9000)],
    });
    expect(codesOf(choice.verdict.reasons)).toEqual(['no-ice-found']);
  });
});
