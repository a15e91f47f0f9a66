/**
 * At each route point of one profile: is a way out of the ice needed, and which costs least. Unknown air is never a way out.
 * Ways are to stay level short of ice that is planned for, up over the tops, down to air without ice, back to it, or to an aerodrome.
 */
import { FACT } from './cell-facts.ts';
import { answersBetween, END_M, growthAt, isFree, meanGrowth } from './column-range.ts';
import { secondsOverPoints } from './path-places.ts';
import { tableValue } from './performance-table.ts';
import type { FailureCase, NearAerodrome, Way, WaysOut } from './types.ts';
import { down, up } from './vertical-ways.ts';
import {
  type Found,
  minimumWithinM,
  NEAR_M,
  type Outcome,
  type Search,
  type WayOutRequest,
  worthIt,
} from './way-search.ts';

export type { WayOutRequest } from './way-search.ts';

/** Ice that will be met within this time asks for a way out, as ice near the altitude does. */
const AHEAD_S = 300;
/** Air flown through no longer ago than this may be turned back to, and an aerodrome no further away is a way out. */
const BACK_S = 900;
/** A level that is left before is no way out; longer than ice ahead is looked for, s. */
const STAY_S = 900;
/** For the turn itself: half a turn at three degrees a second, s. */
const TURN_S = 60;
/** A way with so much less ice may take so much longer (judgement): two minutes a millimeter. */
const S_PER_BUILT_M = 120 / 0.001;
/** Altitudes nearer than this are equal, m. */
const EQUAL_M = 0.15;

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
      stay(search, point),
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
    longestNoneS: longestRunS(search, (point) => way[point] === 'none' && isInIce(search, point)),
    longestNoneKnownS: longestRunS(search, (point) =>
      way[point] === 'unknown' ? !isOutOfIce(search, point) : way[point] === 'none' && isInIce(search, point),
    ),
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

/** At the present level, where for the next quarter of an hour nothing icy is near it, and it is not too low to stay. */
function stay(search: Search, point: number): Outcome {
  const { route, facts, secondsS } = search;
  const atM = search.altitudeM[point]!;
  const lowestM = minimumWithinM(search, point, STAY_S);
  // What is not known is no place to stay.
  if (!(atM >= lowestM - EQUAL_M)) return 'none';
  for (let ahead = point; ahead < route.pointCount; ahead += 1) {
    if (ahead > point + 1 && secondsS[ahead]! - secondsS[point]! > STAY_S) break;
    // Stricter than the goal of a climb or descent: who stays has not left what asks for a way out.
    const near = answersBetween(facts, ahead, atM - NEAR_M, atM + NEAR_M);
    if (near.hasUnknown || (near.any & (FACT.mayHaveIce | FACT.danger)) !== 0) return 'none';
  }
  return { way: 'stay', timeS: 0, builtM: 0 };
}

/** Back to a point passed a short time ago with nothing icy about the altitude, through known air and under no known minimum. */
function back(search: Search, point: number): Outcome {
  const { facts, secondsS } = search;
  const atM = search.altitudeM[point]!;
  let builtM = growthAt(facts, point, atM) * TURN_S;
  for (let behind = point - 1; behind >= 0; behind -= 1) {
    const awayS = secondsS[point]! - secondsS[behind]!;
    if (awayS > BACK_S) return 'none';
    const minimumM = search.minimum.altitudeM[behind]! - search.indicatedMinusPressureM;
    if (atM < minimumM - EQUAL_M) return 'none';
    const range = [atM - NEAR_M, atM + NEAR_M] as const;
    if (answersBetween(facts, behind, ...range).hasUnknown) return 'unknown-air';
    if (isFree(facts, behind, range)) return worthIt({ way: 'back', timeS: TURN_S + awayS, builtM });
    builtM += growthAt(facts, behind, atM) * (secondsS[behind + 1]! - secondsS[behind]!);
  }
  return 'none';
}

/** To the aerodrome that costs least, along the present altitude and down in its column, through known air without danger. */
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
  const descentS =
    Math.max(0, atM - place.elevationM) / tableValue(aircraft.descentRateMps, (atM + place.elevationM) / 2);
  const timeS = Math.max(levelS, descentS) + TURN_S;
  if (timeS > BACK_S) return 'none';
  const beforeDescentS = Math.max(0, levelS - descentS);
  let builtM = 0;
  const step = place.pointIndex < point ? -1 : 1;
  const pointS = beforeDescentS / (Math.abs(place.pointIndex - point) + 1);
  for (let at = point; at !== place.pointIndex + step; at += step) {
    const air = answersBetween(facts, at, atM, atM + END_M * 2);
    if (air.hasUnknown) return 'unknown-air';
    if ((air.any & FACT.danger) !== 0) return 'none';
    builtM += growthAt(facts, at, atM) * pointS;
  }
  const below = answersBetween(facts, place.pointIndex, place.elevationM, atM);
  if (below.hasUnknown) return 'unknown-air';
  if ((below.any & FACT.danger) !== 0) return 'none';
  const meanGrowthMps = meanGrowth(facts, place.pointIndex, place.elevationM, atM);
  return worthIt({
    way: 'aerodrome',
    timeS,
    builtM: builtM + meanGrowthMps * descentS,
    aerodrome: place.name,
  });
}

/** Ice is expected where the aeroplane is. */
function isInIce({ facts, altitudeM }: Search, point: number): boolean {
  const air = answersBetween(facts, point, altitudeM[point]!, altitudeM[point]! + 2 * END_M);
  return (air.any & FACT.expectsIce) !== 0;
}

/** Known to hold hardly any. */
function isOutOfIce({ facts, altitudeM }: Search, point: number): boolean {
  return isFree(facts, point, [altitudeM[point]!, altitudeM[point]! + 2 * END_M]);
}

/** A point stands for the time half way to its neighbors. */
function longestRunS({ secondsS }: Search, isOne: (point: number) => boolean): number {
  let longestS = 0;
  let runS = 0;
  secondsS.forEach((_, point) => {
    const before = secondsS[Math.max(0, point - 1)]!;
    const after = secondsS[Math.min(secondsS.length - 1, point + 1)]!;
    runS = isOne(point) ? runS + (after - before) / 2 : 0;
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
