/** Sums along a flight path in each of the draws. */
import { INTENSITY, type IntensityWord } from '../science/columns.ts';
import { type DrawnIcing, intensityOfMark, MARK } from '../science/drawn-icing.ts';
import { thicknessRateMps } from '../science/growth.ts';
import { mpsFromInPerH } from '../science/units.ts';
import { spreadOfDraws } from './estimates.ts';
import type { PathStep } from './flight-path.ts';
import type { Exposure, FlightPhase, Spread } from './types.ts';

/** From this growth on fluid flows at the high setting: the lower end of moderate icing, AIM 7-1-19. */
const HIGH_FLOW_GROWTH_MPS = mpsFromInPerH(1);

/** Each array has one entry a draw. */
export interface DrawSums {
  readonly icingS: Float64Array;
  readonly icingByPhaseS: Readonly<Record<FlightPhase, Float64Array>>;
  /** By INTENSITY code: time at that intensity or worse; the first stands for none and is not used. */
  readonly atLeastS: readonly Float64Array[];
  /** Visible moisture below 0 degC, ice included. */
  readonly moistS: Float64Array;
  readonly highFlowS: Float64Array;
  /** Supercooled large drops. */
  readonly largeDropS: Float64Array;
  readonly builtM: Float64Array;
  readonly caughtKgPerM2: Float64Array;
}

export function makeDrawSums(drawCount: number): DrawSums {
  const sums = () => new Float64Array(drawCount);
  return {
    icingS: sums(),
    icingByPhaseS: { climb: sums(), cruise: sums(), descent: sums() },
    atLeastS: Object.values(INTENSITY).map(sums),
    moistS: sums(),
    highFlowS: sums(),
    largeDropS: sums(),
    builtM: sums(),
    caughtKgPerM2: sums(),
  };
}

/** Adds a step through a known cell to every draw. */
export function addDraws(
  sums: DrawSums,
  drawn: DrawnIcing,
  { step, index }: { readonly step: PathStep; readonly index: number },
): void {
  const { durationS } = step;
  const byPhaseS = sums.icingByPhaseS[step.phase];
  const first = index * drawn.drawCount;
  for (let draw = 0; draw < drawn.drawCount; draw += 1) {
    const mark = drawn.marks[first + draw]!;
    if ((mark & MARK.moist) !== 0) sums.moistS[draw]! += durationS;
    if ((mark & MARK.ice) === 0) continue;
    if ((mark & MARK.largeDrops) !== 0) sums.largeDropS[draw]! += durationS;
    const intensity = intensityOfMark(mark);
    const caught = drawn.catchKgPerM2S[first + draw]!;
    sums.icingS[draw]! += durationS;
    byPhaseS[draw]! += durationS;
    for (let code = INTENSITY.trace; code <= intensity; code += 1) sums.atLeastS[code]![draw]! += durationS;
    sums.builtM[draw]! += drawn.growthMps[first + draw]! * durationS;
    sums.caughtKgPerM2[draw]! += caught * durationS;
    if (needsHighFlow(intensity, caught)) sums.highFlowS[draw]! += durationS;
  }
}

/** The fluid must cope with the water caught, also where little of it freezes. */
function needsHighFlow(intensity: number, caught: number): boolean {
  return intensity >= INTENSITY.moderate || thicknessRateMps(caught, 1) >= HIGH_FLOW_GROWTH_MPS;
}

/** Time at each intensity or worse. */
export function intensitySpreads({ atLeastS }: DrawSums): Exposure['intensityS'] {
  const at = (word: Exclude<IntensityWord, 'none'>): Spread => spreadOfDraws(atLeastS[INTENSITY[word]]!);
  return { trace: at('trace'), light: at('light'), moderate: at('moderate'), severe: at('severe') };
}

/** The high estimate of icing time of each phase by itself. */
export function phaseHighs({ icingByPhaseS }: DrawSums): Exposure['icingHighByPhaseS'] {
  const high = (phase: FlightPhase) => spreadOfDraws(icingByPhaseS[phase]).high;
  return { climb: high('climb'), cruise: high('cruise'), descent: high('descent') };
}
