/**
 * At each route point of one profile: is a way out of the ice needed, and which costs least. Unknown air is never a way out.
 * Ways are up over the tops, down to air without ice, back to it, or to an aerodrome.
 */
import { mFromFt } from '../science/units.ts';
import { type CellFacts, FACT } from './cell-facts.ts';
import { cellNumber } from './cells.ts';
import { answersBetween, END_M, growthAt, isFree, meanGrowth } from './column-range.ts';
import { type FlightPath, SLOWEST_CLIMB_MPS, secondsOverPoints } from './flight-path.ts';
import { climbRateMps } from './ice-effects.ts';
import { tableValue } from './performance-table.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type {
  Aircraft,
  FailureCase,
  MinimumAltitudes,
  NearAerodrome,
  RoutePoints,
  Way,
  WaysOut,
} from './types.ts';

export interface WayOutRequest {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly facts: CellFacts;
  readonly minimum: MinimumAltitudes;
  readonly indicatedMinusPressureM: number;
  readonly path: Extract<FlightPath, { kind: 'path' }>;
  /** Besides departure and destination. */
  readonly aerodromes: readonly NearAerodrome[];
}

/** Ice this near above or below asks for a way out. */
const NEAR_M = mFromFt(1000);
/** So does ice that will be met within this time. */
const AHEAD_S = 300;
/** Air flown through no longer ago than this may be turned back to, and an aerodrome no further away is a way out. */
const BACK_S = 900;
/** For the turn itself: half a turn at three degrees a second, s. */
const TURN_S = 60;
/** Ways up and down are looked for at these indicated altitudes. */
const TARGET_STEP_M = mFromFt(500);
const EQUAL_M = 1e-6;
/** A way with so much less ice may take so much longer (judgement): two minutes a millimeter. */
const S_PER_BUILT_M = 120 / 0.001;
/** From here the iced ceiling holds. */
const ICED_FROM_M = 0.001;

/** Of the whole route, for all its points. */
interface Search extends WayOutRequest {
  /** Pressure altitude flown over each point, m, and ice expected on the aeroplane there, m. */
  readonly altitudeM: Float64Array;
  readonly iceM: Float64Array;
  readonly secondsS: Float64Array;
  readonly places: readonly NearAerodrome[];
}

interface Found {
  readonly way: Exclude<Way, 'none' | 'unknown' | 'not-needed'>;
  readonly timeS: number;
  readonly builtM: number;
  /** Pressure altitude. */
  readonly toM?: number;
  readonly aerodrome?: string;
}
/** Not known for want of air, or for want of a minimum altitude. */
type Outcome = Found | 'none' | 'unknown-air' | 'unknown-minimum';

export function waysOut(request: WayOutRequest): WaysOut {
  const { route, indicatedMinusPressureM } = request;
  const search = prepared(request);
  const count = route.pointCount;
  const way = new Array<Way>(count).fill('not-needed');
  const values = () => new Float64Array(count).fill(Number.NaN);
  const [toAltitudeM, timeS, builtM] = [values(), values(), values()];
  const aerodrome = new Array<string | undefined>(count).fill(undefined);
  let isMinimumMissing = false;
  for (let point = 0; point < count; point += 1) {
    if (isNothingNear(search, point)) continue;
    const outcomes = [
      up(search, point),
      down(search, point),
      back(search, point),
      aerodromeWay(search, point),
    ];
    const best = leastOf(outcomes);
    if (best === undefined) {
      way[point] = outcomes.some((each) => each === 'unknown-air' || each === 'unknown-minimum')
        ? 'unknown'
        : 'none';
      isMinimumMissing ||= way[point] === 'unknown' && !outcomes.includes('unknown-air');
      continue;
    }
    way[point] = best.way;
    timeS[point] = best.timeS;
    builtM[point] = best.builtM;
    toAltitudeM[point] = best.toM === undefined ? Number.NaN : best.toM + indicatedMinusPressureM;
    aerodrome[point] = best.aerodrome;
  }
  return {
    way,
    toAltitudeM,
    timeS,
    builtM,
    aerodrome,
    longestNoneS: longestRunS(way, 'none', search.secondsS),
    longestUnknownS: longestRunS(way, 'unknown', search.secondsS),
    isMinimumMissing,
    failure: failureOf(search, { way, timeS, builtM }),
  };
}

function prepared(request: WayOutRequest): Search {
  const { route, path, aerodromes, indicatedMinusPressureM } = request;
  const altitudeM = new Float64Array(route.pointCount);
  const iceM = new Float64Array(route.pointCount);
  let step = 0;
  for (let point = 0; point < route.pointCount; point += 1) {
    while (step < path.steps.length - 1 && path.steps[step]!.toM < route.distanceM[point]!) step += 1;
    altitudeM[point] = path.steps[step]!.pressureAltitudeM;
    iceM[point] = path.steps[step]!.builtM;
  }
  const ends = [0, route.pointCount - 1].flatMap((pointIndex) => {
    const { name, elevationM } = route.fixes[pointIndex === 0 ? 0 : route.fixes.length - 1]!;
    return Number.isFinite(elevationM) ? [{ name, elevationM, pointIndex, offsetM: 0 }] : [];
  });
  const places = [...ends, ...aerodromes].map((place) => ({
    ...place,
    elevationM: place.elevationM - indicatedMinusPressureM,
  }));
  return { ...request, altitudeM, iceM, secondsS: secondsOverPoints(route, path), places };
}

const costOf = ({ timeS, builtM }: Found): number => timeS + builtM * S_PER_BUILT_M;

function leastOf(outcomes: readonly Outcome[]): Found | undefined {
  let best: Found | undefined;
  for (const outcome of outcomes) {
    if (typeof outcome !== 'object') continue;
    if (best === undefined || costOf(outcome) < costOf(best)) best = outcome;
  }
  return best;
}

/** Known to hold no ice about the altitude, here and at the points soon ahead. */
function isNothingNear({ facts, secondsS, route, altitudeM }: Search, point: number): boolean {
  for (let ahead = point; ahead < route.pointCount; ahead += 1) {
    const isSoon = ahead <= point + 1 || secondsS[ahead]! - secondsS[point]! <= AHEAD_S;
    if (!isSoon) break;
    const near = answersBetween(facts, ahead, altitudeM[ahead]! - NEAR_M, altitudeM[ahead]! + NEAR_M);
    if ((near.any & FACT.mayHaveIce) !== 0 || near.hasUnknown) return false;
  }
  return true;
}

/** Up to an altitude with nothing icy for 1,500 ft below it and 1,000 ft above, at the rate that the ice leaves. */
function up(search: Search, point: number): Outcome {
  const { aircraft, facts } = search;
  const fromM = search.altitudeM[point]!;
  let timeS = 0;
  let iceM = search.iceM[point]!;
  const startIceM = iceM;
  let lowM = fromM;
  for (const toM of targetsM(search, fromM, 1)) {
    if (toM > (iceM >= ICED_FROM_M ? aircraft.icedCeilingM : aircraft.ceilingM) + EQUAL_M) return 'none';
    const stop = stopOf(search, point, lowM, toM);
    if (stop !== undefined) return stop;
    const middleM = (lowM + toM) / 2;
    const cell = cellNumber(facts, middleM);
    const index = point * facts.cellCount + cell;
    const isSeparatorOn = (facts.answers[index]! & FACT.separator) !== 0;
    const rateMps = climbRateMps(aircraft, middleM, { builtM: iceM, isSeparatorOn });
    if (rateMps < SLOWEST_CLIMB_MPS) return 'none';
    timeS += (toM - lowM) / rateMps;
    iceM += (facts.growthMps[index]! * (toM - lowM)) / rateMps;
    lowM = toM;
    if (isFree(facts, point, toM - ON_TOP_MARGIN_M, toM + NEAR_M)) {
      return { way: 'up', timeS, builtM: iceM - startIceM, toM };
    }
  }
  return 'none';
}

/** Down to an altitude with nothing icy for 1,000 ft above it, not under the minimum altitude. */
function down(search: Search, point: number): Outcome {
  const { aircraft, facts } = search;
  const lowestM = search.minimum.altitudeM[point]! - search.indicatedMinusPressureM;
  if (Number.isNaN(lowestM)) return 'unknown-minimum';
  let highM = search.altitudeM[point]!;
  let timeS = 0;
  let builtM = 0;
  for (const toM of targetsM(search, highM, -1)) {
    if (toM < lowestM - EQUAL_M) return 'none';
    const stop = stopOf(search, point, toM, highM);
    if (stop !== undefined) return stop;
    const middleM = (toM + highM) / 2;
    const stepS = (highM - toM) / tableValue(aircraft.descentRateMps, middleM);
    timeS += stepS;
    builtM += growthAt(facts, point, middleM) * stepS;
    highM = toM;
    if (isFree(facts, point, toM, toM + NEAR_M)) return { way: 'down', timeS, builtM, toM };
  }
  return 'none';
}

/** Back to a point passed a short time ago with nothing icy about the altitude, through air that is known. */
function back(search: Search, point: number): Outcome {
  const { facts, secondsS } = search;
  const atM = search.altitudeM[point]!;
  let builtM = growthAt(facts, point, atM) * TURN_S;
  for (let behind = point - 1; behind >= 0; behind -= 1) {
    const awayS = secondsS[point]! - secondsS[behind]!;
    if (awayS > BACK_S) return 'none';
    const near = answersBetween(facts, behind, atM - NEAR_M, atM + NEAR_M);
    if (near.hasUnknown) return 'unknown-air';
    if ((near.any & FACT.hasIce) === 0) return { way: 'back', timeS: TURN_S + awayS, builtM };
    builtM += growthAt(facts, behind, atM) * (secondsS[behind + 1]! - secondsS[behind]!);
  }
  return 'none';
}

/** To the nearest aerodrome along the present altitude and down in its column, through known air without danger. */
function aerodromeWay(search: Search, point: number): Outcome {
  const found = search.places.map((place) => wayTo(search, point, place));
  const best = leastOf(found);
  return best ?? (found.includes('unknown-air') ? 'unknown-air' : 'none');
}

function wayTo(search: Search, point: number, place: NearAerodrome): Outcome {
  const { route, aircraft, facts } = search;
  const atM = search.altitudeM[point]!;
  const awayM = Math.abs(route.distanceM[point]! - route.distanceM[place.pointIndex]!) + place.offsetM;
  const levelS = awayM / aircraft.descentTrueAirspeedMps;
  const descentS = Math.max(0, atM - place.elevationM) / tableValue(aircraft.descentRateMps, atM / 2);
  const timeS = Math.max(levelS, descentS) + TURN_S;
  if (timeS > BACK_S) return 'none';
  const beforeDescentS = Math.max(0, levelS - descentS);
  let builtM = 0;
  const step = place.pointIndex < point ? -1 : 1;
  const pointS = beforeDescentS / (Math.abs(place.pointIndex - point) + 1);
  for (let at = point; at !== place.pointIndex + step; at += step) {
    const air = answersBetween(facts, at, atM, atM + END_M * 2);
    if (air.hasUnknown) return 'unknown-air';
    if ((air.any & FACT.danger) !== 0 && !isInDanger(search, point)) return 'none';
    builtM += growthAt(facts, at, atM) * pointS;
  }
  const below = answersBetween(facts, place.pointIndex, place.elevationM, atM);
  if (below.hasUnknown) return 'unknown-air';
  if ((below.any & FACT.danger) !== 0 && !isInDanger(search, point)) return 'none';
  const meanGrowthMps = meanGrowth(facts, place.pointIndex, place.elevationM, atM);
  return {
    way: 'aerodrome',
    timeS,
    builtM: builtM + meanGrowthMps * descentS,
    aerodrome: place.name,
  };
}

/** Why a vertical way ends here: unknown air, or danger on the way for an aeroplane that is not in it already. */
function stopOf(search: Search, point: number, lowM: number, highM: number): Outcome | undefined {
  const passed = answersBetween(search.facts, point, lowM, highM);
  if (passed.hasUnknown) return 'unknown-air';
  return (passed.any & FACT.danger) === 0 || isInDanger(search, point) ? undefined : 'none';
}

/** Already in severe icing or large drops: then any way through them is better than staying. */
function isInDanger({ facts, altitudeM }: Search, point: number): boolean {
  const atM = altitudeM[point]!;
  return (answersBetween(facts, point, atM, atM + 2 * END_M).any & FACT.danger) !== 0;
}

/** Pressure altitudes of whole 500 ft indicated above (1) or below (-1) an altitude, nearest first, within reason. */
function* targetsM(search: Search, fromM: number, direction: 1 | -1): Generator<number> {
  const { indicatedMinusPressureM, facts, aircraft } = search;
  const presentSteps = (fromM + indicatedMinusPressureM) / TARGET_STEP_M;
  const axisTopM = facts.lowestM + facts.cellCount * facts.cellDepthM;
  const limits = [Math.min(facts.lowestM, 0), Math.max(axisTopM, aircraft.ceilingM)] as const;
  let step = direction > 0 ? Math.floor(presentSteps + 1e-6) : Math.ceil(presentSteps - 1e-6);
  for (;;) {
    step += direction;
    const targetM = step * TARGET_STEP_M - indicatedMinusPressureM;
    if (targetM < limits[0] || targetM > limits[1] + TARGET_STEP_M) return;
    yield targetM;
  }
}

/** A point stands for the time half way to its neighbors. */
function longestRunS(way: readonly Way[], wanted: Way, secondsS: Float64Array): number {
  let longestS = 0;
  let runS = 0;
  way.forEach((each, point) => {
    const before = secondsS[Math.max(0, point - 1)]!;
    const after = secondsS[Math.min(way.length - 1, point + 1)]!;
    runS = each === wanted ? runS + (after - before) / 2 : 0;
    longestS = Math.max(longestS, runS);
  });
  return longestS;
}

/** With no way, the ice of the rest of the leg gathers; unknown ways say nothing. */
function failureOf(
  { path, secondsS, iceM }: Search,
  { way, timeS, builtM }: Pick<WaysOut, 'way' | 'timeS' | 'builtM'>,
): FailureCase | undefined {
  let worst: FailureCase | undefined;
  way.forEach((each, pointIndex) => {
    if (each === 'not-needed' || each === 'unknown') return;
    const isNone = each === 'none';
    const case_: FailureCase = {
      pointIndex,
      way: each,
      builtM: isNone ? path.builtM - iceM[pointIndex]! : builtM[pointIndex]!,
      timeS: isNone ? path.totalS - secondsS[pointIndex]! : timeS[pointIndex]!,
    };
    if (case_.builtM > (worst?.builtM ?? 0)) worst = case_;
  });
  return worst;
}
