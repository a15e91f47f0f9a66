/** Sums along a flight path in each of the draws. */
import { INTENSITY, type IntensityWord } from '../science/columns.ts';
import { type DrawnIcing, intensityOfMark, MARK } from '../science/drawn-icing.ts';
import { thicknessRateMps } from '../science/growth.ts';
import { mpsFromInPerH } from '../science/units.ts';
import { spreadOfDraws } from './estimates.ts';
import type { Exposure, Spread } from './types.ts';

/** From this growth on fluid flows at the high setting: the lower end of moderate icing, AIM 7-1-19. */
const HIGH_FLOW_GROWTH_MPS = mpsFromInPerH(1);

/** Of one part of a flight; each array has one entry a draw. */
export interface PartSums {
  readonly icingS: Float64Array;
  /** Visible moisture below 0 degC, ice included. */
  readonly moistS: Float64Array;
  readonly highFlowS: Float64Array;
  readonly builtM: Float64Array;
}

/** Over all parts together. */
export interface WorstSums {
  /** By INTENSITY code: time at that intensity or worse; the first stands for none and is not used. */
  readonly atLeastS: readonly Float64Array[];
  /** Supercooled large drops. */
  readonly largeDropS: Float64Array;
}

export function makePartSums(drawCount: number): PartSums {
  const sums = () => new Float64Array(drawCount);
  return { icingS: sums(), moistS: sums(), highFlowS: sums(), builtM: sums() };
}

export function makeWorstSums(drawCount: number): WorstSums {
  const sums = () => new Float64Array(drawCount);
  return { atLeastS: Object.values(INTENSITY).map(sums), largeDropS: sums() };
}

/** Adds some time in a known cell to every draw. */
export function addDraws(
  { part, worst }: { readonly part: PartSums; readonly worst: WorstSums },
  drawn: DrawnIcing,
  { durationS, index }: { readonly durationS: number; readonly index: number },
): void {
  const first = index * drawn.drawCount;
  for (let draw = 0; draw < drawn.drawCount; draw += 1) {
    const mark = drawn.marks[first + draw]!;
    if (mark === 0) continue;
    if ((mark & MARK.moist) !== 0) part.moistS[draw]! += durationS;
    if ((mark & MARK.ice) === 0) continue;
    if ((mark & MARK.largeDrops) !== 0) worst.largeDropS[draw]! += durationS;
    const intensity = intensityOfMark(mark);
    part.icingS[draw]! += durationS;
    for (let code = INTENSITY.trace; code <= intensity; code += 1) worst.atLeastS[code]![draw]! += durationS;
    part.builtM[draw]! += drawn.growthMps[first + draw]! * durationS;
    if (needsHighFlow(intensity, drawn.catchKgPerM2S[first + draw]!)) part.highFlowS[draw]! += durationS;
  }
}

/** The fluid must cope with the water caught, also where little of it freezes. */
export function needsHighFlow(intensity: number, caughtKgPerM2S: number): boolean {
  return intensity >= INTENSITY.moderate || thicknessRateMps(caughtKgPerM2S, 1) >= HIGH_FLOW_GROWTH_MPS;
}

/** Draw by draw. */
export function summedDraws(sums: readonly Float64Array[]): Float64Array {
  return sums[0]!.map((_, draw) => sums.reduce((sum, each) => sum + each[draw]!, 0));
}

/** Draw by draw. */
export function summedParts(parts: readonly PartSums[]): PartSums {
  const total = makePartSums(parts[0]!.icingS.length);
  for (const part of parts) {
    for (const key of ['icingS', 'moistS', 'highFlowS', 'builtM'] as const) {
      const [into, from] = [total[key], part[key]];
      for (let draw = 0; draw < into.length; draw += 1) into[draw]! += from[draw]!;
    }
  }
  return total;
}

/** Time at each intensity or worse. */
export function intensitySpreads({ atLeastS }: WorstSums): Exposure['intensityS'] {
  const at = (word: Exclude<IntensityWord, 'none'>): Spread => spreadOfDraws(atLeastS[INTENSITY[word]]!);
  return { trace: at('trace'), light: at('light'), moderate: at('moderate'), severe: at('severe') };
}
