/** Shapes of a candidate as the choice handles it, and of what is the same for all of them. */
import type { EnvelopeWindows } from '../science/envelope-windows.ts';
import type { CellFacts } from './cell-facts.ts';
import type { FlightPath } from './flight-path.ts';
import type { PlannedFlown } from './planned.ts';
import type {
  ChooseInput,
  Direction,
  Exposure,
  FlightReason,
  FluidNeed,
  ProfileLevel,
  Standing,
  Verdict,
  WaysOut,
  WindAt,
} from './types.ts';

export type Path = Extract<FlightPath, { kind: 'path' }>;

export interface CandidateAltitude {
  /** Indicated, m; the highest of a stepped profile. */
  readonly indicatedAltitudeM: number;
  readonly pressureAltitudeM: number;
  readonly levels: readonly ProfileLevel[];
  readonly direction: Direction;
  /** undefined when it could not be worked out. */
  readonly path: Path | undefined;
}

export interface FlownCandidate extends CandidateAltitude {
  readonly kind: 'flown';
  readonly path: Path;
  readonly exposure: Exposure;
  readonly fluid: FluidNeed | undefined;
  readonly waysOut: WaysOut;
  /** Time with the inlet separator on, s. */
  readonly separatorS: number;
  readonly verdict: Verdict;
  /** How many rules put it outside limits. */
  readonly limitsBroken: number;
  readonly verdictReasons: readonly FlightReason[];
  /** Lower than what keeps the minima of the leg in the cold. */
  readonly isUnderColdMinimum: boolean;
}

/** An altitude that cannot be flown, or whose flight cannot be worked out. */
export interface RefusedCandidate extends CandidateAltitude {
  readonly kind: 'refused';
  readonly standing: Exclude<Standing, 'recommended' | 'acceptable' | 'outside-limits'>;
  readonly reason: FlightReason;
}

export type TriedCandidate = FlownCandidate | RefusedCandidate;

/** What is the same for every candidate of a choice. */
export interface ChoiceContext {
  readonly input: ChooseInput;
  readonly facts: CellFacts;
  readonly windAt: WindAt;
  readonly windows: EnvelopeWindows;
  readonly planned: PlannedFlown;
  readonly directionOf: (indicatedAltitudeM: number) => Direction;
  /** See coldMinimumM of cold-altitude.ts. */
  readonly coldMinimumM: number;
  readonly departureM: number;
  readonly destinationM: number;
}
