/** What the answer says of how it was made, and the cautions that go with every one. */

import { PROBABILITY_STEPS } from './bands.ts';
import { GRID_TOLERANCE_MS } from './grid-hours.ts';
import { SOUNDING_REACH_M, SOUNDING_REACH_MS } from './weights.ts';

/** Grows with every change that can alter an answer for the same request and data. */
export const METHOD_VERSION = '0.1.0';

export const CAUTIONS: readonly string[] = [
  'Advice only. The pilot in command, the flight manual, the operator’s manual and the official briefing decide.',
  'Missing data is shown as unknown. Unknown is not free of ice.',
  'Freezing drizzle that forms without a warm layer is not judged: the droplet number is assumed continental.',
  'Ground treatment and holdover are not assessed here.',
  'Low, middle and high come from fixed probability steps, not from a full error model.',
];

/** Settings that shape an answer, for whoever checks it. */
export function methodSettings(): Record<string, number | string> {
  return {
    soundingReachKm: SOUNDING_REACH_M / 1000,
    soundingReachH: SOUNDING_REACH_MS / 3_600_000,
    gridToleranceH: GRID_TOLERANCE_MS / 3_600_000,
    probabilitySteps: PROBABILITY_STEPS.join(' '),
  };
}
