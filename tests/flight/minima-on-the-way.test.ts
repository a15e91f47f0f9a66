/** Minimum altitudes in the cold, in the climb and in the last descent, and ground beside a model's ground. */
import { describe, expect, test } from 'vitest';
import { minimumAltitudes } from '../../worker/flight/minimum-altitude.ts';
import type { ChooseInput } from '../../worker/flight/types.ts';
import { ftFromM, mFromFt, mFromNm } from '../../worker/science/units.ts';
import { at, choose, filed } from './choose.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
} from './make-curtain.ts';

const route = makeTestRoute();
const DESTINATION = route.pointCount - 1;
const only = (...altitudesFt: readonly number[]): Partial<ChooseInput> => ({
  aircraft: ROUND_AIRCRAFT,
  planned: NOTHING_PLANNED,
  candidateAltitudesM: altitudesFt.map(mFromFt),
});

describe('a minimum of 9,000 ft in the cold', () => {
  const cold = (temperatureC: number): CellAt => {
    return () => ({ temperatureC });
  };
  const minimum = flatMinimum(route.pointCount, 9000);

  // 9,000 ft over sea level at -25 degC: 9,000 x 40 / (248 - 8.9) = 1,500 ft, so that 10,500 ft keep it. 9,000 ft suits the
  // direction and takes less time.
  test('of -25 degC at the aerodrome has the higher altitude filed', () => {
    const choice = choose(cold(-25), { ...only(9000, 11000), minimum });
    expect(filed(choice)?.altitudeFt).toBe(11000);
    expect(at(choice, 9000)).toMatchObject({ isUnderColdMinimum: true });
    expect(at(choice, 9000).reasons[0]).toMatchObject({ code: 'lost-on-cold-minimum' });
    expect(at(choice, 11000)).toMatchObject({ isUnderColdMinimum: false });
    expect(at(choose(cold(-25), { ...only(10000), minimum }), 10000).isUnderColdMinimum).toBe(true);
  });

  test('has none filed where no altitude keeps it, whatever the ice', () => {
    const choice = choose(cold(-25), { ...only(9000, 10000), minimum });
    expect(choice.file).toBeUndefined();
    expect(choice.recommended).toBeUndefined();
    expect(choice.verdict).toMatchObject({
      code: 'outside-limits',
      sentence: expect.stringMatching(/truly under the minimum altitude/),
    });
    expect(choice.verdict.reasons[0]).toMatchObject({ code: 'under-cold-minimum' });
    expect(at(choice, 9000).verdict).toBe('no-ice-found');
  });

  test('in standard air at +15 degC is kept by 9,000 ft', () => {
    const choice = choose(cold(15), { ...only(9000, 11000), minimum });
    expect(filed(choice)?.altitudeFt).toBe(9000);
    expect(at(choice, 9000).isUnderColdMinimum).toBe(false);
  });

  test('decides nothing where no minimum is known', () => {
    const unknown = flatMinimum(route.pointCount, Number.NaN);
    expect(at(choose(cold(-25), { ...only(9000), minimum: unknown }), 9000).isUnderColdMinimum).toBe(false);
  });
});

describe('a minimum in the climb', () => {
  const said = (point: number, altitudeFt: number) => {
    const minimum = flatMinimum(route.pointCount, 1000);
    minimum.altitudeM[point] = mFromFt(altitudeFt);
    return choose(DRY, { ...only(13000), minimum }).operational.find(
      ({ code }) => code === 'under-minimum-in-climb',
    );
  };

  // 120 kt and 1,000 ft/min: 500 ft a mile, 7,500 ft at 15 NM. The third point lies at 14.7 NM and speaks from 12.2 to 17.1 NM.
  test('of 12,000 ft at 15 NM is said, with where and how much', () => {
    const found = said(3, 12000);
    expect(found?.sentence).toMatch(/ in the climb at 1\d NM, where the minimum is 12,000 ft/);
    expect(found?.numbers).toMatchObject({ minimumFt: 12000 });
    const { distanceNm } = found!.numbers as { distanceNm: number };
    expect(distanceNm).toBeGreaterThanOrEqual(15);
    expect(distanceNm).toBeLessThanOrEqual(17.2);
  });

  test('within fifteen miles of the departure or the destination is left to the procedures there', () => {
    expect(said(1, 12000)).toBeUndefined();
    expect(said(2, 12000)).toBeUndefined();
    expect(said(DESTINATION - 1, 12000)).toBeUndefined();
  });

  test('that the climb is above by then is not said', () => {
    // A step of the third point's miles ends at 8,000 ft, 16 NM out, and 300 ft are within what an altimeter may be wrong by.
    expect(said(3, 7000)).toBeUndefined();
    expect(said(3, 9000)).toBeDefined();
  });

  // 500 ft/min at 150 kt are 200 ft a mile: 4,000 ft 20 NM before the end.
  test('in the last descent is said too', () => {
    const found = said(DESTINATION - 4, 9000);
    expect(found?.sentence).toMatch(/ in the descent at 16\d NM, where the minimum is 9,000 ft/);
  });

  test('met level is no matter of the climb', () => {
    expect(said(20, 12000)).toBeUndefined();
  });
});

describe('a model’s ground of 4,000 ft', () => {
  const orographyM = Float64Array.from({ length: route.pointCount }, () => mFromFt(4000));
  const minimaFt = (spotFt?: number) => {
    const spot = { latDeg: route.latDeg[20]!, lonDeg: route.lonDeg[20]!, heightM: mFromFt(spotFt ?? 0) };
    const found = minimumAltitudes({
      route,
      entered: [],
      spotHeights: spotFt === undefined ? [] : [spot],
      corridorHalfWidthM: mFromNm(4),
      orographyM,
    });
    return Array.from(found.altitudeM, (altitudeM) => Math.round(ftFromM(altitudeM)));
  };

  // 4,000 ft, 3,000 for what the model smooths, 2,000 over it: 9,000 ft. A spot of 8,000 ft asks for 10,000.
  test('asks for no less beside a spot of 500 ft, and for more beside a higher one', () => {
    expect(minimaFt()[20]).toBe(9000);
    expect(minimaFt(500)[20]).toBe(9000);
    expect(minimaFt(8000)[20]).toBe(10000);
  });
});
