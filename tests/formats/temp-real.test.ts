/**
 * Bulletins of the United States as sent, against the levels that another decoder's author listed from them: Jackson and
 * Omaha, 22 September 2006, 12 UTC (National Weather Service, public domain; the lists stand beside the bulletins in a
 * public source file: tenths of a degree, figures of the depression code, knots).
 */
import { describe, expect, test } from 'vitest';
import { readTemp } from '../../worker/formats/temp/read-temp.ts';
import { only, row } from '../support/sounding-levels.ts';

type Listed = readonly [hPa: number, tenthsC: number, depressionCode: number];

const JACKSON = `USUS44 KJAN 221223
MANJAN
72235 TTAA 72121 72235 99000 24416 18006 00089
///// ///// 92772 21205 20540 85503 17218 22044 70136 09040 23538 50584
07191 24532 40754 183// 25532 30962 35377 25047 25086 43772 24560 20232
54767 24069 15412 65563 25567 10653 71161 24543 88125 71361 25061 77182
25075 41112 51515 10164 00051 10194 20036 22041=

UMUS44 KJAN 221226
SGLJAN
72235 TTBB 72120 72235 00000 24416 11985 23605
22889 20018 33779 13049 44764 12864 55739 10660 66734 10222 77725 09213
88716 09656 99706 09024 11689 08858 22663 06658 33652 06069 44643 05461
55618 02656 66589 00260 77585 00156 88582 00360 99579 00556 11569 01756
22550 03158 33528 04590 44500 07191 55397 18787 66324 31579 77230 48969
88120 71561 99100 71161 31313 05102 81103 41414 66400=
`;
/** Temperatures and depressions of the standard and significant levels. */
const JACKSON_LISTED: readonly Listed[] = [
  [1000, 244, 16],
  [985, 236, 5],
  [925, 212, 5],
  [889, 200, 18],
  [850, 172, 18],
  [779, 130, 49],
  [764, 128, 64],
  [739, 106, 60],
  [734, 102, 22],
  [725, 92, 13],
  [716, 96, 56],
  [706, 90, 24],
  [700, 90, 40],
  [689, 88, 58],
  [663, 66, 58],
  [652, 60, 69],
  [643, 54, 61],
  [618, 26, 56],
  [589, 2, 60],
  [585, -1, 56],
  [582, -3, 60],
  [579, -5, 56],
  [569, -17, 56],
  [550, -31, 58],
  [528, -45, 90],
  [500, -71, 91],
  [397, -187, 87],
  [324, -315, 79],
  [300, -353, 77],
  [250, -437, 72],
  [230, -489, 69],
  [200, -547, 67],
  [150, -655, 63],
  [125, -713, 61],
  [120, -715, 61],
  [100, -711, 61],
];

const OMAHA = `USUS43 KOAX 221214
MANOAX
72558 TTAA 72121 72558 99951 14016 22512 00578
///// ///// 92583 12412 23524 85288 08610 26028 70874 00208 25031 50551
14557 24545 40716 27158 23537 30917 43141 21526 25037 53128 22522 20183
48972 24043 15371 50176 23538 10633 53775 23025 88245 54128 23026 77999
51515 10164 00004 10194 25026 25027=

UMUS43 KOAX 221215
SGLOAX
72558 TTBB 72120 72558 00951 14016 11850 08610
22792 06434 33676 01903 44670 00915 55612 03925 66597 04156 77512 13924
88508 14156 99474 17159 11458 19350 22441 21356 33354 33962 44343 35556
55319 39958 66281 46518 77245 54128 88228 48160 99209 49569 11172 50376
22122 51175 33110 55974 44100 53775 31313 45202 81107 41414 855//=
`;
const OMAHA_LISTED: readonly Listed[] = [
  [951, 140, 16],
  [925, 124, 12],
  [850, 86, 10],
  [792, 64, 34],
  [700, 2, 8],
  [676, -19, 3],
  [670, -9, 15],
  [612, -39, 25],
  [597, -41, 56],
  [512, -139, 24],
  [508, -141, 56],
  [500, -145, 57],
  [474, -171, 59],
  [458, -193, 50],
  [441, -213, 56],
  [400, -271, 58],
  [354, -339, 62],
  [343, -355, 56],
  [319, -399, 58],
  [300, -431, 41],
  [281, -465, 18],
  [250, -531, 28],
  [245, -541, 28],
  [228, -481, 60],
  [209, -495, 69],
  [200, -489, 72],
  [172, -503, 76],
  [150, -501, 76],
  [122, -511, 75],
  [110, -559, 74],
  [100, -537, 75],
];

/** Listed winds of the standard levels: degrees and knots. */
const WINDS = {
  Jackson: [
    [925, 205, 40],
    [850, 220, 44],
    [700, 235, 38],
    [500, 245, 32],
    [400, 255, 32],
    [300, 250, 47],
    [250, 245, 60],
    [200, 240, 69],
    [150, 255, 67],
    [100, 245, 43],
  ],
  Omaha: [
    [925, 235, 24],
    [850, 260, 28],
    [700, 250, 31],
    [500, 245, 45],
    [400, 235, 37],
    [300, 215, 26],
    [250, 225, 22],
    [200, 240, 43],
    [150, 235, 38],
    [100, 230, 25],
  ],
} as const;
/** Listed heights of the standard levels, m. */
const HEIGHTS = {
  Jackson: [
    [925, 772],
    [850, 1503],
    [700, 3136],
    [500, 5840],
    [400, 7540],
    [300, 9620],
    [250, 10_860],
    [200, 12_320],
    [150, 14_120],
    [100, 16_530],
  ],
  Omaha: [
    [925, 583],
    [850, 1288],
    [700, 2874],
    [500, 5510],
    [400, 7160],
    [300, 9170],
    [250, 10_370],
    [200, 11_830],
    [150, 13_710],
    [100, 16_330],
  ],
} as const;

describe.each([
  {
    name: 'Jackson',
    text: JACKSON,
    listed: JACKSON_LISTED,
    place: { latDeg: 32.32, lonDeg: -90.08, elevationM: 101 },
    releaseMs: Date.UTC(2006, 8, 22, 11, 3),
  },
  {
    name: 'Omaha',
    text: OMAHA,
    listed: OMAHA_LISTED,
    place: { latDeg: 41.32, lonDeg: -96.37, elevationM: 350 },
    releaseMs: Date.UTC(2006, 8, 22, 11, 7),
  },
] as const)('$name', ({ name, text, listed, place, releaseMs }) => {
  const file = readTemp(text, { nearMs: Date.UTC(2006, 8, 22, 15), stations: () => place });
  const sounding = only(file);

  test('every listed temperature and depression', () => {
    for (const [hPa, tenthsC, code] of listed) {
      const [, , temperatureC, dewPointC] = row(sounding, hPa);
      expect(temperatureC, `${hPa} hPa`).toBe(tenthsC / 10);
      expect(temperatureC! - dewPointC!, `${hPa} hPa`).toBeCloseTo(code > 50 ? code - 50 : code / 10, 6);
    }
  });

  test('no level with a temperature but the listed ones, and the one of a depression without figures', () => {
    const others = Array.from(sounding.levels.pressurePa, (pressurePa) => pressurePa / 100).filter(
      (hPa) => !listed.some(([each]) => each === hPa),
    );
    // 400 hPa of Jackson lacks its depression; 182 hPa is its greatest wind.
    expect(others).toEqual(name === 'Jackson' ? [400, 182] : []);
  });

  test('every listed wind and height', () => {
    for (const [hPa, directionDeg, speedKt] of WINDS[name])
      expect(row(sounding, hPa).slice(4), `${hPa} hPa`).toEqual([directionDeg, speedKt]);
    for (const [hPa, heightM] of HEIGHTS[name]) expect(row(sounding, hPa)[1], `${hPa} hPa`).toBe(heightM);
  });

  test('the time of release stands in part B', () => {
    expect(sounding.releaseMs).toBe(releaseMs);
    expect(sounding.timeMs).toBe(Date.UTC(2006, 8, 22, 12));
  });

  test('nothing is rejected but the height of 1000 hPa where the ground itself lies at 1000 hPa', () => {
    expect([...file.rejected, ...sounding.rejected].map(({ reason }) => reason)).toEqual(
      name === 'Jackson' ? ['height at 1000 hPa: found 89 gpm, expected 101 gpm as line 3 has it'] : [],
    );
  });
});
