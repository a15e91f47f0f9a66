/** Golden situations: what the aeroplane may and can do. */
import { LIGHT_ICE, layer, MODERATE_ICE } from '../make-curtain.ts';
import { cooling, RAGGED_EDGE, SEVERE_ICE, stacked } from './golden-air.ts';
import type { Situation } from './situation.ts';

export const GOLDEN_LIMITS: readonly Situation[] = [
  {
    title: 'Severe ice from the ground up and tops above the iced ceiling leave no altitude and no way out',
    argument:
      'Severe from the ground to 16,000 ft, light above it to 24,000: on top would be 25,500 ft, the ceiling is 25,000 clean ' +
      'and 20,000 with ice. 16,000 ft is 24 min away at the full climb rate, and at 1.6 mm/min the 33 mm that take all of the ' +
      'climb rate (3 % a mm) are there after 21. No air below is free of it down to the ground, none behind either. ' +
      'Severe on the path is outside the limits at once, and this has neither up, nor down, nor back.',
    air: stacked(
      layer(0, 24000, { ...LIGHT_ICE, cloudProbability: 1 }),
      layer(0, 16000, SEVERE_ICE),
      cooling(-1, 1.3, 24000),
    ),
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['severe-icing', 'no-way-out'],
      notReasons: ['no-ice-found'],
      refusedFt: [3000, 5000, 9000, 13000, 17000, 19000, 21000, 24000],
    },
  },
  {
    title: 'An aeroplane that may not enter ice stays below the layer when the minimum lets it',
    argument:
      'Light ice from 6,500 to 11,000 ft, its base ragged down to 5,500; the minimum is 3,000. Three altitudes lie ' +
      'below: 5,000 ft 500 under the ragged base, 4,000 and 3,000 further. 6,000 ft is in the rags, 3 cases of 10, and this ' +
      'aeroplane may not have one. Over the top, 12,500 to 14,000 ft, there would be room under the ceiling, but 5,500 ft of ' +
      'ice lie on the way up, 8 min at 700 ft/min without any protection. Hold and approach, 5,000 and 3,000 ft, are below too. ' +
      'No tank of fluid, so none is missed.',
    aircraftId: 'generic-unprotected-single',
    fluidOnBoardL: null,
    air: stacked(
      layer(5500, 6500, { ...RAGGED_EDGE, temperatureC: -5 }),
      layer(6500, 11000, { ...LIGHT_ICE, temperatureC: -9 }),
    ),
    expected: {
      verdict: 'no-ice-found',
      fileFt: [3000, 5000],
      isStepped: false,
      notReasons: ['not-certified', 'icing', 'ice-not-excluded', 'fluid-not-given', 'fluid-short'],
      refusedFt: [7000, 8000, 9000, 10000, 13000],
      acceptableFt: [3000, 4000, 5000],
    },
  },
  {
    title: 'An aeroplane that may not enter ice has no altitude in ice from 1,000 to 16,000 ft',
    argument:
      'Light ice from 1,000 to 16,000 ft all along. The minimum is 3,000 ft, 2,000 above the base, and the ceiling 14,000, ' +
      '2,000 below the tops: every altitude lies in it, an hour of it at 0.3 mm/min being 18 mm. Light is light for those ' +
      'who have protection; for this one any known ice is one too much. Wait, or take another aeroplane.',
    aircraftId: 'generic-unprotected-single',
    fluidOnBoardL: null,
    air: layer(1000, 16000, { ...LIGHT_ICE, temperatureC: -8 }),
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['not-certified'],
      notReasons: ['no-ice-found', 'fluid-not-given', 'fluid-short', 'severe-icing'],
      refusedFt: [3000, 5000, 7000, 9000, 11000, 13000],
    },
  },
  {
    title: 'Ice left on the struts at departure takes away the one altitude over the ridge',
    argument:
      'Over the ridge, 110 to 200 NM, severe ice from 5,000 to 15,000 ft and moderate to 20,500; minimum 9,600 ft. Dry before ' +
      'and after. Clean, the aeroplane is at 22,000 ft after 35 min and 70 NM, 1,500 above the tops and under its 25,000. ' +
      'With 5 mm left on gear legs and struts (wing, tail and propeller are clean, else there is no leg to brief) it is ' +
      'an iced aeroplane from the start: 15 % less climb, and a ceiling of 20,000 ft, which lies in the moderate ice: ' +
      '90 NM there are 30 min and 18 mm on top of the 5, some 100 kt indicated. Below is severe, lower still the ridge. ' +
      'Have the struts treated and it is a leg; as it stands it is none.',
    lengthNm: 350,
    residualIceMm: 5,
    air: stacked(
      layer(5000, 15000, { ...SEVERE_ICE, temperatureC: -12 }, [22, 40]),
      layer(15000, 20500, { ...MODERATE_ICE, temperatureC: -25 }, [22, 40]),
    ),
    minimumAltitudes: [
      { fromNm: 0, toNm: 108, altitudeFt: 3000 },
      { fromNm: 108, toNm: 202, altitudeFt: 9600 },
      { fromNm: 202, toNm: 350, altitudeFt: 3000 },
    ],
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      notReasons: ['no-ice-found', 'large-drops', 'fluid-below-dispatch-minimum'],
      refusedFt: [5000, 9000, 11000, 13000, 18000, 19000, 20000, 22000, 23000, 24000],
    },
  },
];
