/**
 * The one orchestrator: request in, brief out. It reads once, then everything is pure and takes its times from the
 * request, so the same request over the same data gives the same bytes.
 */
import { InvalidRequestError } from '../errors.ts';
import { aircraftFromProfile, tableValue } from '../flight/aircraft.ts';
import { findBuiltInAircraft } from '../flight/aircraft-profiles.ts';
import { bboxOf } from '../flight/antimeridian.ts';
import { candidateAltitudesM } from '../flight/candidates.ts';
import { chooseAltitude } from '../flight/choose-altitude.ts';
import { minimumAltitudes } from '../flight/minimum-altitude.ts';
import { makeRoutePoints } from '../flight/route.ts';
import { makeTiming } from '../flight/timing.ts';
import type { Aircraft, RoutePoints, WindAt } from '../flight/types.ts';
import type { Brief } from '../schema/brief.ts';
import type { BriefRequest } from '../schema/request.ts';
import { makeAltitudeAxis } from '../science/altitude-axis.ts';
import {
  type AltitudeAxis,
  CELL_STATE,
  type DiagnosisSettings,
  type IcingColumns,
  type WeatherColumns,
} from '../science/columns.ts';
import { diagnoseSources } from '../science/diagnose-columns.ts';
import { drawIcing } from '../science/draw-icing.ts';
import { type DrawnIcing, raiseToDraws } from '../science/drawn-icing.ts';
import { DROPLET_NUMBER_PER_M3 } from '../science/droplets.ts';
import { weatherColumnsFromProfiles } from '../science/profile-columns.ts';
import { indicatedAltitudeM } from '../science/standard-atmosphere.ts';
import { mFromFt, mFromNm, paFromHPa } from '../science/units.ts';
import type { Dependencies } from '../sources/ports.ts';
import { briefMember } from './brief-member.ts';
import { briefFeatures } from './features.ts';
import { type GatheredWeather, gatherWeather, type UsedSource } from './gather-weather.ts';
import { type LegData, type LegWindow, readLegData } from './leg-data.ts';
import { legHazards, readLegReports } from './leg-hazards.ts';
import { type ResolvedRoute, resolveRoute } from './resolve-route.ts';
import { type SettledOptions, settled } from './settings.ts';
import { windOfSources } from './source-wind.ts';

/** The curtain’s cells: 500 ft deep from 1,250 ft below to 30,750 ft above the altimeter’s zero, so that every whole
 * thousand lies in the middle of a cell and just over a top still counts as ice. */
const CELL_DEPTH_FT = 500;
const LOWEST_FT = -1250;
const CELL_COUNT = 64;
/** Altitude whose wind times the points, ft indicated; a fixed altitude takes its place. */
const TIMING_FT = 9000;

/** Called as each stage ends; for benchmarks only, never part of an answer. */
export type StageClock = (stage: 'read' | 'physics' | 'draws' | 'choice' | 'answer') => void;

export async function makeBrief(
  deps: Dependencies,
  request: BriefRequest,
  { operators, onStage = () => undefined }: { operators: readonly string[]; onStage?: StageClock },
): Promise<Brief> {
  const plan = await makePlan(deps, request, operators);
  const [data, spotHeights, reports] = await Promise.all([
    readLegData(deps, { route: plan.route, operators, ...readingWindow(plan) }),
    deps.places.spotHeights(operators),
    readLegReports(deps, { ...plan, operators, ...readingWindow(plan) }),
  ]);
  onStage('read');
  const first = gatherWeather(data, plan.route, plan.stillAirEtaMs);
  const firstColumns = weatherColumnsFromProfiles(first.profiles, plan.axis);
  const etaMs = etasWith(plan, windOfSources(firstColumns, first.sources));
  const { draw, ...placed } = airAt(data, plan, etaMs);
  onStage('physics');
  const air = { ...placed, drawn: draw() };
  raiseToDraws(air.icing, air.drawn);
  onStage('draws');
  const minimum = minimumAltitudes({
    route: plan.route,
    entered: plan.options.minimumAltitudes.map((each) => ({
      fromM: mFromNm(each.fromNm),
      toM: mFromNm(each.toNm),
      altitudeM: mFromFt(each.altitudeFt),
    })),
    spotHeights,
    corridorHalfWidthM: plan.corridorHalfWidthM,
  });
  const hazards = legHazards(reports, { ...plan, ...air, etaMs });
  const choice = chooseAltitude({
    ...plan,
    ...air,
    minimum,
    candidateAltitudesM: candidateAltitudesM({
      ...plan,
      askedAltitudesM: askedFt(plan.options)?.map(mFromFt),
    }),
    fluidOnBoardM3: plan.options.fluidOnBoardM3,
    hazards: hazards.map(({ hazard }) => hazard),
  });
  onStage('choice');
  const parts = { ...plan, ...air, etaMs, minimum, hazards, choice };
  const brief: Brief = {
    type: 'FeatureCollection',
    bbox: bboxOf(Array.from(plan.route.latDeg, (latDeg, point) => [plan.route.lonDeg[point]!, latDeg])),
    brief: briefMember(parts),
    features: briefFeatures(parts),
  };
  onStage('answer');
  return brief;
}

/** What the request alone decides, before any weather is read. */
interface Plan {
  readonly options: SettledOptions;
  readonly aircraft: Aircraft;
  readonly departureMs: number;
  readonly resolved: ResolvedRoute;
  readonly route: RoutePoints;
  readonly axis: AltitudeAxis;
  readonly indicatedMinusPressureM: number;
  readonly corridorHalfWidthM: number;
  readonly stillAirEtaMs: Float64Array;
}

async function makePlan(
  deps: Dependencies,
  request: BriefRequest,
  operators: readonly string[],
): Promise<Plan> {
  const options = settled(request.options);
  const departureMs = Date.parse(request.departure.atUtc);
  const resolved = await resolveRoute(request.route, { places: deps.places, operators, departureMs });
  const shiftM = indicatedAltitudeM(0, paFromHPa(options.altimeterSettingHPa));
  const plan = {
    options,
    aircraft: aircraftOf(request.aircraft),
    departureMs,
    resolved,
    route: makeRoutePoints(resolved.fixes),
    axis: makeAltitudeAxis({
      lowestM: mFromFt(LOWEST_FT) - shiftM,
      cellDepthM: mFromFt(CELL_DEPTH_FT),
      cellCount: CELL_COUNT,
    }),
    indicatedMinusPressureM: shiftM,
    corridorHalfWidthM: mFromNm(options.corridorHalfWidthNm),
  };
  return { ...plan, stillAirEtaMs: etasWith(plan, () => undefined) };
}

function etasWith(plan: Omit<Plan, 'stillAirEtaMs'>, windAt: WindAt): Float64Array {
  const cruiseIndicatedM = mFromFt(plan.options.fixedAltitudeFt ?? TIMING_FT);
  const cruisePressureAltitudeM = cruiseIndicatedM - plan.indicatedMinusPressureM;
  return makeTiming({ ...plan, cruisePressureAltitudeM, windAt }).etaMs;
}

/** Nobody is over a point before a tailwind of two thirds of the speed brings him there, or after a headwind of half of it. */
const EARLIEST_RATIO = 0.6;
const LATEST_RATIO = 2;

function readingWindow({ departureMs, stillAirEtaMs }: Plan): Omit<LegWindow, 'route' | 'operators'> {
  const after = (ratio: number) => stillAirEtaMs.map((etaMs) => departureMs + ratio * (etaMs - departureMs));
  return {
    earliestMs: after(EARLIEST_RATIO),
    latestMs: after(LATEST_RATIO),
    leg: { fromMs: departureMs, toMs: stillAirEtaMs.at(-1)! },
  };
}

function askedFt(options: SettledOptions): readonly number[] | undefined {
  return options.fixedAltitudeFt === undefined ? options.altitudesFt : [options.fixedAltitudeFt];
}

export function aircraftOf(given: BriefRequest['aircraft']): Aircraft {
  if (typeof given !== 'string') return aircraftFromProfile(given);
  const profile = findBuiltInAircraft(given);
  if (profile === undefined) {
    throw new InvalidRequestError({
      field: 'aircraft',
      found: JSON.stringify(given),
      expected: 'an id of GET /api/aircraft, or a profile',
    });
  }
  return aircraftFromProfile(profile);
}

/** Air and icing over the route points at the given times. */
function airAt(data: LegData, { route, axis, aircraft, options }: Plan, etaMs: Float64Array): PlacedAir {
  const gathered = gatherWeather(data, route, etaMs);
  const columns = weatherColumnsFromProfiles(gathered.profiles, axis);
  const settings: DiagnosisSettings = {
    trueAirspeedMps: trueAirspeeds(aircraft, axis),
    wingNoseRadiusM: aircraft.wingNoseRadiusM,
    rodRadiusM: aircraft.rodRadiusM,
    dropletNumberPerM3: DROPLET_NUMBER_PER_M3[options.airMass],
  };
  const { weather, icing, evidence } = diagnoseSources(columns, gathered.sources, settings);
  nameUncovered(weather.state, gathered, axis);
  nameUncovered(icing.state, gathered, axis);
  return {
    weather,
    icing,
    used: gathered.used,
    draw: () =>
      drawIcing({
        columns: { weather: columns, evidence },
        sources: gathered.sources,
        pooled: { weather, icing },
        settings,
        distanceM: route.distanceM,
      }),
  };
}

interface PlacedAir {
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly used: readonly UsedSource[];
  readonly draw: () => DrawnIcing;
}

export function trueAirspeeds(aircraft: Aircraft, axis: AltitudeAxis): Float64Array {
  return Float64Array.from({ length: axis.cellCount }, (_, cell) =>
    tableValue(aircraft.trueAirspeedMps, axis.lowestM + (cell + 0.5) * axis.cellDepthM),
  );
}

/** A point that no source reaches says why: too old, outside, or nothing at all. Known cells are never touched. */
function nameUncovered(state: Uint8Array, gathered: GatheredWeather, axis: AltitudeAxis): void {
  for (let index = 0; index < state.length; index += 1) {
    if (state[index] !== CELL_STATE.noData) continue;
    state[index] = gathered.uncoveredState[Math.floor(index / axis.cellCount)]!;
  }
}
