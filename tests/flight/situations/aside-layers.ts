/** Kept aside: ice in layers that change with height and along the leg. */
import { type CellAt, LIGHT_ICE, layer, type TestCell } from '../make-curtain.ts';
import { minimumAllAlong, stacked, tailwind } from './aside-air.ts';
import type { Situation } from './situation.ts';

const HEAVY_MODERATE_ICE: TestCell = {
  icingProbability: 0.9,
  cloudProbability: 1,
  growthMmPerMin: 1,
  intensity: 3,
};

/** Base 3,500 ft; the top is 6,500 ft at the start and 1,000 ft higher every 5 points (24.5 NM), 13,500 ft at the end. */
const RISING_DECK: CellAt = (point, middleFt) => {
  const topFt = 6500 + 1000 * Math.floor(point / 5);
  return middleFt > 3500 && middleFt < topFt ? LIGHT_ICE : {};
};

const POSSIBLE_SEVERE_ICE: TestCell = {
  icingProbability: 0.2,
  cloudProbability: 0.3,
  growthMmPerMin: 2,
  intensity: 4,
};

const CERTAIN_THIN_ICE: TestCell = {
  icingProbability: 1,
  cloudProbability: 1,
  growthMmPerMin: 0.2,
  intensity: 2,
};

export const LAYER_SITUATIONS: readonly Situation[] = [
  {
    title: 'Between two decks the dry slot is the place, not the top of the upper one.',
    argument:
      'Light ice 3,500-6,500 ft, dry 6,500-11,500 ft, moderate ice of 1 mm/min 11,500-17,500 ft, 60 kt on the nose above that. ' +
      'At 9,000 ft I am 2,500 ft over the lower top and 2,500 ft under the upper base: 3,000 ft of ice going up at about 740 ft/min ' +
      'with the separator on is 4 min, going down 4.3 min, 2.5 mm in all. Fluid: 8.4 min and a hold of 30 min in the lower deck (5,000 ft) ' +
      'are 17 L, with 4 L priming and 13.5 L reserve 35 of 80 L. 7,000 ft is only 500 ft over the lower top. ' +
      '13,000-16,000 ft is about 58 min of moderate ice, 50 mm, half the airspeed gone: the icing speed cannot be held. ' +
      'For the top of the upper deck I would climb 14 min more in moderate ice and then fight 60 kt.',
    minimumAltitudes: minimumAllAlong(186, 5000),
    air: stacked(
      layer(3500, 6500, LIGHT_ICE),
      layer(11_500, 17_500, HEAVY_MODERATE_ICE),
      tailwind(17_500, 30_000, -60),
    ),
    expected: {
      verdict: 'within-limits',
      fileFt: [8000, 10_000],
      reasons: ['icing'],
      notReasons: ['severe-icing', 'large-drops', 'fluid-short', 'no-way-out', 'unknown-air', 'no-ice-found'],
      refusedFt: [13_000, 14_000, 15_000, 16_000],
      acceptableFt: [9000],
    },
  },
  {
    title:
      'Over a deck whose top rises along the leg, go high enough for its far end although the wind up there costs time.',
    argument:
      'Base 3,500 ft, top 6,500 ft at the start and 13,500 ft at the end; 40 kt on the nose above 9,500 ft. 9,000 ft is on top for 70 NM only, ' +
      'then in the deck: 29 min in the cruise, 41 min of ice in all, 70 min under way. 13,000-15,000 ft: 4 min of ice going up through 3,000 ft, ' +
      '11.4 min going down from about 11,500 ft, 15.6 min and 5 mm in all, 82 min under way. Twelve minutes more for 26 min less ice is a good trade. ' +
      'Fluid, 52 L on board: on top 15.6 min and the hold of 30 min at 5,000 ft, in the deck, are 20.5 L, and 17.5 L priming and reserve: 38 L. ' +
      'At 5,000 or 6,000 ft 66 min and the hold are 43 L and 17.5 L: 61 L, 9 L more than I have.',
    minimumAltitudes: minimumAllAlong(186, 5000),
    air: stacked(RISING_DECK, tailwind(9500, 30_000, -40)),
    fluidOnBoardL: 52,
    expected: {
      verdict: 'within-limits',
      fileFt: [12_000, 17_000],
      reasons: ['icing'],
      notReasons: ['fluid-short', 'fluid-below-dispatch-minimum', 'no-way-out', 'unknown-air'],
      refusedFt: [5000, 6000],
      acceptableFt: [15_000],
    },
  },
  {
    title:
      'With hills in the first half and ice in the second, step down behind the hills and go under the ice.',
    argument:
      'Minimum 7,000 ft between 25 and 70 NM, then 3,000 ft. Light ice 5,500-12,500 ft from 115 NM on. Any single altitude of 7,000-12,000 ft ' +
      'ends in it: 18-20 min. On top at 15,000 ft the descent still has 7,000 ft of it, 10 min and 3 mm, 22 L with priming and reserve; allowed, not best. ' +
      'Stepped: 9,000 ft is reached at 22 NM, level 20 min to 80 NM, down 4,000 ft in 5.7 min and 16 NM, at 5,000 ft by 96 NM, ' +
      'nearly 20 NM before the ice, then 70 NM or 25 min level 500 ft under its base: no ice at all, hold (5,000 ft) and approach (3,000 ft) under it too. ' +
      'Ten minutes less ice and a better verdict are worth one step. 30 kt on the nose above 9,500 ft speak against starting higher.',
    minimumAltitudes: [
      { fromNm: 0, toNm: 25, altitudeFt: 3000 },
      { fromNm: 25, toNm: 70, altitudeFt: 7000 },
      { fromNm: 70, toNm: 186, altitudeFt: 3000 },
    ],
    air: stacked(layer(5500, 12_500, LIGHT_ICE, [24, 1e9]), tailwind(9500, 30_000, -30)),
    expected: {
      verdict: 'no-ice-found',
      fileFt: [7000, 12_000],
      isStepped: true,
      notReasons: ['icing', 'fluid-short', 'no-way-out', 'unknown-air'],
      refusedFt: [4000, 5000],
      acceptableFt: [15_000],
    },
  },
  {
    title: 'Severe ice that two draws in ten have in the middle of the leg is passed above, not through.',
    argument:
      'Between about 66 and 120 NM, 5,500-10,500 ft, two draws in ten hold severe ice of 2 mm/min, the other eight none. The middle estimate at 7,000-9,000 ft ' +
      'is 0 min, but the high one is 54 NM or 19 min and more than 35 mm. One in five for severe ice is no altitude to file, and the minimum of 6,000 ft ' +
      'bars the way under it. At 13,000 ft I am level by 33 NM, before it begins, 2,500 ft over it, and start down at 135 NM, after it: ' +
      'no ice in any draw, 69 min. Hold and approach at the far end are in dry air.',
    minimumAltitudes: minimumAllAlong(186, 6000),
    air: layer(5500, 10_500, POSSIBLE_SEVERE_ICE, [14, 24]),
    expected: {
      verdict: 'no-ice-found',
      fileFt: [11_000, 16_000],
      notReasons: ['severe-icing', 'severe-icing-where-planned', 'icing', 'unknown-air', 'fluid-short'],
      refusedFt: [7000, 8000, 9000],
      acceptableFt: [13_000],
    },
  },
  {
    title: 'A part-filled tank is enough for the leg on top and not for the same leg in the deck.',
    argument:
      'Thin certain ice of 0.2 mm/min 3,500-8,500 ft, minimum 5,000 ft, 45 L on board (20 L above the dispatch minimum). ' +
      'On top at 11,000 ft: 5,000 ft up in 7 min, down in 7.1 min, hold of 30 min at 5,000 ft in the deck; approach at 3,000 ft is under the base. ' +
      '44 min at 0.45 L are 20 L, priming 4 L, reserve 13.5 L: 37.4 L, so 7.6 L are left. In the deck at 5,000-8,000 ft: 63 min and the hold, 93 min, ' +
      '42 L and 17.5 L are more than 59 L, 14 L short. 2.8 mm on the unprotected parts on top are nothing to speak of.',
    minimumAltitudes: minimumAllAlong(186, 5000),
    air: layer(3500, 8500, CERTAIN_THIN_ICE),
    fluidOnBoardL: 45,
    expected: {
      verdict: 'within-limits',
      fileFt: [10_000, 14_000],
      reasons: ['icing'],
      notReasons: ['fluid-short', 'fluid-below-dispatch-minimum', 'no-way-out', 'close-over-the-tops'],
      refusedFt: [5000, 6000, 7000, 8000],
      acceptableFt: [11_000],
    },
  },
];
