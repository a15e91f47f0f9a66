/** What a verdict is made of, and what its rules ask of it more than once. */
import type { Hazard } from './hazards.ts';
import type { Aircraft, Exposure, FluidNeed, WaysOut } from './types.ts';

export interface VerdictFacts {
  readonly exposure: Exposure;
  readonly aircraft: Aircraft;
  /** undefined without a fluid system. */
  readonly fluid: FluidNeed | undefined;
  readonly waysOut: WaysOut;
  /** Reports and warnings that the path leads through. */
  readonly hazards: readonly { readonly hazard: Hazard; readonly metS: number }[];
}

/** Unknown time shorter than this is dust of the arithmetic, s. */
export const UNKNOWN_TOLERANCE_S = 1e-3;

/** The hazards met of some severities. */
export function reportedOf(
  { hazards }: VerdictFacts,
  severities: readonly Hazard['severity'][],
): VerdictFacts['hazards'] {
  return hazards.filter(({ hazard }) => severities.includes(hazard.severity));
}
