/**
 * Warm layers over cold air in an ascent, worked out on the raw levels as straight lines in ln p: exact crossings of 0 degrees
 * C, areas by trapezia. Shares nothing with the worker.
 */
import { ruleAirFromDewPoint } from './humidity-rules.ts';

export interface RawLevel {
  readonly pressureHPa: number;
  readonly temperatureC: number;
  readonly dewPointC: number;
}

/** A layer above 0 degrees C with air below 0 under it. */
export interface WarmNose {
  readonly footHPa: number;
  readonly topHPa: number;
  readonly greatestC: number;
  /** Area between the curve and 0 degrees C, J/kg, and that of the cold air under it down to 0 degrees C or the lowest level. */
  readonly meltingJPerKg: number;
  readonly refreezingJPerKg: number;
  /** Pressures at the top and foot of that cold air. */
  readonly coldTopHPa: number;
  readonly coldFootHPa: number;
  readonly coldestC: number;
  /** Moist air above the warm layer, up to the first stretch of dry air that lets nothing through, m. */
  readonly moistAboveM: number;
}

/** A warm layer that melts snow (Bourgouin 2000), J/kg, and a source of it, m (judgement). */
export const MELTS_J_PER_KG = 2;
const SOURCE_M = 500;

/** @returns whether snow falls into the warm layer and melts there. */
export function isHazard({ meltingJPerKg, moistAboveM }: WarmNose): boolean {
  return meltingJPerKg >= MELTS_J_PER_KG && moistAboveM >= SOURCE_M;
}

const GAS_CONSTANT = 287.05;
const GRAVITY = 9.80665;
/** Moist for precipitation: this much over ice below 0 degrees C, over water above (Wang and Rossow 1995), percent. */
const MOIST_PCT = 87;
/** Snow does not outlast this much dry air in one stretch, m (judgement). */
const DRIES_OUT_M = 1500;

/**
 * @param levels  Pressure falling; at least two.
 * @returns       From the lowest up; empty where no layer above 0 degrees C has colder air under it.
 * @throws        never.
 */
export function warmNoses(levels: readonly RawLevel[]): WarmNose[] {
  const curve = withCrossings(levels);
  const noses: WarmNose[] = [];
  let start = 0;
  while (start < curve.length - 1) {
    const isWarm = middleC(curve, start) > 0;
    let end = start + 1;
    while (end < curve.length - 1 && middleC(curve, end) > 0 === isWarm) end += 1;
    if (isWarm && start > 0) noses.push(noseOf(curve, start, end));
    start = end;
  }
  return noses;
}

/** The levels and the places between them where the temperature passes 0 degrees C. */
function withCrossings(levels: readonly RawLevel[]): RawLevel[] {
  return levels.flatMap((level, index) => {
    const above = levels[index + 1];
    if (above === undefined || level.temperatureC * above.temperatureC >= 0) return [level];
    const share = level.temperatureC / (level.temperatureC - above.temperatureC);
    const between = (a: number, b: number) => a + share * (b - a);
    return [
      level,
      {
        pressureHPa: Math.exp(between(Math.log(level.pressureHPa), Math.log(above.pressureHPa))),
        temperatureC: 0,
        dewPointC: between(level.dewPointC, above.dewPointC),
      },
    ];
  });
}

const middleC = (curve: readonly RawLevel[], at: number) =>
  curve[at]!.temperatureC + curve[at + 1]!.temperatureC;

/** Rd times the integral of T over ln p, J/kg. */
function areaJPerKg(curve: readonly RawLevel[], from: number, to: number): number {
  let area = 0;
  for (let at = from; at < to; at += 1) {
    const span = Math.log(curve[at]!.pressureHPa / curve[at + 1]!.pressureHPa);
    area += (GAS_CONSTANT * span * middleC(curve, at)) / 2;
  }
  return area;
}

function noseOf(curve: readonly RawLevel[], foot: number, top: number): WarmNose {
  let coldFoot = foot;
  while (coldFoot > 0 && middleC(curve, coldFoot - 1) <= 0) coldFoot -= 1;
  const among = (from: number, to: number) =>
    curve.slice(from, to + 1).map(({ temperatureC }) => temperatureC);
  return {
    footHPa: curve[foot]!.pressureHPa,
    topHPa: curve[top]!.pressureHPa,
    greatestC: Math.max(...among(foot, top)),
    meltingJPerKg: areaJPerKg(curve, foot, top),
    refreezingJPerKg: -areaJPerKg(curve, coldFoot, foot),
    coldTopHPa: curve[foot]!.pressureHPa,
    coldFootHPa: curve[coldFoot]!.pressureHPa,
    coldestC: Math.min(...among(coldFoot, foot)),
    moistAboveM: moistDepthM(curve, foot, top),
  };
}

/** Dry air counts from the foot of the warm layer, since what falls has to cross that too; moist air from its top. */
function moistDepthM(curve: readonly RawLevel[], foot: number, top: number): number {
  let moistM = 0;
  let dryM = 0;
  for (let at = foot; at < curve.length - 1; at += 1) {
    const [lower, upper] = [curve[at]!, curve[at + 1]!];
    const depthM = thicknessM(lower, upper);
    const share = moistShare(excessPct(lower), excessPct(upper));
    const dryHereM = (1 - share) * depthM;
    const isDryBelow = excessPct(lower) < 0;
    if (isDryBelow || share === 0) dryM += dryHereM;
    if (dryM > DRIES_OUT_M) break;
    if (at >= top) moistM += share * depthM;
    if (share > 0) dryM = isDryBelow ? 0 : dryHereM;
  }
  return moistM;
}

function thicknessM(lower: RawLevel, upper: RawLevel): number {
  const meanK = 273.15 + (lower.temperatureC + upper.temperatureC) / 2;
  return ((GAS_CONSTANT * meanK) / GRAVITY) * Math.log(lower.pressureHPa / upper.pressureHPa);
}

/** Humidity over the threshold, percent. */
function excessPct({ temperatureC, dewPointC }: RawLevel): number {
  const { overIcePct, overWaterPct } = ruleAirFromDewPoint(temperatureC, dewPointC);
  return (temperatureC < 0 ? overIcePct : overWaterPct) - MOIST_PCT;
}

/** Part of a straight line that lies above 0. */
function moistShare(lower: number, upper: number): number {
  if (lower >= 0 && upper >= 0) return 1;
  if (lower < 0 && upper < 0) return 0;
  return Math.max(lower, upper) / Math.abs(lower - upper);
}
