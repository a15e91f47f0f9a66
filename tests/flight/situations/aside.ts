/** Situations that the rules are judged by once they stand; whoever writes the rules does not read them. */
import { AEROPLANE_SITUATIONS } from './aside-aeroplanes.ts';
import { LAYER_SITUATIONS } from './aside-layers.ts';
import { UNKNOWN_AND_REPORTED_SITUATIONS } from './aside-unknown-and-reported.ts';
import type { Situation } from './situation.ts';

export const ASIDE: readonly Situation[] = [
  ...LAYER_SITUATIONS,
  ...UNKNOWN_AND_REPORTED_SITUATIONS,
  ...AEROPLANE_SITUATIONS,
];
