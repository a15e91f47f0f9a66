/** Reads once, for a leg, every ascent and grid hour that may speak for it; the only stage of a brief that waits. */
import type { RoutePoints } from '../flight/types.ts';
import { CELL_STATE } from '../science/columns.ts';
import type {
  Dependencies,
  GridHour,
  GridManifest,
  GridQuantity,
  ObjectStore,
  StoredSounding,
} from '../sources/ports.ts';
import { type GridColumn, readGridColumns, readManifest } from '../store/grid-reader.ts';
import { GRID_TOLERANCE_MS, runsBestFirst } from './grid-hours.ts';
import { oneALaunch } from './launches.ts';
import { SOUNDING_REACH_M, SOUNDING_REACH_MS } from './weights.ts';

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
  const runs = runsBestFirst(allHours, window.fromMs, window.toMs);
  return {
    soundings: oneALaunch(soundings),
    ...(await readFirstUsableRun(deps.objects, runs, window.route)),
  };
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
