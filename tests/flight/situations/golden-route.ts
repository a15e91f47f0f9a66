/** Golden situations: what the ground under the leg, and the end of the data, leave to choose. */
import { LIGHT_ICE, layer, MODERATE_ICE, UNKNOWN } from '../make-curtain.ts';
import { SNOW_CLOUD, stacked } from './golden-air.ts';
import type { Situation } from './situation.ts';

export const GOLDEN_ROUTE: readonly Situation[] = [
  {
    title: 'A minimum crossing altitude behind the ice forces the climb through it early',
    argument:
      'Moderate ice from 5,500 to 9,000 ft over the first 60 NM, none beyond. Staying at 5,000 ft until it ends and climbing ' +
      'then would meet no ice, but the point at 60 NM is to be crossed at 10,400 ft: from 5,000 ft that is 7 min and ' +
      '14 NM before it, in the middle of the layer. So the layer is climbed through in any case: 3,500 ft at 690 ' +
      'ft/min, 5 min, 3 mm. Then at once and on top: 11,000 ft is reached after 29 NM, 31 NM before the point and ' +
      '2,000 ft above the ice. Fluid: 5 min at the high rate 4.7, priming 4, reserve 13.5: 22 of 80 L.',
    air: layer(5500, 9000, { ...MODERATE_ICE, temperatureC: -9 }, [0, 12]),
    minimumAltitudes: [
      { fromNm: 0, toNm: 60, altitudeFt: 3000 },
      { fromNm: 60, toNm: 115, altitudeFt: 10400 },
      { fromNm: 115, toNm: 186, altitudeFt: 3000 },
    ],
    crossings: [{ atNm: 60, altitudeFt: 10400 }],
    expected: {
      verdict: 'within-limits',
      fileFt: [11000, 17000],
      isStepped: false,
      reasons: ['icing'],
      notReasons: ['fluid-short', 'no-ice-found', 'no-way-out'],
      refusedFt: [5000, 7000, 9000, 10000],
      acceptableFt: [11000, 13000],
    },
  },
  {
    title: 'High ground in the first half and a deep layer in the second are flown with one step down',
    argument:
      'The minimum is 8,600 ft from 40 to 120 NM, the air there dry. From 170 NM on ice lies from 6,500 to 16,000 ft under ' +
      'snow cloud. No single altitude does both: 5,000 ft is under the minimum, 9,000 ft has 33 min along and 4 min down in ' +
      'light ice, 11 mm; 17,000 ft has 9,500 ft of it in the descent, 14 min and 4 mm. Down from 9,000 to 5,000 ft ' +
      'at 130 NM: 4,000 ft at 700 ft/min, 6 min and 16 NM, level 24 NM before the ice and 1,500 ft below its base. ' +
      '37 min at the first level, 48 at the second, no ice at all, no fluid: hold and approach lie below the base too.',
    lengthNm: 300,
    air: stacked(
      layer(6500, 16000, { ...LIGHT_ICE, temperatureC: -12 }, [34, 1e9]),
      layer(16000, 26000, { ...SNOW_CLOUD, temperatureC: -35 }, [34, 1e9]),
    ),
    minimumAltitudes: [
      { fromNm: 0, toNm: 40, altitudeFt: 3000 },
      { fromNm: 40, toNm: 120, altitudeFt: 8600 },
      { fromNm: 120, toNm: 300, altitudeFt: 3000 },
    ],
    expected: {
      verdict: 'no-ice-found',
      fileFt: [9000, 15000],
      isStepped: true,
      notReasons: ['icing', 'ice-not-excluded', 'fluid-short', 'no-way-out'],
      refusedFt: [3000, 5000, 7000, 8000],
    },
  },
  {
    title: 'A model that ends before the destination leaves every altitude unknown',
    argument:
      'The air is dry as far as it is known, to 132 NM. The last 50 NM have no air: at 9,000 ft 5 min of cruise and 13 of ' +
      'descent, then approach and missed approach 25 min and hold 30 min, all of it where the ice of a leg is usually ' +
      'met. That the first two thirds are dry says nothing about it. Not clear, not icy: unknown, and nothing to file ' +
      'until air for the destination is there.',
    air: (point) => (point >= 28 ? UNKNOWN : {}),
    expected: {
      verdict: 'unknown',
      fileFt: 'none',
      reasons: ['unknown-air'],
      notReasons: ['no-ice-found', 'icing', 'severe-icing'],
      refusedFt: [5000, 9000, 11000, 13000],
    },
  },
];
