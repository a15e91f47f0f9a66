/** Finds every ascent and grid hour that can speak for a leg, and says how much each counts at each route point. */

import type { RoutePoints } from '../flight/types.ts';
import { CELL_STATE, type CellState, type Profile } from '../science/columns.ts';
import { type ErrorSpread, forecastErrors, soundingErrors } from '../science/error-spreads.ts';
import { greatCircleDistanceM } from '../science/great-circle.ts';
import { listPointSources, type PointSources, type SourceAtPoint } from '../science/point-sources.ts';
import type { GridHour, GridManifest, StoredSounding } from '../sources/ports.ts';
import { blendProfiles, type HourPair, hoursAt } from './grid-hours.ts';
import { madeMs, stationOf } from './launches.ts';
import { knowsAir, type LegData, type RunData } from './leg-data.ts';
import { profileOfSounding } from './sounding-profile.ts';
import { gridWeight, NO_WEIGHT, SOUNDING_REACH_M, soundingWeight } from './weights.ts';

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
  /** A forecast hour's: how far from its time it is used for want of the model's next hour on that side, ms; 0 else. */
  readonly aloneMs: number;
  readonly nearestM: number;
  /** Route points that use it, ascending. */
  readonly points: readonly number[];
  readonly attribution: string;
  /** Messages of the source's file that were refused. */
  readonly refusedMessages: number;
  /** Of a forecast hour; undefined for an ascent, which never has any. */
  readonly hasCloudWater: boolean | undefined;
}

/** Everything that speaks for the leg. Profiles and sources share their order. */
export interface GatheredWeather {
  readonly profiles: readonly Profile[];
  readonly sources: PointSources;
  readonly used: readonly UsedSource[];
  /** Why a point that no source reaches is unknown, one code a point. */
  readonly uncoveredState: Uint8Array;
}

/** Columns and weights for the given times over the points. Pure. */
export function gatherWeather(data: LegData, route: RoutePoints, etaMs: Float64Array): GatheredWeather {
  const { pointCount } = route;
  const uncoveredState = new Uint8Array(pointCount).fill(CELL_STATE.outsideCoverage);
  if (data.soundings.length === 0 && data.runs.length === 0) uncoveredState.fill(CELL_STATE.noData);
  if (data.isDamaged) uncoveredState.fill(CELL_STATE.decodeFailed);
  const ascents = data.soundings.map((sounding) =>
    soundingSource(data.soundings, sounding, { route, etaMs, uncoveredState }),
  );
  const grids = gridSources(data, etaMs, uncoveredState);
  const sources = screened([...ascents, ...grids.sources], pointCount);
  return {
    profiles: sources.map((each) => each.profile),
    sources: listPointSources({ pointCount, sourceCount: sources.length }, (point, source) => {
      const { worth } = sources[source]!;
      return worth[point];
    }),
    used: [...sources.flatMap((source) => source.used?.() ?? []), ...grids.used],
    uncoveredState,
  };
}

/** One profile with what it is worth over each route point; undefined where it does not count. */
interface Source {
  readonly profile: Profile;
  readonly worth: (SourceAtPoint | undefined)[];
  /** What the answer says of it, by the points where it counts; a grid's columns are told by the hour instead. */
  readonly used?: () => UsedSource;
}

/** A source with less than this part of the heaviest one's weight at a point is screened by it and left out (judgement). */
const LEAST_SHARE = 0.05;

/** The sources that count somewhere, each only where no other is far heavier. */
function screened(sources: readonly Source[], pointCount: number): Source[] {
  for (let point = 0; point < pointCount; point += 1) {
    const heaviest = sources.reduce((most, { worth }) => Math.max(most, worth[point]?.humidity ?? 0), 0);
    for (const { worth } of sources) {
      if ((worth[point]?.humidity ?? 0) < LEAST_SHARE * heaviest) worth[point] = undefined;
    }
  }
  return sources.filter(({ worth }) => worth.some((each) => each !== undefined));
}

/** One source a point that a grid reaches, and how each hour is used. */
function gridSources(
  data: LegData,
  etaMs: Float64Array,
  uncoveredState: Uint8Array,
): { readonly sources: Source[]; readonly used: UsedSource[] } {
  const pointCount = etaMs.length;
  const sources: Source[] = [];
  const uses = new Map<GridHour, HourUse>();
  for (let point = 0; point < pointCount; point += 1) {
    const found = gridAt(data, point, etaMs[point]!);
    if (found.kind === 'unknown') {
      uncoveredState[point] = found.state ?? uncoveredState[point]!;
      continue;
    }
    const worth = new Array<SourceAtPoint | undefined>(pointCount).fill(undefined);
    worth[point] = { ...gridWeight(found.offsetMs), errors: found.errors };
    sources.push({ profile: found.profile, worth });
    for (const { hour, manifest } of found.hours) {
      const known = uses.get(hour) ?? { manifest, points: [], offsetMs: 0, aloneMs: 0 };
      const offsetMs = Math.abs(hour.validMs - etaMs[point]!);
      if (known.points.at(-1) !== point) known.points.push(point);
      uses.set(hour, {
        ...known,
        offsetMs: Math.max(known.offsetMs, offsetMs),
        aloneMs: Math.max(known.aloneMs, found.isBracketed ? 0 : offsetMs),
      });
    }
  }
  return { sources, used: [...uses].map(([hour, use]) => gridUse(hour, use)) };
}

/** A later ascent of the same station, or an earlier one, stands between this one and the instant. */
function isSuperseded(all: readonly StoredSounding[], one: StoredSounding, instantMs: number): boolean {
  return all.some(
    (other) =>
      stationOf(other) === stationOf(one) &&
      Math.sign(madeMs(other) - madeMs(one)) === Math.sign(instantMs - madeMs(one)) &&
      Math.abs(madeMs(other) - madeMs(one)) <= Math.abs(instantMs - madeMs(one)) &&
      madeMs(other) !== madeMs(one),
  );
}

function soundingSource(
  all: readonly StoredSounding[],
  sounding: StoredSounding,
  at: {
    readonly route: RoutePoints;
    readonly etaMs: Float64Array;
    readonly uncoveredState: Uint8Array;
  },
): Source {
  const { route, etaMs, uncoveredState } = at;
  let nearestM = Number.POSITIVE_INFINITY;
  const worth = Array.from(etaMs, (instantMs, point): SourceAtPoint | undefined => {
    const distanceM = greatCircleDistanceM(
      { latDeg: sounding.latDeg, lonDeg: sounding.lonDeg },
      { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! },
    );
    const offsetMs = madeMs(sounding) - instantMs;
    nearestM = Math.min(nearestM, distanceM);
    const weight = isSuperseded(all, sounding, instantMs) ? NO_WEIGHT : soundingWeight(distanceM, offsetMs);
    if (weight.humidity > 0) return { ...weight, errors: soundingErrors(distanceM, offsetMs) };
    if (distanceM <= SOUNDING_REACH_M) uncoveredState[point] = CELL_STATE.tooOld;
    return undefined;
  });
  return {
    profile: profileOfSounding(sounding),
    worth,
    used: () => soundingUse(sounding, nearestM, { etaMs, worth }),
  };
}

function soundingUse(
  sounding: StoredSounding,
  nearestM: number,
  { etaMs, worth }: { readonly etaMs: Float64Array; readonly worth: readonly (SourceAtPoint | undefined)[] },
): UsedSource {
  const points = worth.flatMap((each, point) => (each === undefined ? [] : [point]));
  return {
    kind: 'sounding',
    id: `sounding:${sounding.operator}:${sounding.stationId}:${sounding.timeMs}`,
    name: sounding.stationId,
    runMs: undefined,
    validMs: madeMs(sounding),
    latDeg: sounding.latDeg,
    lonDeg: sounding.lonDeg,
    offsetMs: Math.max(...points.map((point) => Math.abs(madeMs(sounding) - etaMs[point]!))),
    aloneMs: 0,
    nearestM,
    points,
    attribution: `Ascent of station ${sounding.stationId}, loaded by operator ${sounding.operator}`,
    refusedMessages: 0,
    hasCloudWater: undefined,
  };
}

interface UsedHour {
  readonly hour: GridHour;
  readonly manifest: GridManifest;
}

type GridAt =
  | {
      readonly kind: 'profile';
      readonly profile: Profile;
      readonly hours: readonly UsedHour[];
      readonly offsetMs: number;
      /** As of HourPair. */
      readonly isBracketed: boolean;
      readonly errors: ErrorSpread;
    }
  /** `state` is undefined where no run was asked for the point. */
  | { readonly kind: 'unknown'; readonly state: CellState | undefined };

/**
 * Of the runs, best first, the first that knows the air around the instant; else the first that knows it near the instant, or
 * across an hour that is lost.
 */
function gridAt(data: LegData, point: number, instantMs: number): GridAt {
  let nearest: GridAt | undefined;
  let airless: GridAt | undefined;
  let state: CellState | undefined;
  for (const run of data.runs) {
    const pair = hoursAt(run, instantMs);
    const found = pair === undefined ? undefined : columnAt(run, pair, { point, instantMs });
    if (pair === undefined) state ??= CELL_STATE.tooOld;
    else if (found?.kind === 'profile' && !knowsAir(found.profile)) airless ??= found;
    else if (found?.kind === 'profile' && pair.isBracketed) return found;
    else if (found?.kind === 'profile') nearest ??= found;
    else state ??= found?.state;
  }
  return nearest ?? airless ?? { kind: 'unknown', state };
}

function columnAt(
  run: RunData,
  pair: HourPair,
  { point, instantMs }: { readonly point: number; readonly instantMs: number },
): GridAt {
  const before = run.columns[pair.before]![point];
  const after = run.columns[pair.after]![point];
  if (before === undefined || after === undefined) return { kind: 'unknown', state: undefined };
  if (before.kind === 'unknown') return before;
  if (after.kind === 'unknown') return after;
  return {
    kind: 'profile',
    profile: blendProfiles(before.profile, after.profile, pair.laterShare, hasModelLevels(run, pair)),
    hours: [pair.before, pair.after].map((index) => ({
      hour: run.hours[index]!,
      manifest: run.manifests[index]!,
    })),
    offsetMs: pair.offsetMs,
    isBracketed: pair.isBracketed,
    errors: forecastErrors(
      instantMs - run.hours[pair.before]!.runMs + distanceFromHoursMs(run, pair, instantMs),
    ),
  };
}

function hasModelLevels({ manifests }: RunData, { before, after }: HourPair): boolean {
  return [before, after].every((hour) =>
    manifests[hour]!.slices.some(({ quantity }) => quantity === 'pressurePa'),
  );
}

/** A lone hour used far from its valid time is as uncertain as a forecast that much longer. */
function distanceFromHoursMs({ hours }: RunData, pair: HourPair, instantMs: number): number {
  const from = (hour: number) => Math.abs(hours[hour]!.validMs - instantMs);
  return Math.min(from(pair.before), from(pair.after));
}

/** Where an hour counts, and how far from its time at most. */
interface HourUse {
  readonly manifest: GridManifest;
  readonly points: number[];
  readonly offsetMs: number;
  readonly aloneMs: number;
}

function gridUse(row: GridHour, { manifest, ...use }: HourUse): UsedSource {
  return {
    kind: 'grid',
    id: `grid:${row.operator}:${row.model}:${row.runMs}:${row.validMs}`,
    name: `${manifest.attribution} model ${row.model}`,
    runMs: row.runMs,
    validMs: row.validMs,
    latDeg: undefined,
    lonDeg: undefined,
    offsetMs: use.offsetMs,
    aloneMs: use.aloneMs,
    nearestM: 0,
    points: use.points,
    attribution: manifest.attribution,
    refusedMessages: manifest.rejected.length,
    hasCloudWater: manifest.condensateBasis !== 'none',
  };
}
