/** Finds every ascent and grid hour that can speak for a leg, and says how much each counts at each route point. */
import { greatCircleDistanceM } from '../flight/great-circle.ts';
import type { RoutePoints } from '../flight/types.ts';
import { CELL_STATE, type CellState, type Profile } from '../science/columns.ts';
import { type ErrorSpread, forecastErrors, NO_ERROR, soundingErrors } from '../science/error-spreads.ts';
import { listPointSources, type PointSources } from '../science/point-sources.ts';
import type { StoredSounding } from '../sources/ports.ts';
import { blendProfiles, type HourPair, hoursAt } from './grid-hours.ts';
import type { LegData } from './leg-data.ts';
import { profileOfSounding } from './sounding-profile.ts';
import { gridWeight, NO_WEIGHT, SOUNDING_REACH_M, type SourceWeight, soundingWeight } from './weights.ts';

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
  const pointCount = route.pointCount;
  const sources: Source[] = [];
  const used: UsedSource[] = [];
  const uncoveredState = new Uint8Array(pointCount).fill(CELL_STATE.outsideCoverage);
  if (data.soundings.length === 0 && data.hours.length === 0) uncoveredState.fill(CELL_STATE.noData);
  if (data.isDamaged && data.hours.length === 0) uncoveredState.fill(CELL_STATE.decodeFailed);

  for (const sounding of data.soundings) {
    const source = soundingSource(data.soundings, sounding, { route, etaMs, uncoveredState });
    if (source === undefined) continue;
    sources.push({
      profile: profileOfSounding(sounding),
      weightAt: (point) => source.weights[point]!,
      errorsAt: (point) => source.errors[point]!,
    });
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
      errorsAt: (other) => (other === point ? found.errors : NO_ERROR),
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
    sources: pointSourcesOf(sources, pointCount),
    used,
    uncoveredState,
  };
}

/** One profile with its weight and errors over each route point. */
interface Source {
  readonly profile: Profile;
  readonly weightAt: (point: number) => SourceWeight;
  readonly errorsAt: (point: number) => ErrorSpread;
}

/** A source with less than this part of a point's weight is screened by nearer ones and left out (judgement). */
const LEAST_SHARE = 0.05;

function pointSourcesOf(sources: readonly Source[], pointCount: number): PointSources {
  const weights = sources.map((source) =>
    Array.from({ length: pointCount }, (_, point) => source.weightAt(point)),
  );
  const least = Array.from(
    { length: pointCount },
    (_, point) => LEAST_SHARE * weights.reduce((sum, ofSource) => sum + ofSource[point]!.humidity, 0),
  );
  return listPointSources({ pointCount, sourceCount: sources.length }, (point, source) => {
    const weight = weights[source]![point]!;
    if (!(weight.humidity > 0) || weight.humidity < least[point]!) return undefined;
    return { ...weight, errors: sources[source]!.errorsAt(point) };
  });
}

/** A later ascent of the same station, or an earlier one, stands between this one and the instant. */
function isSuperseded(all: readonly StoredSounding[], one: StoredSounding, instantMs: number): boolean {
  return all.some(
    (other) =>
      other.stationId === one.stationId &&
      Math.sign(other.timeMs - one.timeMs) === Math.sign(instantMs - one.timeMs) &&
      Math.abs(other.timeMs - one.timeMs) <= Math.abs(instantMs - one.timeMs) &&
      other.timeMs !== one.timeMs,
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
): { weights: SourceWeight[]; errors: ErrorSpread[]; used: UsedSource } | undefined {
  const { route, etaMs, uncoveredState } = at;
  const weights: SourceWeight[] = [];
  const errors: ErrorSpread[] = [];
  let nearestM = Number.POSITIVE_INFINITY;
  let offsetMs = 0;
  let points = 0;
  for (let point = 0; point < route.pointCount; point += 1) {
    const distanceM = greatCircleDistanceM(
      { latDeg: sounding.latDeg, lonDeg: sounding.lonDeg },
      { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! },
    );
    const pointOffsetMs = sounding.timeMs - etaMs[point]!;
    const weight = isSuperseded(all, sounding, etaMs[point]!)
      ? NO_WEIGHT
      : soundingWeight(distanceM, pointOffsetMs);
    weights.push(weight);
    errors.push(soundingErrors(distanceM, pointOffsetMs));
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
    errors,
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
      readonly errors: ErrorSpread;
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
    errors: forecastErrors(
      instantMs - data.hours[pair.before]!.runMs + distanceFromHoursMs(data, pair, instantMs),
    ),
  };
}

/** A lone hour used far from its valid time is as uncertain as a forecast that much longer. */
function distanceFromHoursMs(data: LegData, pair: HourPair, instantMs: number): number {
  const from = (hour: number) => Math.abs(data.hours[hour]!.validMs - instantMs);
  return Math.min(from(pair.before), from(pair.after));
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
