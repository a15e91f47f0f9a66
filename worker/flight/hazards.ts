/** What is reported or warned of along a leg. It raises a verdict whatever the model says, and never lowers one. */
import { mFromFt } from '../science/units.ts';

/** Some time over a route point at an altitude, as every step of a path is. */
interface Passage {
  readonly pointIndex: number;
  readonly pressureAltitudeM: number;
  readonly durationS: number;
}

export interface Hazard {
  readonly id: string;
  readonly kind: 'warning' | 'surface-report' | 'surface-forecast' | 'pilot-report';
  /** large-drops: freezing rain, freezing drizzle or ice pellets. */
  readonly severity: 'unstated' | 'moderate' | 'severe' | 'large-drops';
  readonly sentence: string;
  readonly validFromMs: number;
  readonly validToMs: number;
  readonly issuedMs: number;
  /** Route points where it holds, first and last. */
  readonly firstPoint: number;
  readonly lastPoint: number;
  /** Pressure altitudes it spans, m; -Infinity and Infinity where not stated. */
  readonly lowerM: number;
  readonly upperM: number;
}

/** Altitudes so near to a hazard's edge are in it (judgement), m. */
const MARGIN_M = mFromFt(500);

/** The hazards that steps lead through, and for how long, s; in the order given. */
export function hazardsMet(
  steps: readonly Passage[],
  hazards: readonly Hazard[],
): readonly { readonly hazard: Hazard; readonly metS: number }[] {
  return hazards
    .map((hazard) => ({ hazard, metS: steps.reduce((sumS, step) => sumS + metS(step, hazard), 0) }))
    .filter(({ metS: timeS }) => timeS > 0);
}

function metS({ pointIndex, pressureAltitudeM, durationS }: Passage, hazard: Hazard): number {
  const isOver = pointIndex >= hazard.firstPoint && pointIndex <= hazard.lastPoint;
  const isWithin =
    pressureAltitudeM >= hazard.lowerM - MARGIN_M && pressureAltitudeM <= hazard.upperM + MARGIN_M;
  return isOver && isWithin ? durationS : 0;
}
