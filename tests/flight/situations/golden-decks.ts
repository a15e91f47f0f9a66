/** Golden situations: where the cloud lies, and which altitude that leaves. */
import { LIGHT_ICE, layer, MODERATE_ICE } from '../make-curtain.ts';
import { cooling, RAGGED_EDGE, SNOW_CLOUD, stacked } from './golden-air.ts';
import type { Situation } from './situation.ts';

/** Light ice from 2,500 to 6,000 ft all along, dry above. */
export const SHALLOW_DECK = layer(2500, 6000, { ...LIGHT_ICE, temperatureC: -6 });

export const GOLDEN_DECKS: readonly Situation[] = [
  {
    title: 'A shallow deck under dry air is climbed through and left well below',
    argument:
      'Light ice from 2,500 to 6,000 ft: 3,500 ft at some 750 ft/min with the separator on is 5 min up, at 700 ' +
      'ft/min 5 min down, 10 min and 3 mm in all, the same for every altitude above the deck. In the deck it is 60 ' +
      'min and 18 mm. On top means 7,500 ft or more: 9,000 suits the direction and costs no time against 7,000. ' +
      'Fluid: priming 4, on the way 10 min at 0.45 = 4.5, early descent, vectors, approach and missed approach ' +
      '25 min at 3,000 ft in the deck = 11.3, reserve 13.5: 33 of 40 L, no hold being planned.',
    air: SHALLOW_DECK,
    fluidOnBoardL: 40,
    holdMinutes: 0,
    expected: {
      verdict: 'within-limits',
      fileFt: [8000, 15000],
      isStepped: false,
      reasons: ['icing'],
      notReasons: ['fluid-short', 'severe-icing', 'large-drops', 'no-way-out'],
      acceptableFt: [9000, 11000, 13000],
    },
  },
  {
    title: 'A deep cloud of snow is flown in the middle, and uses fluid without ice',
    argument:
      'Snow cloud from 2,000 to 27,000 ft, above every altitude this aeroplane reaches: climbing out of it is not to be ' +
      'had. Drops are left only from 2,000 to 6,000 ft, in 4 cases of 10, growing 0.15 mm/min: 5 min up, 6 down, ' +
      '2 mm; cruising in that layer would be another 55 min. So 7,000 ft or more, and no reason to go high: 9,000 ' +
      'and 13,000 ft differ by a minute. The wing cannot tell snow cloud from wet cloud beforehand, so the panels run ' +
      'throughout: 64 min at 0.45 = 29, priming 4, 25 min at 3,000 ft and 30 min hold 24.8, reserve 13.5: 71 of 80 L.',
    air: stacked(
      layer(2000, 27000, SNOW_CLOUD),
      layer(2000, 6000, { icingProbability: 0.4, growthMmPerMin: 0.15, intensity: 2 }),
      cooling(-2, 1.7, 27000),
    ),
    expected: {
      verdict: 'within-limits',
      fileFt: [7000, 17000],
      notReasons: ['fluid-short', 'severe-icing', 'large-drops', 'no-way-out', 'no-ice-found'],
      acceptableFt: [9000, 11000, 13000],
    },
  },
  {
    title: 'A warm cloud costs the separator and no fluid at all',
    argument:
      'Cloud from 1,500 to 8,500 ft at +5 to +1 degC, freezing level 10,000 ft in dry air: nothing can freeze on the wing. ' +
      'No fluid is needed, so neither priming nor reserve counts against the 30 L on board. The separator is on at ' +
      '+5 degC or colder in cloud: 7,000 ft of cloud take 9.4 min instead of 8.5, and cruising at 7,000 ft in ' +
      'it, 50 min at 168 instead of 172 kt, costs another minute and 2 % fuel. On top, 9,000 or 11,000 ft, is a ' +
      'minute quicker; staying in it is no fault.',
    air: stacked(layer(1500, 8500, { cloudProbability: 1 }), cooling(6, 0.6, 10000), (_, middleFt) =>
      middleFt > 10000 ? { temperatureC: (-2 * (middleFt - 10000)) / 1000 } : {},
    ),
    fluidOnBoardL: 30,
    expected: {
      verdict: 'no-ice-found',
      fileFt: [3000, 15000],
      notReasons: ['icing', 'ice-not-excluded', 'fluid-short', 'fluid-below-dispatch-minimum', 'no-way-out'],
      acceptableFt: [5000, 7000, 9000, 11000],
    },
  },
  {
    title: 'Tops 500 ft below the obvious altitude in cold air ask for the next one',
    argument:
      'It is 17 degC colder than standard, 6 % of the height: tops that are 8,000 ft true stand at 8,500 ft on the altimeter. ' +
      'Who holds the true 8,000 against 9,000 believes to have 1,000 ft in hand and has 500, in moderate ice if the ' +
      'tops bulge. On top means 10,000 ft or more, and 11,000 suits the direction; it costs less than a minute. Both ' +
      'meet the deck, 5,500 to 8,500 ft, for 4 min up and 4 min down: 5 mm, fluid at the high rate 7.8 + 4 + 13.5 ' +
      '= 25 L. The minimum of 6,000 ft bars the air below the deck, and 50 min in it at 0.6 mm/min, 30 mm, ' +
      'leave 172 x 0.98 x 0.7 = 118 kt true, 106 indicated, where 120 must be held.',
    air: stacked(layer(5500, 8500, MODERATE_ICE), cooling(-3, 1.8, 8500)),
    minimumAltitudes: [
      { fromNm: 0, toNm: 30, altitudeFt: 3000 },
      { fromNm: 30, toNm: 150, altitudeFt: 6000 },
      { fromNm: 150, toNm: 186, altitudeFt: 3000 },
    ],
    expected: {
      verdict: 'within-limits',
      fileFt: [10000, 15000],
      isStepped: false,
      reasons: ['icing'],
      notReasons: ['fluid-short', 'close-under-the-tops', 'no-way-out'],
      refusedFt: [4000, 5000, 7000, 8000],
      acceptableFt: [11000, 13000],
    },
  },
  {
    title: 'A deck over the departure alone is met in the climb and not again',
    argument:
      'Light ice from 2,500 to 6,500 ft over the first 60 NM, dry beyond. Climbing through: 4,000 ft at 730 ft/min, ' +
      '5.5 min, 1.6 mm. Level in it at 5,000 ft: 3 min up and 18 min along, 6 mm. No altitude lies below ' +
      'it. So straight up and on top, 8,000 ft or more. The destination is dry, so hold and approach use nothing: ' +
      'priming 4, climb 2.5, reserve 13.5, 20 of 80 L. A step buys nothing after the climb.',
    air: layer(2500, 6500, { ...LIGHT_ICE, temperatureC: -7 }, [0, 12]),
    expected: {
      verdict: 'within-limits',
      fileFt: [8000, 15000],
      isStepped: false,
      reasons: ['icing'],
      notReasons: ['fluid-short', 'severe-icing', 'no-way-out'],
      acceptableFt: [9000, 11000, 13000],
    },
  },
  {
    title: 'A clear slot above the minimum and below moderate ice is taken',
    argument:
      'Moderate ice from 8,500 to 14,000 ft with a ragged base from 7,500; a low deck from 1,000 to 3,500 ft with light ice; ' +
      'between them 4,000 ft of dry air, the minimum being 4,400 ft. 5,000 ft is 1,500 above the low tops and ' +
      '2,500 below the ragged base, 7,000 ft 3,500 above and 500 below it: both right. The low deck costs 3 min up and 4 ' +
      'down, 2 mm. At 11,000 ft some 39 min at 1 mm/min leave 178 x 0.98 x 0.6 = 105 kt true, 90 indicated, where ' +
      '120 must be held. On top at 16,000 ft the deck is met for 12 min up and 8 down. Fluid in the slot: 7 min 3.1, ' +
      '25 min approach in the low deck 11.3, priming 4, reserve 13.5: 32 of 80 L; the hold at 5,000 ft is dry.',
    air: stacked(
      layer(1000, 3500, { ...LIGHT_ICE, temperatureC: -4 }),
      layer(7500, 8500, { ...RAGGED_EDGE, temperatureC: -8 }),
      layer(8500, 14000, { ...MODERATE_ICE, growthMmPerMin: 1, temperatureC: -12 }),
    ),
    minimumAltitudes: [
      { fromNm: 0, toNm: 30, altitudeFt: 3000 },
      { fromNm: 30, toNm: 150, altitudeFt: 4400 },
      { fromNm: 150, toNm: 186, altitudeFt: 3000 },
    ],
    expected: {
      verdict: 'within-limits',
      fileFt: [5000, 7000],
      isStepped: false,
      reasons: ['icing'],
      notReasons: ['fluid-short', 'icing-speed-not-held', 'severe-icing', 'no-way-out'],
      refusedFt: [4000, 10000, 11000, 12000],
      acceptableFt: [5000, 6000],
    },
  },
];
