/** Reads once, for a leg, every ascent and grid hour that may speak for it; the only stage of a brief that waits. */
import type { RoutePoints } from '../flight/types.ts';
import type { Profile } from '../science/columns.ts';
import type {
  BriefReads,
  GridHour,
  GridManifest,
  GridQuantity,
  ObjectReader,
  StoredSounding,
} from '../sources/ports.ts';
import { type GridColumn, isInside, readGridColumns, readManifest } from '../store/grid-reader.ts';
import {
  covers,
  GRID_TOLERANCE_MS,
  type LegTimes,
  type Run,
  runsBestFirst,
  servingHours,
} from './grid-hours.ts';
import { oneALaunch } from './launches.ts';
import { SOUNDING_REACH_M, SOUNDING_REACH_MS } from './weights.ts';

/** What was read of one run of a model. */
export interface RunData extends Run {
  /** One an hour; hours are those that read back and hold air. */
  readonly manifests: readonly GridManifest[];
  /** [hour][point]; undefined where the point was not asked for, since a better run serves it. */
  readonly columns: readonly (readonly (GridColumn | undefined)[])[];
}

/** What speaks for one departure, whatever the exact times over the points. */
export interface LegData {
  readonly soundings: readonly StoredSounding[];
  /** Best first: of the runs that know the air at a point the first speaks for it. */
  readonly runs: readonly RunData[];
  /** A run is published but does not read back. */
  readonly isDamaged: boolean;
}

/** What is read once for all departures along a route; `dataForDeparture` takes out what speaks for one of them. */
export interface ReadLegData extends LegData {
  /** Published hours around all departures, those of runs that were not read among them. */
  readonly hours: readonly GridHour[];
}

/** When somebody may be over each point who leaves at one instant, epoch ms: at the earliest and at the latest. */
export interface LegWindow {
  readonly earliestMs: Float64Array;
  readonly latestMs: Float64Array;
  /** The flight as it is expected. */
  readonly leg: LegTimes;
}

/** The window of the first departure, and how much later the last one leaves, ms. */
export interface ReadingWindow extends LegWindow {
  readonly route: RoutePoints;
  readonly laterByMs: number;
  readonly operators: readonly string[];
}

const M_PER_DEG_LAT = 111_000;

/** Reads the stores; the only stage of a brief that waits for anything. */
export async function readLegData(deps: BriefReads, window: ReadingWindow): Promise<ReadLegData> {
  const { fromMs, toMs } = endsOf(window, window.laterByMs);
  const [soundings, hours] = await Promise.all([
    deps.soundings.find({
      operators: window.operators,
      fromMs: fromMs - SOUNDING_REACH_MS,
      toMs: toMs + SOUNDING_REACH_MS,
      ...boxAround(window.route, SOUNDING_REACH_M),
    }),
    deps.grids.find(window.operators, fromMs - GRID_TOLERANCE_MS, toMs + GRID_TOLERANCE_MS),
  ]);
  const runs = runsBestFirst(hours, window.leg, GRID_TOLERANCE_MS + toMs - window.leg.toMs);
  return { soundings, hours, ...(await readRuns(deps.objects, runs, window)) };
}

/** What was read, as if it had been read for one departure alone: its ascents, its hours, its order of the runs. Pure. */
export function dataForDeparture(read: ReadLegData, window: LegWindow): LegData {
  const { fromMs, toMs } = endsOf(window);
  const soundings = read.soundings.filter(
    ({ timeMs }) => timeMs >= fromMs - SOUNDING_REACH_MS && timeMs <= toMs + SOUNDING_REACH_MS,
  );
  const hours = read.hours.filter(
    ({ validMs }) => validMs >= fromMs - GRID_TOLERANCE_MS && validMs <= toMs + GRID_TOLERANCE_MS,
  );
  const runs = runsBestFirst(hours, window.leg, GRID_TOLERANCE_MS + toMs - window.leg.toMs);
  const readRunOf = new Map(read.runs.map((run) => [nameOf(run), run]));
  return {
    soundings: oneALaunch(soundings),
    runs: runs.flatMap((run) => {
      const known = readRunOf.get(nameOf(run));
      return known === undefined ? [] : hoursOfRun(known, run);
    }),
    isDamaged: read.isDamaged,
  };
}

function endsOf(window: LegWindow, laterByMs = 0): LegTimes {
  return { fromMs: Math.min(...window.earliestMs), toMs: Math.max(...window.latestMs) + laterByMs };
}

function nameOf({ hours }: Run): string {
  const { operator, model, runMs } = hours[0]!;
  return `${runMs} ${model} ${operator}`;
}

/** Of a run that was read, the hours of the run as one departure sees it; none when it has none of them. */
function hoursOfRun(read: RunData, { hours, stepMs }: Run): RunData[] {
  const kept = read.hours.flatMap((hour, index) => (hours.includes(hour) ? [index] : []));
  if (kept.length === 0) return [];
  const of = <Item>(items: readonly Item[]) => kept.map((index) => items[index]!);
  return [{ hours: of(read.hours), stepMs, manifests: of(read.manifests), columns: of(read.columns) }];
}

/** Runs read in vain before giving up; a supply in which more are holed or damaged is broken. */
const MOST_UNHELPFUL = 6;
/** The same once only later departures lack air: where the newest run ends, an older one seldom goes on. */
const MOST_UNHELPFUL_LATER = 2;

/**
 * Run after run, each for the points that no run before it serves for all departures. A run that lies elsewhere, holds no air or
 * does not read back costs a look at a manifest, and hides none behind it.
 */
export async function readRuns(
  objects: ObjectReader,
  runs: readonly Run[],
  window: ReadingWindow,
): Promise<Omit<LegData, 'soundings'>> {
  const read: RunData[] = [];
  const elsewhere = new Set<string>();
  let isDamaged = false;
  let unhelpful = 0;
  let open = Array.from(window.earliestMs, (_, point) => point);
  const openAtFirst = new Set(open);
  for (const run of runs) {
    const mostUnhelpful = openAtFirst.size > 0 ? MOST_UNHELPFUL : MOST_UNHELPFUL_LATER;
    if (open.length === 0 || unhelpful >= mostUnhelpful) break;
    const model = `${run.hours[0]!.operator} ${run.hours[0]!.model}`;
    if (elsewhere.has(model)) continue;
    const opened = await openRun(objects, run, { window, open });
    isDamaged ||= opened.isDamaged;
    if (opened.hours.length === 0) continue;
    const inside = open.filter((point) =>
      isInside(opened.manifests[0]!, window.route.latDeg[point]!, window.route.lonDeg[point]!),
    );
    if (inside.length === 0) {
      elsewhere.add(model);
      continue;
    }
    const data = await readRun(objects, opened, { window, points: inside });
    read.push(data);
    const openBefore = open.length + openAtFirst.size;
    for (const point of inside) if (isServed(data, timesAt(window, point))) openAtFirst.delete(point);
    open = open.filter((point) => !isServed(data, timesAt(window, point, window.laterByMs)));
    if (open.length + openAtFirst.size === openBefore) unhelpful += 1;
  }
  return { runs: read, isDamaged };
}

interface PointTimes extends LegTimes {
  readonly point: number;
}

function timesAt(window: LegWindow, point: number, laterByMs = 0): PointTimes {
  return { point, fromMs: window.earliestMs[point]!, toMs: window.latestMs[point]! + laterByMs };
}

interface OpenedRun extends Run {
  readonly manifests: readonly GridManifest[];
  readonly isDamaged: boolean;
}

/** The hours of a run that the open points may need, those that read back and hold air. */
async function openRun(
  objects: ObjectReader,
  run: Run,
  { window, open }: { readonly window: ReadingWindow; readonly open: readonly number[] },
): Promise<OpenedRun> {
  const fromMs = Math.min(...open.map((point) => window.earliestMs[point]!));
  const toMs = Math.max(...open.map((point) => window.latestMs[point]!)) + window.laterByMs;
  const needed = servingHours(run.hours, fromMs, toMs);
  const manifests = await Promise.all(needed.map((hour) => readManifest(objects, hour.manifestKey)));
  const usable = needed.flatMap((hour, index) => {
    const manifest = manifests[index];
    return manifest !== undefined && hasAir(manifest) ? [{ hour, manifest }] : [];
  });
  return {
    hours: usable.map(({ hour }) => hour),
    stepMs: run.stepMs,
    manifests: usable.map(({ manifest }) => manifest),
    isDamaged: manifests.includes(undefined),
  };
}

async function readRun(
  objects: ObjectReader,
  { hours, stepMs, manifests }: OpenedRun,
  { window, points }: { readonly window: ReadingWindow; readonly points: readonly number[] },
): Promise<RunData> {
  const { route } = window;
  const places = {
    latDeg: Float64Array.from(points, (point) => route.latDeg[point]!),
    lonDeg: Float64Array.from(points, (point) => route.lonDeg[point]!),
  };
  const columns = await Promise.all(
    manifests.map(async (manifest) => {
      const found = await readGridColumns(objects, manifest, places);
      const all = new Array<GridColumn | undefined>(route.pointCount).fill(undefined);
      points.forEach((point, index) => {
        all[point] = found[index];
      });
      return all;
    }),
  );
  return { hours, stepMs, manifests, columns };
}

/** The run has hours around the point's window, and knows the air there in each of them. */
function isServed({ hours, stepMs, columns }: RunData, { point, ...times }: PointTimes): boolean {
  if (!covers(hours, times, stepMs)) return false;
  const serving = new Set(servingHours(hours, times.fromMs, times.toMs));
  return hours.every((hour, index) => {
    const column = columns[index]![point];
    return !serving.has(hour) || (column?.kind === 'profile' && knowsAir(column.profile));
  });
}

/** A column without values, as where a model's grid is masked, says no more than none. */
export function knowsAir({ temperatureK, relativeHumidityRatio }: Profile): boolean {
  const known = temperatureK.reduce(
    (count, kelvin, level) => count + Number(Number.isFinite(kelvin + relativeHumidityRatio[level]!)),
    0,
  );
  return known >= LEAST_LEVELS;
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
