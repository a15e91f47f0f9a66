/** One candidate, a single altitude or a stepped profile: can it be flown at all, and if so what does the flight meet. */
import { CELL_STATE } from '../science/columns.ts';
import type { EnvelopeWindows } from '../science/envelope-windows.ts';
import { mFromFt, nmFromM } from '../science/units.ts';
import { type CellFacts, FACT, flownIndex } from './cell-facts.ts';
import { cellAt, cellLowerEdgeM, cellNumber } from './cells.ts';
import { brokenCrossing } from './crossings.ts';
import { exposureAt } from './exposure.ts';
import { type FlightPath, makeFlightPath } from './flight-path.ts';
import { fluidNeed } from './fluid.ts';
import { hazardsMet } from './hazards.ts';
import { OXYGEN_RULES, type OxygenNeed, oxygenNeed } from './oxygen.ts';
import type { PlannedFlown } from './planned.ts';
import { rounded } from './rounding.ts';
import type {
  ChooseInput,
  Direction,
  Exposure,
  Fix,
  FlightReason,
  FluidNeed,
  ProfileLevel,
  Standing,
  Verdict,
  WaysOut,
  WindAt,
} from './types.ts';
import { isBeyondLimits, verdictOf } from './verdict-rules.ts';
import { waysOut } from './way-out.ts';
import { apiFeet, feet, reason } from './words.ts';

type Path = Extract<FlightPath, { kind: 'path' }>;

interface Altitude {
  /** Indicated, m; the highest of a stepped profile. */
  readonly indicatedAltitudeM: number;
  readonly pressureAltitudeM: number;
  readonly levels: readonly ProfileLevel[];
  readonly direction: Direction;
  /** undefined when it could not be worked out. */
  readonly path: Path | undefined;
}

export interface FlownCandidate extends Altitude {
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
}

/** An altitude that cannot be flown, or whose flight cannot be worked out. */
export interface RefusedCandidate extends Altitude {
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
  readonly departureM: number;
  readonly destinationM: number;
}

/** Differences smaller than this are conversion dust, m. */
const EQUAL_M = 0.15;
/** An altitude is worth climbing to when at least this part of the time is spent there. */
const LEAST_CRUISE_PART = 0.1;

/** @param levels  In order, the first from 0. */
export function tryCandidate(context: ChoiceContext, levels: readonly ProfileLevel[]): TriedCandidate {
  const { input } = context;
  const indicatedAltitudeM = Math.max(...levels.map(({ altitudeM }) => altitudeM));
  const path = pathOf(context, levels);
  const altitude: Altitude = {
    indicatedAltitudeM,
    pressureAltitudeM: indicatedAltitudeM - input.indicatedMinusPressureM,
    levels,
    direction: directionOfAll(context, levels),
    path: path.kind === 'path' ? path : undefined,
  };
  const barred =
    aboveCeiling(input, altitude) ??
    belowMinimum(input, altitude) ??
    unflyablePath(path, altitude) ??
    barredPath(context, altitude);
  if (barred !== undefined) return { kind: 'refused', ...altitude, ...barred };
  return flown(context, altitude, path as Path);
}

function directionOfAll({ directionOf }: ChoiceContext, levels: readonly ProfileLevel[]): Direction {
  return levels.every(({ altitudeM }) => directionOf(altitudeM) === 'right-way') ? 'right-way' : 'ask';
}

function pathOf(
  { input, facts, windAt, departureM, destinationM }: ChoiceContext,
  levels: readonly ProfileLevel[],
) {
  return makeFlightPath({
    route: input.route,
    aircraft: input.aircraft,
    windAt,
    layout: input.icing.axis,
    levels: levels.map(({ fromM, altitudeM }) => ({
      fromM,
      pressureAltitudeM: altitudeM - input.indicatedMinusPressureM,
    })),
    departurePressureAltitudeM: departureM,
    destinationPressureAltitudeM: destinationM,
    facts,
    residualIceM: input.residualIceM ?? 0,
  });
}

function flown(context: ChoiceContext, altitude: Altitude, path: Path): FlownCandidate {
  const { input, facts, windows, planned } = context;
  const { aircraft, weather, icing, drawn, route, minimum, indicatedMinusPressureM } = input;
  const residualIceM = input.residualIceM ?? 0;
  const exposure = exposureAt({
    aircraft,
    path,
    weather,
    icing,
    drawn,
    facts,
    planned,
    windows,
    residualIceM,
  });
  const fluid = fluidNeed(aircraft, exposure, input.fluidOnBoardM3);
  const ways = waysOut({
    route,
    aircraft,
    facts,
    minimum,
    indicatedMinusPressureM,
    path,
    aerodromes: input.aerodromes ?? [],
  });
  const hazards = [...hazardsMet(path.steps, input.hazards ?? []), ...planned.exposure.hazards];
  const { code, reasons } = verdictOf({ exposure, aircraft, fluid, waysOut: ways, hazards });
  return {
    kind: 'flown',
    ...altitude,
    path,
    exposure,
    fluid,
    waysOut: ways,
    separatorS: separatorSeconds(path, facts),
    verdict: code,
    limitsBroken: reasons.filter((each) => isBeyondLimits(each.code)).length,
    verdictReasons: reasons,
  };
}

function separatorSeconds(path: Path, facts: CellFacts): number {
  return path.steps.reduce((sumS, { pointIndex, pressureAltitudeM, durationS }) => {
    const index = flownIndex(facts, pointIndex, cellNumber(facts, pressureAltitudeM));
    return index >= 0 && (facts.answers[index]! & FACT.separator) !== 0 ? sumS + durationS : sumS;
  }, 0);
}

type Refusal = Pick<RefusedCandidate, 'standing' | 'reason'>;

function aboveCeiling({ aircraft }: ChooseInput, altitude: Altitude): Refusal | undefined {
  if (altitude.pressureAltitudeM <= aircraft.ceilingM + EQUAL_M) return undefined;
  return {
    standing: 'above-ceiling',
    reason: reason('above-ceiling', `Above the ceiling, pressure altitude ${feet(aircraft.ceilingM)}`, {
      ceilingFt: apiFeet(aircraft.ceilingM),
    }),
  };
}

/** Below the minimum somewhere on the level, or not above the higher aerodrome. */
function belowMinimum(input: ChooseInput, altitude: Altitude): Refusal | undefined {
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

function unflyablePath(path: FlightPath, altitude: Altitude): Refusal | undefined {
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
    const sentence = `With ice the climb ends at ${feet(path.pressureAltitudeM)}, ${where} NM out`;
    return {
      standing: 'above-ceiling',
      reason: reason('cannot-climb', sentence, { ...numbers, reachedFt: apiFeet(path.pressureAltitudeM) }),
    };
  }
  return {
    standing: 'unknown',
    reason: reason('wind-too-strong', `The wind leaves almost no ground speed at ${where} NM`, numbers),
  };
}

/** What is known only of a whole path: ground ahead, crossing altitudes, oxygen. */
function barredPath(context: ChoiceContext, altitude: Altitude): Refusal | undefined {
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
function underMinimumBetween(input: ChooseInput, { levels }: Altitude, path: Path): Refusal | undefined {
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
function withoutOxygen(input: ChooseInput, altitude: Altitude, path: Path): Refusal | undefined {
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
  const fromM = mFromFt(oxygenRule === '14 CFR 135.89(a)' ? 10000 : 12500);
  const aboveS = path.steps
    .filter((step) => step.pressureAltitudeM > fromM)
    .reduce((sumS, step) => sumS + step.durationS, 0);
  return { need: oxygenNeed(oxygenRule, pressureAltitudeM, aboveS), rule: oxygenRule, aboveS };
}

/** Where the climb starts or the descent ends: the elevation, else the lowest air of the column, sea level at least. */
export function fieldPressureAltitudeM(input: ChooseInput, fix: Fix, point: number): number {
  const seaLevelM = -input.indicatedMinusPressureM;
  if (Number.isFinite(fix.elevationM)) return fix.elevationM + seaLevelM;
  const { axis, state } = input.icing;
  let cell = 0;
  while (cell < axis.cellCount - 1 && state[point * axis.cellCount + cell] === CELL_STATE.belowGround)
    cell += 1;
  return Math.max(seaLevelM, cellLowerEdgeM(axis, cell));
}
