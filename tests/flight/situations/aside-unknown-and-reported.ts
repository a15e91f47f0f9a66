/** Kept aside: air that nobody knows, and what was reported or forecast against a dry model. */
import { DRY, LIGHT_ICE, layer, UNKNOWN } from '../make-curtain.ts';
import { minimumAllAlong, stacked } from './aside-air.ts';
import type { Situation } from './situation.ts';

export const UNKNOWN_AND_REPORTED_SITUATIONS: readonly Situation[] = [
  {
    title:
      'A dry cruise does not count when the air under it at the destination is unknown and the fluid would not cover it.',
    argument:
      'All is dry and known but the last 40 NM below 6,500 ft, where nothing is known. Every altitude comes down through it: from 6,500 ft 9.3 min, ' +
      'at 3,000-5,000 ft 15 min, and hold (5,000 ft) and approach (3,000 ft) lie in it, 55 min. Were it moist, 64 min at 0.45 L are 29 L, ' +
      'priming 4 L, reserve 13.5 L: 46 L against 30 L on board, 16 L short. 30 L is 5 L above the dispatch minimum, so that is not the trouble. ' +
      'Nothing says it is ice and nothing says it is not: I wait for the missing data and file nothing.',
    air: layer(0, 6500, UNKNOWN, [30, 1e9]),
    fluidOnBoardL: 30,
    expected: {
      verdict: 'unknown',
      fileFt: 'none',
      reasons: ['unknown-air', 'fluid-short-if-unknown-air-is-moist'],
      notReasons: ['no-ice-found', 'fluid-below-dispatch-minimum', 'fluid-short', 'not-certified'],
      refusedFt: [3000, 5000, 7000, 9000, 11_000, 15_000],
    },
  },
  {
    title:
      'Where the air on top of the deck is unknown for a stretch, on top means over the unknown air as well.',
    argument:
      'Light ice 5,500-10,500 ft all along, minimum 6,000 ft. From about 57 to 110 NM nothing is known 10,500-13,500 ft, so there the top of the deck ' +
      'is not known either: 11,000-13,000 ft would be 18 min in unknown air. In the deck at 8,000 ft it is an hour of ice, and for those 53 NM, 18 min, ' +
      'I cannot say that up is a way out; down is barred by the minimum. At 15,000 ft I am level by 42 NM, 1,500 ft over the unknown, and start down at ' +
      '127 NM, past it. Ice 7.4 min up and 7.1 min down, 4.4 mm; fluid 6.5 L and 17.5 L: 24 of 80 L, hold and approach under the base. ' +
      'What is below me in that stretch I do not know, and in a single I want that said.',
    minimumAltitudes: minimumAllAlong(186, 6000),
    air: stacked(layer(5500, 10_500, LIGHT_ICE), layer(10_500, 13_500, UNKNOWN, [12, 22])),
    expected: {
      verdict: 'within-limits',
      fileFt: [14_000, 18_000],
      reasons: ['icing', 'air-below-unknown'],
      notReasons: ['unknown-air', 'fluid-short', 'no-way-out', 'no-ice-found'],
      refusedFt: [8000, 11_000, 12_000, 13_000],
      acceptableFt: [15_000, 16_000],
    },
  },
  {
    title: 'On a short leg under reported moderate ice that the model does not have, stay under the report.',
    argument:
      '55 NM, model dry. A pilot had moderate ice 6,500-9,500 ft all along. Getting over it is out of reach: 11,000 ft takes 27 NM up and 43 NM down, ' +
      '10,000 ft 26 and 39 NM. 7,000 and 8,000 ft could be reached, but only to fly in it for about 6 min, and a report outweighs a dry model. ' +
      'At 3,000-5,000 ft I am 1,500-3,500 ft under it, level 11 to 36 NM, 21 min under way, and the hold at 5,000 ft and the approach are under it as well. ' +
      'No fluid needed on that path.',
    lengthNm: 55,
    air: DRY,
    hazards: [
      {
        kind: 'pilot-report',
        severity: 'moderate',
        sentence: 'A pilot reported moderate rime between 6,500 and 9,500 ft half an hour ago.',
        fromNm: 0,
        toNm: 55,
        lowerFt: 6500,
        upperFt: 9500,
      },
    ],
    expected: {
      verdict: 'no-ice-found',
      fileFt: [3000, 5000],
      isStepped: false,
      notReasons: [
        'large-drops',
        'reported-large-drops',
        'reported-severe-icing',
        'fluid-short',
        'unknown-air',
      ],
      refusedFt: [12_000, 16_000, 20_000],
      acceptableFt: [4000],
    },
  },
  {
    title:
      'Freezing rain in the forecast for the destination refuses a leg that the model has dry at every altitude.',
    argument:
      'The model has no moisture anywhere, so each altitude looks the same. The aerodrome forecast has freezing rain for the time of arrival, ' +
      'the last 25 NM. Early descent, vectors, approach and missed approach, 25 min at 3,000 ft, and the hold of 30 min at 5,000 ft are flown there: ' +
      'no wing protection is certified for it and no cruising altitude avoids it. 80 L of fluid do not change that. Another time or another destination.',
    air: DRY,
    hazards: [
      {
        kind: 'surface-forecast',
        severity: 'large-drops',
        sentence: 'The forecast for the destination has freezing rain at the time of arrival.',
        fromNm: 161,
        toNm: 186,
      },
    ],
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      notReasons: ['no-ice-found', 'fluid-short', 'not-certified', 'unknown-air'],
      refusedFt: [3000, 5000, 9000, 13_000, 17_000],
    },
  },
];
