import { describe, expect, test } from 'vitest';
import { minimumReasons } from '../../worker/flight/minimum-reasons.ts';
import { MINIMUM_SOURCES, type MinimumAltitudes, type MinimumSource } from '../../worker/flight/types.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { flatMinimum, makeTestRoute } from './make-curtain.ts';

const route = makeTestRoute(100);

/** Points of a leg by where their minimum comes from. */
function reasonsOf(sourceAt: (point: number) => MinimumSource, change: Partial<MinimumAltitudes> = {}) {
  const minimum = {
    ...flatMinimum(route.pointCount, 5000),
    source: Uint8Array.from({ length: route.pointCount }, (_, point) =>
      MINIMUM_SOURCES.indexOf(sourceAt(point)),
    ),
    ...change,
  };
  return minimumReasons({ route, minimum });
}

describe('minimumReasons', () => {
  test('say nothing of entered minima', () => {
    expect(reasonsOf(() => 'entered')).toEqual([]);
  });

  test('say where a model’s ground alone speaks, that it is smoothed and that it is not safe alone', () => {
    const found = reasonsOf((point) => (point < 5 ? 'model-orography' : 'entered'));
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({
      code: 'minimum-altitude-from-model-orography',
      numbers: { stretches: 1, allowanceFt: 3000 },
    });
    expect(found[0]!.sentence).toBe(
      'The minimum altitude from 0 to 20 NM rests on a forecast model’s smoothed ground plus 3,000 ft and 2,000 ft: it cuts off summits and is not safe alone, enter it from the chart',
    );
  });

  test('say several stretches of a model’s ground in one sentence, and count many', () => {
    const two = reasonsOf((point) => ([0, 1, 6].includes(point) ? 'model-orography' : 'entered'));
    expect(two.map(({ sentence }) => sentence)).toEqual([
      expect.stringMatching(/^The minimum altitude from 0 to 5 NM and at 30 NM rests on/),
    ]);
    const many = reasonsOf((point) => (point % 2 === 0 ? 'model-orography' : 'entered'));
    expect(many.map(({ sentence }) => sentence)).toEqual([expect.stringMatching(/on 11 stretches rests on/)]);
  });

  test('say what was added to elevation tiles, and that obstacles are not in them', () => {
    const allowanceM = new Float64Array(route.pointCount).fill(mFromFt(380));
    allowanceM[3] = mFromFt(410);
    allowanceM[20] = mFromFt(3000);
    const found = reasonsOf((point) => (point < 10 ? 'terrain-tiles' : 'spot-heights'), { allowanceM });
    expect(found.map(({ code }) => code)).toEqual([
      'minimum-altitude-from-spot-heights',
      'minimum-altitude-from-terrain-tiles',
    ]);
    expect(found[1]!.sentence).toBe(
      'Minimum altitudes from elevation tiles plus up to 410 ft for summits and 1,000 ft, in mountains 2,000 ft: masts and other obstacles are not in them',
    );
    expect(found[1]!.numbers).toEqual({ stretches: 1, allowanceFt: 410 });
  });

  test('name the ground that rules an entered minimum out, also where the minimum is then unknown', () => {
    const overruledM = new Float64Array(route.pointCount).fill(Number.NaN);
    const overrulingGroundM = new Float64Array(route.pointCount).fill(Number.NaN);
    overruledM[4] = mFromFt(4900);
    overrulingGroundM[4] = mFromFt(4000);
    const found = reasonsOf((point) => (point === 4 ? 'unknown' : 'entered'), {
      overruledM,
      overrulingGroundM,
    });
    expect(found.map(({ code }) => code)).toEqual(['minimum-altitude-unknown', 'entered-minimum-overruled']);
    expect(found[1]!.sentence).toBe(
      'The entered minimum of 4,900 ft does not hold over ground of 4,000 ft: check it',
    );
  });
});
