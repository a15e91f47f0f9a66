/** Kept aside: what the aeroplane is, what it carries, and how high the aerodrome lies decide. */
import { LIGHT_ICE, layer, MODERATE_ICE, type TestCell, UNKNOWN } from '../make-curtain.ts';
import { minimumAllAlong, stacked, tailwind } from './aside-air.ts';
import type { Situation } from './situation.ts';

const CERTAIN_LIGHT_ICE: TestCell = { ...LIGHT_ICE, icingProbability: 1, cloudProbability: 1 };

/** Invented, so that the arithmetic of the arguments holds. */
const BRISK_TWIN = {
  trueAirspeedKt: [
    { pressureAltitudeFt: 5000, value: 200 },
    { pressureAltitudeFt: 15_000, value: 220 },
  ],
  climbRateFtPerMin: [
    { pressureAltitudeFt: 0, value: 1500 },
    { pressureAltitudeFt: 20_000, value: 700 },
  ],
  descentRateFtPerMin: 1000,
  climbTrueAirspeedKt: 150,
  descentTrueAirspeedKt: 190,
  ceilingFt: 25_000,
};

/** Invented as well. */
const SLOW_TWIN = {
  trueAirspeedKt: [
    { pressureAltitudeFt: 5000, value: 170 },
    { pressureAltitudeFt: 15_000, value: 180 },
  ],
  climbRateFtPerMin: [
    { pressureAltitudeFt: 0, value: 1200 },
    { pressureAltitudeFt: 10_000, value: 600 },
    { pressureAltitudeFt: 15_000, value: 300 },
  ],
  descentRateFtPerMin: 700,
  climbTrueAirspeedKt: 115,
  descentTrueAirspeedKt: 160,
  ceilingFt: 18_000,
};

export const AEROPLANE_SITUATIONS: readonly Situation[] = [
  {
    title:
      'At a destination 5,500 ft high the hold and the approach lie in the deck, and the fluid for them is not on board.',
    argument:
      'Light ice 7,500-12,500 ft over the second half, nothing before. The destination lies at 5,500 ft: approach at 8,500 ft, hold at 10,500 ft, ' +
      'both in the deck. From any altitude above, 5,000 ft down are 7.1 min; descent early, vectors, approach and missed approach 25 min, hold 30 min: ' +
      '62 min at 0.45 L are 28 L, priming 4 L, reserve 13.5 L: 45.5 L. On board are 35 L: 10.5 L short, and 18 L short at 8,000-12,000 ft, ' +
      'where the cruise adds 18-25 min. 35 L is above the dispatch minimum, so it is the leg that wants more. ' +
      'Who puts hold and approach at 5,000 and 3,000 ft above the sea finds 21 L and goes. Fill up first.',
    lengthNm: 150,
    destinationElevationFt: 5500,
    minimumAltitudes: [
      { fromNm: 0, toNm: 60, altitudeFt: 3000 },
      { fromNm: 60, toNm: 150, altitudeFt: 8000 },
    ],
    air: layer(7500, 12_500, CERTAIN_LIGHT_ICE, [15, 1e9]),
    fluidOnBoardL: 35,
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['fluid-short'],
      notReasons: [
        'fluid-below-dispatch-minimum',
        'large-drops',
        'severe-icing',
        'not-certified',
        'no-ice-found',
      ],
      refusedFt: [9000, 11_000, 13_000, 15_000, 17_000],
    },
  },
  {
    title:
      'A twin with boots goes over a thin deck, hears nothing of fluid, and does not care for unknown air far above.',
    argument:
      'Light ice 5,500-9,500 ft, minimum 6,000 ft; above 15,500 ft nothing is known. At 13,000 ft it is 3,500 ft over the top and 2,500 ft under the unknown: ' +
      '4,000 ft at about 1,060 ft/min with separators and a little ice are 3.8 min up, 4 min down at 1,000 ft/min, 2.3 mm, 57 min under way. ' +
      'The way out from the climb is up, all of it in known air; hold and approach are under the base. In the deck at 7,000-9,000 ft it is 51 min and 15 mm. ' +
      '16,000 ft and higher would be filed into air that nobody knows. Boots use no fluid: that none is given means nothing.',
    minimumAltitudes: minimumAllAlong(186, 6000),
    aircraftId: 'generic-boots-twin',
    aircraftChange: BRISK_TWIN,
    air: stacked(layer(5500, 9500, LIGHT_ICE), layer(15_500, 30_000, UNKNOWN)),
    fluidOnBoardL: null,
    expected: {
      verdict: 'within-limits',
      fileFt: [11_000, 15_000],
      reasons: ['icing'],
      notReasons: [
        'fluid-not-given',
        'fluid-short',
        'fluid-below-dispatch-minimum',
        'fluid-short-if-unknown-air-is-moist',
        'unknown-air',
        'not-certified',
      ],
      refusedFt: [16_000, 18_000, 20_000],
      acceptableFt: [13_000],
    },
  },
  {
    title: 'A certified piston twin stays under freezing drizzle aloft, although a fair wind blows over it.',
    argument:
      'Freezing drizzle with moderate ice 8,500-11,500 ft all along; it dries out below, and the air under 8,500 ft is dry. Wind on the nose 10 kt up to 5,500 ft, ' +
      '30 kt from there to the drizzle, 40 kt from behind over it. Over it at 13,000 ft I would be 68 min under way against 71 at 3,000-5,000 ft, but the climb crosses 3,000 ft of drizzle ' +
      'in 6 min and the descent again in 4.3 min; the certificate covers none of it. Every altitude from 9,000 ft up is out. At 3,000-7,000 ft there is ' +
      'no ice, 1,500 ft or more between me and it, and hold and approach are in the dry air too.',
    aircraftId: 'generic-piston-twin',
    aircraftChange: SLOW_TWIN,
    air: stacked(
      layer(8500, 11_500, { ...MODERATE_ICE, largeDrops: 1 }),
      tailwind(0, 5500, -10),
      tailwind(5500, 11_500, -30),
      tailwind(11_500, 30_000, 40),
    ),
    expected: {
      verdict: 'no-ice-found',
      fileFt: [3000, 7000],
      notReasons: ['large-drops', 'large-drops-where-planned', 'icing', 'not-certified', 'unknown-air'],
      refusedFt: [9000, 10_000, 11_000, 13_000, 15_000],
      acceptableFt: [5000],
    },
  },
  {
    title:
      'Carrying ice left from before, the ceiling with ice holds, and the jet over it is not for this flight.',
    argument:
      'Light ice 3,500-6,500 ft, minimum 5,000 ft, 300 NM; 40 kt from behind above 15,500 ft, 110 kt above 20,500 ft. 4 mm have stayed on the unprotected parts ' +
      'and will not go in air of -10 degC; the climb adds 1.4 mm, so the ceiling with ice, 20,000 ft, is mine, not the clean 25,000 ft. 22,000 ft would take 95 min ' +
      'against 101 at 17,000 ft and is refused. At 17,000 ft: climb 12 % and more weaker, 28 min; ice 4.7 min up, 4.3 min down, airspeed 5-6 % less, ' +
      'about 174 of 184 kt, near 131 kt indicated, 11 kt over the icing minimum. 9,000 ft is as good in ice and 11 min slower. Fluid: 9 min and a hold of 10 min ' +
      'at 5,000 ft are 8.5 L, with 17.5 L it is 26 of 80 L. So it would fly; but 14 CFR 135.227(a) lets nobody take off with ice on the wing.',
    lengthNm: 300,
    minimumAltitudes: minimumAllAlong(300, 5000),
    air: stacked(layer(3500, 6500, LIGHT_ICE), tailwind(15_500, 20_500, 40), tailwind(20_500, 30_000, 110)),
    holdMinutes: 10,
    residualIceMm: 4,
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['ice-at-lift-off', 'icing'],
      notReasons: ['iced-ceiling', 'icing-speed-not-held', 'fluid-short', 'no-way-out', 'no-ice-found'],
      refusedFt: [9000, 17_000, 22_000, 23_000, 24_000, 25_000],
    },
  },
  {
    title: 'An unprotected single with a dry cruise and ice only at the far end does not go.',
    argument:
      'Nothing but dry air for 125 NM, then light ice 1,500-6,500 ft to the end. No altitude gets round it: from above, 5,000 ft of descent at some 600-700 ft/min ' +
      'are 7-8 min and 2 mm; at 3,000-5,000 ft another 45-50 NM, some 20 min; hold (5,000 ft) and approach (3,000 ft) are 55 min inside it. ' +
      'The aeroplane is not certified for any of it. Its tank of fluid is not missing, it has none: that must not be the reason.',
    aircraftId: 'generic-unprotected-single',
    air: layer(1500, 6500, LIGHT_ICE, [26, 1e9]),
    fluidOnBoardL: null,
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['not-certified'],
      notReasons: ['fluid-not-given', 'fluid-short', 'no-ice-found', 'unknown-air', 'large-drops'],
      refusedFt: [3000, 5000, 7000, 9000],
    },
  },
];
