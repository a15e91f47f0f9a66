/** What the answer says of how it was made, and the cautions that go with every one. */

import { DRAW_COUNT } from '../science/draw-numbers.ts';
import { DROPLET_NUMBER_PER_M3 } from '../science/droplets.ts';
import { PROBABILITY_STEPS } from './bands.ts';
import { GRID_TOLERANCE_MS } from './grid-hours.ts';
import type { SettledOptions } from './settings.ts';
import { SOUNDING_REACH_M, SOUNDING_REACH_MS } from './weights.ts';

/** Grows with every change that can alter an answer for the same request and data. */
export const METHOD_VERSION = '0.7.0';

export const CAUTIONS: readonly string[] = [
  'Advice only. The pilot in command, the flight manual, the operator’s manual and the official briefing decide.',
  'Missing data is shown as unknown. Unknown is not free of ice.',
  'The chance of freezing drizzle without a warm layer rests on an assumed number of droplets.',
  'What stands on the ramp is judged by reports alone: look and feel.',
  'Low, middle and high: a tenth, half and nine tenths of 64 draws over assumed errors.',
];

/** Settings that shape an answer, for whoever checks it. */
export function methodSettings(options: Pick<SettledOptions, 'airMass'>): Record<string, number | string> {
  return {
    soundingReachKm: SOUNDING_REACH_M / 1000,
    soundingReachH: SOUNDING_REACH_MS / 3_600_000,
    gridToleranceH: GRID_TOLERANCE_MS / 3_600_000,
    draws: DRAW_COUNT,
    airMass: options.airMass,
    dropletsPerCm3: DROPLET_NUMBER_PER_M3[options.airMass] / 1e6,
    probabilitySteps: PROBABILITY_STEPS.join(' '),
  };
}
