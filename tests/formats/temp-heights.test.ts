import { describe, expect, test } from 'vitest';
import { readTemp } from '../../worker/formats/temp/read-temp.ts';
import { thicknessAbove } from '../../worker/formats/temp/thickness.ts';
import { assertClose } from '../support/assert-close.ts';
import { only, row, rows } from '../support/sounding-levels.ts';

/** Surface 987 hPa at 197 m; the heights are those of the temperatures to 14 m. */
const PROFILE =
  'TTAA 65123 00901 99987 02112 06008 92722 04905 08019 85398 01230 15030 70942 08156 21545 50550 24361 25111 40711 37763 25624 88999 77999=';

function readAt(text: string, elevationM: number) {
  return only(
    readTemp(text, {
      nearMs: Date.UTC(2026, 0, 15),
      stations: () => ({ latDeg: 44, lonDeg: -73, elevationM }),
    }),
  );
}

const heights = (text: string, elevationM = 197) =>
  rows(readAt(text, elevationM)).map(([hPa, heightM]) => [hPa, heightM]);

describe('readTemp holds heights against the thickness', () => {
  test('heights that fit stand', () => {
    expect(heights(PROFILE)).toEqual([
      [987, 197],
      [925, 722],
      [850, 1398],
      [700, 2942],
      [500, 5500],
      [400, 7110],
    ]);
    expect(readAt(PROFILE, 197).rejected).toEqual([]);
  });

  test.each([
    ['85398', '85598', 850, 1598],
    ['85398', '85198', 850, 1198],
    ['70942', '70492', 700, 3492],
    ['50550', '50565', 500, 5650],
    ['92722', '92222', 925, 222],
    ['40711', '40771', 400, 7710],
  ])('one wrong figure, %s to %s, costs that height alone', (right, wrong, hPa, foundM) => {
    const sounding = readAt(PROFILE.replace(right, wrong), 197);
    expect(row(sounding, hPa)[1]).toBeNull();
    expect(row(sounding, hPa)[2]).not.toBeNull();
    expect(rows(sounding).filter(([, heightM]) => heightM !== null)).toHaveLength(5);
    expect(sounding.rejected).toHaveLength(1);
    expect(sounding.rejected[0]!.line).toBe(1);
    expect(sounding.rejected[0]!.reason).toMatch(
      new RegExp(`^height at ${hPa} hPa: found ${foundM} m, expected about \\d+ m by the thickness from`),
    );
  });

  test('a deviation within 30 m and 3 % is no fault', () => {
    // 850 to 925 hPa is 676 m thick: 50 m are allowed.
    expect(readAt(PROFILE.replace('85398', '85438'), 197).rejected).toEqual([]);
  });

  test('an 850 hPa height under 1000 m, of a deep low, is found by its thickness', () => {
    // 945 hPa at 10 m; the layer to 850 hPa at 0 degC is about 846 m thick: 860 m, coded 860.
    const text = 'TTAA 65128 00901 99945 00002 06008 92181 00156 08019 85860 02156 15030 88999 77999=';
    expect(heights(text, 10)).toEqual([
      [945, 10],
      [925, 181],
      [850, 860],
    ]);
  });
});

describe('readTemp holds surface and elevation against the heights above', () => {
  test('an elevation that no height agrees with costs the surface level and the elevation, not the heights', () => {
    // 646 is the right elevation in feet.
    const sounding = readAt(PROFILE, 646);
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([925, 850, 700, 500, 400]);
    expect(sounding.elevationM).toBeNaN();
    expect(sounding.rejected).toHaveLength(1);
    expect(sounding.rejected[0]!.reason).toMatch(
      /^surface level at 987 hPa: found 646 m, expected about \d+ m by the thickness from 925 hPa at 722 m; check the station's elevation$/,
    );
  });

  test('a wrong surface pressure in part A gives way to that of part B', () => {
    const partB = 'TTBB 6512/ 00901 00987 02112 21212 00987 06008=';
    const sounding = readAt(`${PROFILE.replace('99987', '99887')}\n${partB}`, 197);
    expect(row(sounding, 987).slice(0, 3)).toEqual([987, 197, -2.1]);
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([987, 925, 850, 700, 500, 400]);
    expect(sounding.elevationM).toBe(197);
    expect(sounding.rejected.map(({ line }) => line)).toEqual([1]);
  });

  test('surface pressures that are all wrong leave no surface level', () => {
    const partB = 'TTBB 6512/ 00901 00878 02112 21212 00867 06008=';
    const sounding = readAt(`${PROFILE.replace('99987', '99887')}\n${partB}`, 197);
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([925, 850, 700, 500, 400]);
    expect(sounding.elevationM).toBeNaN();
    expect(sounding.rejected.map(({ reason }) => reason.slice(0, 24))).toEqual([
      'surface level at 887 hPa',
      'surface level at 878 hPa',
      'surface level at 867 hPa',
    ]);
  });

  test('an elevation that nobody knows leaves the surface height missing and checks the others', () => {
    const sounding = readAt(PROFILE.replace('85398', '85598'), Number.NaN);
    expect(row(sounding, 987)).toEqual([987, null, -2.1, -3.3, 60, 8]);
    expect(row(sounding, 850)[1]).toBeNull();
    expect(sounding.elevationM).toBeNaN();
  });

  test('a height above the last temperature cannot be checked and stands by the rule', () => {
    const text = PROFILE.replace('40711 37763 25624', '40711 ///// 25624');
    expect(row(readAt(text, 197), 400)).toEqual([400, 7110, null, null, 255, 124]);
  });

  test('a second report’s other height is told', () => {
    const sounding = readAt(`${PROFILE}\n${PROFILE.replace('85398', '85402')}`, 197);
    expect(row(sounding, 850)[1]).toBe(1398);
    expect(sounding.rejected).toEqual([
      { line: 2, reason: 'height at 850 hPa: found 1402 m, expected 1398 m as reported before' },
    ]);
  });
});

describe('thicknessAbove', () => {
  const isothermal = [
    { pressurePa: 100_000, temperatureK: 273.15 },
    { pressurePa: 50_000, temperatureK: 273.15 },
  ];

  test('1000 to 500 hPa at 0 degC is 5542 m', () => {
    // 287.05 / 9.80665 x 273.15 x ln 2, reckoned by hand.
    assertClose(thicknessAbove(isothermal)(50_000)!, 5542, { abs: 1, why: 'rounded to a meter' });
  });

  test('the standard atmosphere from 1013.25 to 226.321 hPa is 11 km, levels a kilometer apart', () => {
    // Published: 11000 m, 216.65 K, 226.321 hPa; the levels between from T = 288.15 - 0.0065 H.
    const levels = Array.from({ length: 12 }, (_, km) => {
      const temperatureK = 288.15 - 6.5 * km;
      return { pressurePa: 101_325 * (temperatureK / 288.15) ** 5.25588, temperatureK };
    });
    assertClose(thicknessAbove(levels)(levels[11]!.pressurePa)!, 11_000, {
      abs: 5,
      why: 'straight lines in ln p between kilometers',
    });
  });

  test('outside the temperatures it is undefined', () => {
    expect(thicknessAbove(isothermal)(101_000)).toBeUndefined();
    expect(thicknessAbove(isothermal)(49_999)).toBeUndefined();
    expect(thicknessAbove([])(50_000)).toBeUndefined();
  });
});
