/** Finds every ascent and grid hour that can speak for a leg, and says how much each counts at each route point. */
import { greatCircleDistanceM } from '../flight/great-circle.ts';
import type { RoutePoints } from '../flight/types.ts';
import { CELL_STATE, type CellState, type Profile } from '../science/columns.ts';
import type { PoolWeights } from '../science/pool-columns.ts';
import type {
  Dependencies,
  GridHour,
  GridManifest,
  GridQuantity,
  ObjectStore,
  StoredSounding,
} from '../sources/ports.ts';
import { type GridColumn, readGridColumns, readManifest } from '../store/grid-reader.ts';
import { blendProfiles, GRID_TOLERANCE_MS, hoursAt, runsNewestFirst } from './grid-hours.ts';
import { profileOfSounding } from './sounding-profile.ts';
import {
  gridWeight,
  NO_WEIGHT,
  SOUNDING_REACH_M,
  SOUNDING_REACH_MS,
  type SourceWeight,
  soundingWeight,
} from './weights.ts';

/** A source in use, with what the answer says of it. */
export interface UsedSource {
  readonly kind: 'sounding' | 'grid';
  readonly id: string;
  readonly name: string;
  readonly runMs: number | undefined;
  readonly validMs: number;
  readonly latDeg: number | undefined;
  readonly lonDeg: number | undefined;
  /** Largest time difference in use, ms. */
  readonly offsetMs: number;
  readonly nearestM: number;
  /** Part of the route points that use it, 0-1. */
  readonly share: number;
  readonly attribution: string;
  /** Messages of the source's file that were refused. */
  readonly refusedMessages: number;
}

/** Everything that speaks for the leg. Profiles and weights share their source order. */
export interface GatheredWeather {
  readonly profiles: readonly Profile[];
  readonly weights: PoolWeights;
  readonly used: readonly UsedSource[];
  /** Why a point that no source reaches is unknown, one code a point. */
  readonly uncoveredState: Uint8Array;
}

/** What can be read once for a leg, whatever the exact times over its points. */
export interface LegData {
  readonly soundings: readonly StoredSounding[];
  readonly hours: readonly GridHour[];
  readonly manifests: readonly GridManifest[];
  /** [hour][point]. */
  readonly columns: readonly (readonly GridColumn[])[];
  /** A newer run is published but does not read back. */
  readonly isDamaged: boolean;
}

export interface LegWindow {
  readonly route: RoutePoints;
  readonly fromMs: number;
  readonly toMs: number;
  readonly operators: readonly string[];
}

const M_PER_DEG_LAT = 111_000;

/** Reads the stores; the only stage of a brief that waits for anything. */
export async function readLegData(deps: Dependencies, window: LegWindow): Promise<LegData> {
  const [soundings, allHours] = await Promise.all([
    deps.soundings.find({
      operators: window.operators,
      fromMs: window.fromMs - SOUNDING_REACH_MS,
      toMs: window.toMs + SOUNDING_REACH_MS,
      ...boxAround(window.route, SOUNDING_REACH_M),
    }),
    deps.grids.find(window.operators, window.fromMs - GRID_TOLERANCE_MS, window.toMs + GRID_TOLERANCE_MS),
  ]);
  const runs = runsNewestFirst(allHours, window.fromMs, window.toMs);
  return { soundings, ...(await readFirstUsableRun(deps.objects, runs, window.route)) };
}

type RunData = Omit<LegData, 'soundings'>;

/** Runs looked at before giving up; a supply that fails more often than this is broken. */
const MOST_RUNS_TRIED = 8;

/**
 * The newest run that has temperature and humidity over some of the route. A run that lacks them, lies elsewhere or does not
 * read back must not hide an older one; what does not read back is remembered, so that the air counts as not decoded.
 */
async function readFirstUsableRun(
  objects: ObjectStore,
  runs: readonly (readonly GridHour[])[],
  route: RoutePoints,
): Promise<RunData> {
  let isDamaged = false;
  for (const hours of runs.slice(0, MOST_RUNS_TRIED)) {
    const manifests = await Promise.all(hours.map((hour) => readManifest(objects, hour.manifestKey)));
    const isWhole = manifests.every((manifest) => manifest !== undefined);
    isDamaged ||= !isWhole;
    if (!isWhole || !manifests.some((manifest) => hasAir(manifest))) continue;
    const columns = await Promise.all(manifests.map((manifest) => readGridColumns(objects, manifest, route)));
    const isOutside = columns
      .flat()
      .every((column) => column.kind === 'unknown' && column.state === CELL_STATE.outsideCoverage);
    if (!isOutside) return { hours, manifests, columns, isDamaged };
  }
  return { hours: [], manifests: [], columns: [], isDamaged };
}

/** Levels of both that make a column; fewer say nothing of where ice is. */
const LEAST_LEVELS = 2;

function hasAir(manifest: GridManifest): boolean {
  const levels = (quantity: GridQuantity) =>
    manifest.slices.filter((slice) => slice.quantity === quantity && slice.levelPa !== null).length;
  return levels('temperatureK') >= LEAST_LEVELS && levels('relativeHumidityRatio') >= LEAST_LEVELS;
}

/** Box around the route; near a pole or around the globe it takes all longitudes. */
export function boxAround(
  route: Pick<RoutePoints, 'latDeg' | 'lonDeg'>,
  reachM: number,
): { southDeg: number; northDeg: number; lonRanges: readonly (readonly [number, number])[] } {
  const reachDeg = reachM / M_PER_DEG_LAT;
  const southDeg = Math.max(-90, Math.min(...route.latDeg) - reachDeg);
  const northDeg = Math.min(90, Math.max(...route.latDeg) + reachDeg);
  const widestLat = Math.max(Math.abs(southDeg), Math.abs(northDeg));
  if (widestLat > 85) return { southDeg, northDeg, lonRanges: [[-180, 180]] };
  const lonReachDeg = reachDeg / Math.cos((widestLat * Math.PI) / 180);
  const ranges = Array.from(route.lonDeg, (lonDeg) => [lonDeg - lonReachDeg, lonDeg + lonReachDeg] as const);
  const west = Math.min(...ranges.map(([low]) => low));
  const east = Math.max(...ranges.map(([, high]) => high));
  const crosses = Math.max(...route.lonDeg) - Math.min(...route.lonDeg) > 180;
  if (crosses || east - west >= 360) return { southDeg, northDeg, lonRanges: [[-180, 180]] };
  if (west < -180)
    return {
      southDeg,
      northDeg,
      lonRanges: [
        [-180, east],
        [west + 360, 180],
      ],
    };
  if (east > 180)
    return {
      southDeg,
      northDeg,
      lonRanges: [
        [west, 180],
        [-180, east - 360],
      ],
    };
  return { southDeg, northDeg, lonRanges: [[west, east]] };
}

/** Columns and weights for the given times over the points. Pure. */
export function gatherWeather(data: LegData, route: RoutePoints, etaMs: Float64Array): GatheredWeather {
  const pointCount = route.pointCount;
  const sources: { profile: Profile; weightAt: (point: number) => SourceWeight }[] = [];
  const used: UsedSource[] = [];
  const uncoveredState = new Uint8Array(pointCount).fill(CELL_STATE.outsideCoverage);
  if (data.soundings.length === 0 && data.hours.length === 0) uncoveredState.fill(CELL_STATE.noData);
  if (data.isDamaged && data.hours.length === 0) uncoveredState.fill(CELL_STATE.decodeFailed);

  for (const sounding of data.soundings) {
    const source = soundingSource(sounding, route, etaMs, uncoveredState);
    if (source === undefined) continue;
    sources.push({ profile: profileOfSounding(sounding), weightAt: (point) => source.weights[point]! });
    used.push(source.used);
  }
  const perHour = new Map<number, { points: number; offsetMs: number }>();
  for (let point = 0; point < pointCount; point += 1) {
    const found = gridAt(data, point, etaMs[point]!);
    if (found.kind === 'unknown') {
      if (data.hours.length > 0) uncoveredState[point] = found.state;
      continue;
    }
    sources.push({
      profile: found.profile,
      weightAt: (other) => (other === point ? gridWeight(found.offsetMs) : NO_WEIGHT),
    });
    for (const hour of new Set(found.hours)) {
      const known = perHour.get(hour) ?? { points: 0, offsetMs: 0 };
      const offsetMs = Math.abs(data.hours[hour]!.validMs - etaMs[point]!);
      perHour.set(hour, { points: known.points + 1, offsetMs: Math.max(known.offsetMs, offsetMs) });
    }
  }
  for (const [hour, use] of perHour) used.push(gridUse(data, hour, { ...use, pointCount }));
  return {
    profiles: sources.map((each) => each.profile),
    weights: weightsOf(sources, pointCount),
    used,
    uncoveredState,
  };
}

function weightsOf(
  sources: readonly { weightAt: (point: number) => SourceWeight }[],
  pointCount: number,
): PoolWeights {
  const sourceCount = sources.length;
  const humidity = new Float64Array(pointCount * sourceCount);
  const temperature = new Float64Array(pointCount * sourceCount);
  sources.forEach((source, index) => {
    for (let point = 0; point < pointCount; point += 1) {
      const weight = source.weightAt(point);
      humidity[point * sourceCount + index] = weight.humidity;
      temperature[point * sourceCount + index] = weight.temperature;
    }
  });
  return { pointCount, sourceCount, humidity, temperature };
}

function soundingSource(
  sounding: StoredSounding,
  route: RoutePoints,
  etaMs: Float64Array,
  uncoveredState: Uint8Array,
): { weights: SourceWeight[]; used: UsedSource } | undefined {
  const weights: SourceWeight[] = [];
  let nearestM = Number.POSITIVE_INFINITY;
  let offsetMs = 0;
  let points = 0;
  for (let point = 0; point < route.pointCount; point += 1) {
    const distanceM = greatCircleDistanceM(
      { latDeg: sounding.latDeg, lonDeg: sounding.lonDeg },
      { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! },
    );
    const pointOffsetMs = sounding.timeMs - etaMs[point]!;
    const weight = soundingWeight(distanceM, pointOffsetMs);
    weights.push(weight);
    nearestM = Math.min(nearestM, distanceM);
    if (weight.humidity > 0) {
      points += 1;
      offsetMs = Math.max(offsetMs, Math.abs(pointOffsetMs));
    } else if (distanceM <= SOUNDING_REACH_M) {
      uncoveredState[point] = CELL_STATE.tooOld;
    }
  }
  if (points === 0) return undefined;
  return {
    weights,
    used: {
      kind: 'sounding',
      id: `sounding:${sounding.operator}:${sounding.stationId}:${sounding.timeMs}`,
      name: sounding.stationId,
      runMs: undefined,
      validMs: sounding.timeMs,
      latDeg: sounding.latDeg,
      lonDeg: sounding.lonDeg,
      offsetMs,
      nearestM,
      share: points / route.pointCount,
      attribution: `Ascent of station ${sounding.stationId}, loaded by operator ${sounding.operator}`,
      refusedMessages: 0,
    },
  };
}

type GridAt =
  | {
      readonly kind: 'profile';
      readonly profile: Profile;
      readonly hours: readonly number[];
      readonly offsetMs: number;
    }
  | { readonly kind: 'unknown'; readonly state: CellState };

function gridAt(data: LegData, point: number, instantMs: number): GridAt {
  const pair = hoursAt(data.hours, instantMs);
  if (pair === undefined) return { kind: 'unknown', state: CELL_STATE.tooOld };
  const before = data.columns[pair.before]![point]!;
  const after = data.columns[pair.after]![point]!;
  if (before.kind === 'unknown') return before;
  if (after.kind === 'unknown') return after;
  return {
    kind: 'profile',
    profile: blendProfiles(before.profile, after.profile, pair.laterShare),
    hours: [pair.before, pair.after],
    offsetMs: pair.offsetMs,
  };
}

function gridUse(
  data: LegData,
  hour: number,
  use: { points: number; offsetMs: number; pointCount: number },
): UsedSource {
  const row = data.hours[hour]!;
  const manifest = data.manifests[hour]!;
  return {
    kind: 'grid',
    id: `grid:${row.operator}:${row.model}:${row.runMs}:${row.validMs}`,
    name: `${manifest.attribution} model ${row.model}`,
    runMs: row.runMs,
    validMs: row.validMs,
    latDeg: undefined,
    lonDeg: undefined,
    offsetMs: use.offsetMs,
    nearestM: 0,
    share: use.points / use.pointCount,
    attribution: manifest.attribution,
    refusedMessages: manifest.rejected.length,
  };
}
