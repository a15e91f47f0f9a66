/** Why a candidate cannot be flown at all. */
import { mFromFt, nmFromM } from '../science/units.ts';
import type { CandidateAltitude, ChoiceContext, Path, RefusedCandidate } from './candidate.ts';
import { FACT } from './cell-facts.ts';
import { cellAt } from './cells.ts';
import { brokenCrossing } from './crossings.ts';
import type { FlightPath } from './flight-path.ts';
import { ICED_FROM_M } from './ice-effects.ts';
import { OXYGEN_RULES, type OxygenNeed, oxygenLimitsFt, oxygenNeed } from './oxygen.ts';
import { rounded } from './rounding.ts';
import type { ChooseInput } from './types.ts';
import { apiFeet, feet, reason } from './words.ts';

/** Differences smaller than this are conversion dust, m. */
const EQUAL_M = 0.15;
/** An altitude is worth climbing to when at least this part of the time is spent there. */
const LEAST_CRUISE_PART = 0.1;

export type Refusal = Pick<RefusedCandidate, 'standing' | 'reason'>;

/** The first reason not to fly a candidate; undefined when there is none, and its path is one. */
export function refusalOf(
  context: ChoiceContext,
  altitude: CandidateAltitude,
  path: FlightPath,
): Refusal | undefined {
  return (
    aboveCeiling(context.input, altitude) ??
    belowMinimum(context.input, altitude) ??
    unflyablePath(path, altitude) ??
    barredPath(context, altitude)
  );
}

function aboveCeiling({ aircraft }: ChooseInput, altitude: CandidateAltitude): Refusal | undefined {
  if (altitude.pressureAltitudeM <= aircraft.ceilingM + EQUAL_M) return undefined;
  return {
    standing: 'above-ceiling',
    reason: reason('above-ceiling', `Above the ceiling, pressure altitude ${feet(aircraft.ceilingM)}`, {
      ceilingFt: apiFeet(aircraft.ceilingM),
    }),
  };
}

/** Below the minimum somewhere on the level, or not above the higher aerodrome. */
function belowMinimum(input: ChooseInput, altitude: CandidateAltitude): Refusal | undefined {
  const { route, minimum } = input;
  let highest = -1;
  minimum.altitudeM.forEach((minimumM, point) => {
    const level = altitude.levels.findLast(({ fromM }) => fromM <= route.distanceM[point]!)!;
    const isBelow = level.altitudeM < minimumM - EQUAL_M;
    if (isBelow && (highest < 0 || minimumM > minimum.altitudeM[highest]!)) highest = point;
  });
  if (highest >= 0) return underMinimumAt(input, highest);
  const elevationsM = [route.fixes[0]!, route.fixes.at(-1)!].map(({ elevationM }) => elevationM);
  const fieldM = Math.max(...elevationsM.filter(Number.isFinite));
  const lowestM = Math.min(...altitude.levels.map(({ altitudeM }) => altitudeM));
  if (lowestM > fieldM + EQUAL_M) return undefined;
  return {
    standing: 'below-minimum-altitude',
    reason: reason('below-aerodrome', `Not above the aerodrome at ${feet(fieldM)}`, {
      elevationFt: apiFeet(fieldM),
    }),
  };
}

function underMinimumAt({ route, minimum }: ChooseInput, point: number): Refusal {
  const distanceNm = nmFromM(route.distanceM[point]!);
  const minimumM = minimum.altitudeM[point]!;
  const where = rounded(distanceNm, 'distanceNm', 'screen');
  return {
    standing: 'below-minimum-altitude',
    reason: reason(
      'below-minimum-altitude',
      `Below the minimum altitude of ${feet(minimumM)} at ${where} NM`,
      { minimumFt: apiFeet(minimumM), distanceNm: rounded(distanceNm, 'distanceNm', 'api') },
    ),
  };
}

function unflyablePath(path: FlightPath, altitude: CandidateAltitude): Refusal | undefined {
  const isShort =
    path.kind === 'leg-too-short' ||
    (path.kind === 'path' && path.phaseS.cruise < LEAST_CRUISE_PART * path.totalS);
  if (isShort) {
    return {
      standing: 'leg-too-short',
      reason: reason('leg-too-short', 'The leg is too short to climb there and come down again', {
        altitudeFt: apiFeet(altitude.indicatedAltitudeM),
      }),
    };
  }
  if (path.kind === 'path') return undefined;
  const distanceNm = nmFromM(path.distanceM);
  const where = rounded(distanceNm, 'distanceNm', 'screen');
  const numbers = { distanceNm: rounded(distanceNm, 'distanceNm', 'api') };
  if (path.kind === 'cannot-climb') {
    const isIced = path.builtM >= ICED_FROM_M;
    const code = isIced ? 'cannot-climb' : 'above-climb';
    const sentence = `${isIced ? 'With ice the' : 'The'} climb ends at ${feet(path.pressureAltitudeM)}, ${where} NM out`;
    return {
      standing: 'above-ceiling',
      reason: reason(code, sentence, { ...numbers, reachedFt: apiFeet(path.pressureAltitudeM) }),
    };
  }
  return {
    standing: 'unknown',
    reason: reason('wind-too-strong', `The wind leaves almost no ground speed at ${where} NM`, numbers),
  };
}

/** What is known only of a whole path: ground ahead, crossing altitudes, oxygen. */
function barredPath(context: ChoiceContext, altitude: CandidateAltitude): Refusal | undefined {
  const { input, departureM } = context;
  const path = altitude.path!;
  const crossing = brokenCrossing(input, path, departureM);
  if (crossing !== undefined) return { standing: 'below-minimum-altitude', reason: crossing };
  return (
    underMinimumBetween(input, altitude, path) ??
    throughGround(context, path) ??
    withoutOxygen(input, altitude, path)
  );
}

/** A change of altitude that passes under the minimum of a place between the first level and the last. */
function underMinimumBetween(
  input: ChooseInput,
  { levels }: CandidateAltitude,
  path: Path,
): Refusal | undefined {
  if (levels.length < 2) return undefined;
  const first = path.steps.findIndex(({ phase }) => phase === 'cruise');
  const last = path.steps.findLastIndex(({ phase }) => phase === 'cruise');
  const step = path.steps.find(({ pointIndex, endAltitudeM }, index) => {
    if (index <= first || index > last) return false;
    const lowestM = Math.min(endAltitudeM, path.steps[index - 1]!.endAltitudeM);
    const minimumM = input.minimum.altitudeM[pointIndex]!;
    return lowestM + input.indicatedMinusPressureM < minimumM - EQUAL_M;
  });
  return step === undefined ? undefined : underMinimumAt(input, step.pointIndex);
}

/** A cruise through cells that the columns put below the ground. */
function throughGround({ input: { route }, facts }: ChoiceContext, path: Path): Refusal | undefined {
  const step = path.steps.find(({ phase, pointIndex, pressureAltitudeM }) => {
    const cell = phase === 'cruise' ? cellAt(facts, pressureAltitudeM) : undefined;
    return cell !== undefined && (facts.answers[pointIndex * facts.cellCount + cell]! & FACT.ground) !== 0;
  });
  if (step === undefined) return undefined;
  const distanceNm = nmFromM(route.distanceM[step.pointIndex]!);
  return {
    standing: 'below-minimum-altitude',
    reason: reason(
      'below-ground',
      `The ground is higher at ${rounded(distanceNm, 'distanceNm', 'screen')} NM`,
      { distanceNm: rounded(distanceNm, 'distanceNm', 'api') },
    ),
  };
}

/** An unpressurized aeroplane without oxygen is not flown where the rule asks for it. */
function withoutOxygen(input: ChooseInput, altitude: CandidateAltitude, path: Path): Refusal | undefined {
  if (input.aircraft.oxygen !== 'none') return undefined;
  const { need, rule } = oxygenOf(input, altitude.pressureAltitudeM, path);
  if (need === 'none') return undefined;
  return {
    standing: 'needs-oxygen',
    reason: reason('needs-oxygen', `Needs oxygen, and none is on board (${rule})`, {
      altitudeFt: apiFeet(altitude.pressureAltitudeM),
    }),
  };
}

export function oxygenOf(
  { oxygenRule = OXYGEN_RULES[0] }: Pick<ChooseInput, 'oxygenRule'>,
  pressureAltitudeM: number,
  path: Path,
): { readonly need: OxygenNeed; readonly rule: string; readonly aboveS: number } {
  const fromM = mFromFt(oxygenLimitsFt(oxygenRule).longStayFt);
  const aboveS = path.steps
    .filter((step) => step.pressureAltitudeM > fromM)
    .reduce((sumS, step) => sumS + step.durationS, 0);
  return { need: oxygenNeed(oxygenRule, pressureAltitudeM, aboveS), rule: oxygenRule, aboveS };
}
