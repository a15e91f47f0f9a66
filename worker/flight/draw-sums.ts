/** Sums along a flight path in each of the draws. */
import { INTENSITY, type IntensityWord } from '../science/columns.ts';
import { type DrawnIcing, intensityOfMark, MARK } from '../science/drawn-icing.ts';
import { thicknessRateMps } from '../science/growth.ts';
import { mpsFromInPerH } from '../science/units.ts';
import { spreadOfDraws } from './estimates.ts';
import type { Exposure, Spread } from './types.ts';

/** From this growth on fluid flows at the high setting: the lower end of moderate icing, AIM 7-1-19. */
const HIGH_FLOW_GROWTH_MPS = mpsFromInPerH(1);

const INTENSITY_CODES = Object.keys(INTENSITY).length;

/** Of one part of a flight; each array has one entry a draw. */
export interface PartSums {
  readonly icingS: Float64Array;
  /** Visible moisture below 0 degC, ice included. */
  readonly moistS: Float64Array;
  readonly highFlowS: Float64Array;
  readonly builtM: Float64Array;
  /** Water caught on the wing, kg/m2. */
  readonly caughtKgPerM2: Float64Array;
}

/** Over all parts together. */
export interface WorstSums {
  /** [INTENSITY code][draw], flat: time at just that intensity. */
  readonly ofIntensityS: Float64Array;
  /** Supercooled large drops. */
  readonly largeDropS: Float64Array;
}

export function makePartSums(drawCount: number): PartSums {
  const sums = () => new Float64Array(drawCount);
  return { icingS: sums(), moistS: sums(), highFlowS: sums(), builtM: sums(), caughtKgPerM2: sums() };
}

export function makeWorstSums(drawCount: number): WorstSums {
  const sums = () => new Float64Array(drawCount);
  return { ofIntensityS: new Float64Array(INTENSITY_CODES * drawCount), largeDropS: sums() };
}

/** Adds some time in a known cell to every draw. The busiest loop of a choice: nothing is looked up twice in it. */
export function addDraws(
  { part, worst }: { readonly part: PartSums; readonly worst: WorstSums },
  { drawCount, marks, growthMps, catchKgPerM2S }: DrawnIcing,
  { durationS, index }: { readonly durationS: number; readonly index: number },
): void {
  const { moistS, icingS, builtM, highFlowS, caughtKgPerM2 } = part;
  const { ofIntensityS, largeDropS } = worst;
  const first = index * drawCount;
  for (let draw = 0; draw < drawCount; draw += 1) {
    const mark = marks[first + draw]!;
    if (mark === 0) continue;
    if ((mark & MARK.moist) !== 0) moistS[draw]! += durationS;
    if ((mark & MARK.ice) === 0) continue;
    if ((mark & MARK.largeDrops) !== 0) largeDropS[draw]! += durationS;
    const intensity = intensityOfMark(mark);
    icingS[draw]! += durationS;
    ofIntensityS[intensity * drawCount + draw]! += durationS;
    builtM[draw]! += growthMps[first + draw]! * durationS;
    const caught = catchKgPerM2S[first + draw]!;
    caughtKgPerM2[draw]! += caught * durationS;
    if (needsHighFlow(intensity, caught)) highFlowS[draw]! += durationS;
  }
}

/** Water caught, kg/m2/s, that would grow as fast as asks for the high setting if all of it froze. */
const HIGH_FLOW_CATCH_KG_PER_M2S = HIGH_FLOW_GROWTH_MPS / thicknessRateMps(1, 1);

/** The fluid must cope with the water caught, also where little of it freezes. */
export function needsHighFlow(intensity: number, caughtKgPerM2S: number): boolean {
  return intensity >= INTENSITY.moderate || caughtKgPerM2S >= HIGH_FLOW_CATCH_KG_PER_M2S;
}

/** Draw by draw. */
export function summedDraws(sums: readonly Float64Array[]): Float64Array {
  return sums[0]!.map((_, draw) => sums.reduce((sum, each) => sum + each[draw]!, 0));
}

/** Draw by draw. */
export function summedParts(parts: readonly PartSums[]): PartSums {
  const total = makePartSums(parts[0]!.icingS.length);
  for (const part of parts) {
    for (const key of ['icingS', 'moistS', 'highFlowS', 'builtM', 'caughtKgPerM2'] as const) {
      const [into, from] = [total[key], part[key]];
      for (let draw = 0; draw < into.length; draw += 1) into[draw]! += from[draw]!;
    }
  }
  return total;
}

/** Time at an intensity or worse, draw by draw. */
export function atLeastS({ ofIntensityS, largeDropS }: WorstSums, intensity: number): Float64Array {
  const drawCount = largeDropS.length;
  const sums = new Float64Array(drawCount);
  for (let code = intensity; code < INTENSITY_CODES; code += 1) {
    for (let draw = 0; draw < drawCount; draw += 1) sums[draw]! += ofIntensityS[code * drawCount + draw]!;
  }
  return sums;
}

/** Time at each intensity or worse. */
export function intensitySpreads(worst: WorstSums): Exposure['intensityS'] {
  const at = (word: Exclude<IntensityWord, 'none'>): Spread =>
    spreadOfDraws(atLeastS(worst, INTENSITY[word]));
  return { trace: at('trace'), light: at('light'), moderate: at('moderate'), severe: at('severe') };
}
