/** Golden situations: what the fluid on board says whatever the altitude. */
import { LIGHT_ICE, layer } from '../make-curtain.ts';
import { SHALLOW_DECK } from './golden-decks.ts';
import type { Situation } from './situation.ts';

export const GOLDEN_FLUID: readonly Situation[] = [
  {
    title: 'The fluid that covers the leg is short because the hold lies in the deck',
    argument:
      'The shallow deck again, 2,500 to 6,000 ft, and 40 L. Priming 4, 10 min on the way 4.5, 25 min at 3,000 ft ' +
      '11.3, reserve 13.5: 33 L, 7 in hand. The planned hold, 30 min at 5,000 ft in the same deck, is another 13.5: ' +
      '47 L, 7 short. No cruise altitude changes that, the hold and the approach being the same for all. Take fluid, or have ' +
      'the hold agreed above 7,500 ft; with neither there is nothing to file.',
    air: SHALLOW_DECK,
    fluidOnBoardL: 40,
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['fluid-short'],
      notReasons: ['fluid-below-dispatch-minimum', 'severe-icing', 'large-drops'],
      refusedFt: [5000, 9000, 11000, 13000],
    },
  },
  {
    title: 'Fluid below the dispatch minimum stops the leg however little ice is forecast',
    argument:
      'A trace from 2,000 to 4,000 ft over the departure: 2.6 min in the climb, 0.1 mm. Priming 4, climb 1.2, reserve ' +
      '13.5: 19 L, and 24 are on board. It would do, yet the dispatch minimum for a leg with ice is 25 L: a limit is not ' +
      'argued with. Every altitude has the trace in its climb, so every altitude is refused; 1 L from the truck mends it.',
    air: layer(
      2000,
      4000,
      { icingProbability: 0.9, cloudProbability: 0.9, growthMmPerMin: 0.05, intensity: 1, temperatureC: -4 },
      [0, 6],
    ),
    fluidOnBoardL: 24,
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['fluid-below-dispatch-minimum'],
      notReasons: ['fluid-short', 'severe-icing'],
      refusedFt: [5000, 9000, 11000, 13000],
    },
  },
  {
    title: 'Ice on every altitude and fluid that nobody has told is unknown',
    argument:
      'Light ice from 2,000 to 6,500 ft, met by every altitude: 6 min up, 6 down, and hold and approach in it, 55 min. ' +
      'Needed: priming 4, on the way 5.6, planned 24.8, reserve 13.5, 48 L. Against what? A full tank would do and a ' +
      'half-full one would not. To assume the full one is to make a missing figure a good one. Ask, then choose.',
    air: layer(2000, 6500, { ...LIGHT_ICE, temperatureC: -6 }),
    fluidOnBoardL: null,
    expected: {
      verdict: 'unknown',
      fileFt: 'none',
      reasons: ['fluid-not-given'],
      notReasons: ['no-ice-found', 'fluid-short', 'severe-icing'],
      refusedFt: [5000, 9000, 11000, 13000],
    },
  },
];
