/**
 * One pilot's report beside what was forecast for its place and time: by each model and by ascents alone, and pooled as a brief
 * pools them. Only what existed before the report is a forecast: runs that started, balloons that went up before its time. When
 * they could first be read here is not asked.
 */
import { makeRoutePoints } from '../flight/route.ts';
import type { Fix, RoutePoints } from '../flight/types.ts';
import { raiseToDraws } from '../science/drawn-icing.ts';
import { greatCircleDistanceM, type Position } from '../science/great-circle.ts';
import type { Dependencies, GridHour, StoredSounding } from '../sources/ports.ts';
import type { PilotObservation } from '../sources/report-facts/pilot-observation.ts';
import { LEAD_EDGES_H, leadBucket, NO_LEAD, type Outcome, type Score } from '../sources/scores.ts';
import { type ForecastAtReport, forecastAtReport } from './forecast-at-report.ts';
import type { UsedSource } from './gather-weather.ts';
import { GRID_TOLERANCE_MS, hoursAt, type Run, runsBestFirst } from './grid-hours.ts';
import { madeMs, oneALaunch } from './launches.ts';
import { type AirPlan, airAt } from './leg-air.ts';
import { boxAround, type LegData, type RunData, readRuns } from './leg-data.ts';
import { aircraftOf, curtainAxis } from './leg-plan.ts';
import { settled } from './settings.ts';
import { SOUNDING_REACH_M, SOUNDING_REACH_MS, soundingWeight } from './weights.ts';

const MS_PER_HOUR = 3_600_000;
/** Chances of ice hang on no aeroplane but for what counts as a trace; one for all reports. */
const AIRCRAFT = 'generic-fluid-turboprop';

/** An observation whose place and time are known. */
export interface PlacedObservation extends PilotObservation {
  readonly timeMs: number;
}

/** A run of a model, read. */
interface ModelRun {
  readonly data: LegData;
  readonly model: string;
  readonly runMs: number;
  /** It has hours around the time; with a lone hour it speaks in a brief for want of others, and is not scored alone. */
  readonly covers: boolean;
}

/** What existed before a report, of each source and lead time one. */
interface Forecasts {
  readonly runs: readonly ModelRun[];
  /** All that went up before, one a balloon. */
  readonly soundings: readonly StoredSounding[];
}

type Reads = Pick<Dependencies, 'soundings' | 'grids' | 'objects'>;

/**
 * @param spent  Each column that is diagnosed is added to it, also where a later one fails.
 * @returns      One score a source and lead, and always one of the brief.
 */
export async function scoreReport(
  deps: Reads,
  observation: PlacedObservation,
  operators: readonly string[],
  spent = { columns: 0 },
): Promise<Score[]> {
  const route = placeOf(observation.points);
  const forecasts = await readForecasts(deps, { route, timeMs: observation.timeMs, operators });
  return scoresOf(forecasts, observation, (data) => {
    spent.columns += route.pointCount;
    return diagnose(data, observation, route);
  });
}

/** The points of its place: one, or those along its legs. */
function placeOf(points: readonly Position[]): RoutePoints {
  const apart = points.filter(
    (point, index) => index === 0 || greatCircleDistanceM(points[index - 1]!, point) > SAME_PLACE_M,
  );
  const fixes = apart.map((point): Fix => ({ ...point, name: '', elevationM: Number.NaN }));
  if (fixes.length > 1) return makeRoutePoints(fixes);
  return {
    pointCount: 1,
    latDeg: Float64Array.of(fixes[0]!.latDeg),
    lonDeg: Float64Array.of(fixes[0]!.lonDeg),
    distanceM: new Float64Array(1),
    courseRad: new Float64Array(1),
    fixIndex: new Int16Array(1),
    fixes,
  };
}

const SAME_PLACE_M = 100;

interface PlaceAndTime {
  readonly route: RoutePoints;
  readonly timeMs: number;
  readonly operators: readonly string[];
}

async function readForecasts(deps: Reads, at: PlaceAndTime): Promise<Forecasts> {
  const { route, timeMs, operators } = at;
  const [soundings, hours] = await Promise.all([
    deps.soundings.find({
      operators,
      fromMs: timeMs - SOUNDING_REACH_MS,
      // A nominal time is up to an hour and a half after the launch.
      toMs: timeMs + 1.5 * MS_PER_HOUR,
      ...boxAround(route, SOUNDING_REACH_M),
    }),
    deps.grids.find(operators, timeMs - GRID_TOLERANCE_MS, timeMs + GRID_TOLERANCE_MS),
  ]);
  const wanted = bestOfEachLead(hours, timeMs);
  const read = await Promise.all(wanted.map((run) => readRun(deps, run, at)));
  return {
    runs: read.flatMap((run) => run ?? []),
    soundings: oneALaunch(soundings.filter((each) => madeMs(each) < timeMs)),
  };
}

/** Best first, as a brief has them: of each model and lead time the newest run, one with hours on both sides before others. */
function bestOfEachLead(hours: readonly GridHour[], timeMs: number): Run[] {
  const runs = runsBestFirst(hours, { fromMs: timeMs, toMs: timeMs }).filter((run) => startOf(run) < timeMs);
  const keyOf = (run: Run) => `${modelOf(run)} ${leadBucket(timeMs - startOf(run))}`;
  return runs.filter((run, at) => runs.findIndex((other) => keyOf(other) === keyOf(run)) === at);
}

const startOf = ({ hours }: Run) => hours[0]!.runMs;
const modelOf = ({ hours }: Run) => hours[0]!.model;

/** undefined for a model that does not reach the place: it forecast nothing there. */
async function readRun(
  deps: Reads,
  run: Run,
  { route, timeMs, operators }: PlaceAndTime,
): Promise<ModelRun | undefined> {
  const instants = new Float64Array(route.pointCount).fill(timeMs);
  const { runs, isDamaged } = await readRuns(deps.objects, [run], {
    ...{ route, operators, laterByMs: 0 },
    ...{ earliestMs: instants, latestMs: instants, leg: { fromMs: timeMs, toMs: timeMs } },
  });
  if (runs.length === 0 && !isDamaged) return undefined;
  const covers = hoursAt(run, timeMs)?.isBracketed === true;
  return { data: { soundings: [], runs, isDamaged }, model: modelOf(run), runMs: startOf(run), covers };
}

/** The curtain over the place at the time of the report, of the given sources. */
interface Diagnosed extends ForecastAtReport {
  readonly used: readonly UsedSource[];
}

function scoresOf(
  { runs, soundings }: Forecasts,
  observation: PlacedObservation,
  diagnosed: (data: LegData) => Diagnosed,
): Score[] {
  const models = runs
    .filter(({ covers }) => covers)
    .map((run) => {
      const source = { kind: 'model', name: run.model, station: '', madeMs: run.runMs } as const;
      return scoreOf(observation, { ...source, ...diagnosed(run.data) });
    });
  const ascents = nearestOfEachLead(soundings, observation).map((one) => {
    const source = { kind: 'ascent', name: 'ascents', station: one.stationId, madeMs: madeMs(one) } as const;
    return scoreOf(observation, {
      ...source,
      ...diagnosed({ soundings: [one], runs: [], isDamaged: false }),
    });
  });
  return [...models, ...ascents, ...briefScores({ runs, soundings }, observation, diagnosed)];
}

/** Of the ascents that count at the middle of the place the one that counts most, for each lead time. */
function nearestOfEachLead(
  soundings: readonly StoredSounding[],
  { points, timeMs }: PlacedObservation,
): StoredSounding[] {
  const middle = middleOfPlace(points);
  const best = new Map<number, { readonly one: StoredSounding; readonly weight: number }>();
  for (const one of soundings) {
    const leadMs = timeMs - madeMs(one);
    const weight = soundingWeight(greatCircleDistanceM(one, middle), leadMs).humidity;
    const bucket = leadBucket(leadMs);
    if (weight > (best.get(bucket)?.weight ?? 0)) best.set(bucket, { one, weight });
  }
  return [...best.values()].map(({ one }) => one);
}

/** The point in the middle of a place. */
function middleOf({ pointCount, latDeg, lonDeg }: RoutePoints): Position {
  const middle = Math.floor(pointCount / 2);
  return { latDeg: latDeg[middle]!, lonDeg: lonDeg[middle]! };
}

/** Middle of the place that a report names. */
export function middleOfPlace(points: readonly Position[]): Position {
  return middleOf(placeOf(points));
}

/**
 * The brief of all that existed, then those that would have been made earlier, with the newer sources left out, one a lead time:
 * its lead is that of the newest source that speaks.
 */
function briefScores(
  { runs, soundings }: Forecasts,
  observation: PlacedObservation,
  diagnosed: (data: LegData) => Diagnosed,
): Score[] {
  const scores: Score[] = [];
  for (let from = 0; from < LEAD_EDGES_H.length; from += 1) {
    const isOlder = (sourceMs: number) => leadBucket(observation.timeMs - sourceMs) >= from;
    const older = runs.filter(({ runMs }) => isOlder(runMs));
    const data = {
      soundings: soundings.filter((each) => isOlder(madeMs(each))),
      runs: older.flatMap((run): readonly RunData[] => run.data.runs),
      isDamaged: older.some((run) => run.data.isDamaged),
    };
    const found = diagnosed(data);
    const newestMs = found.used.reduce<number | undefined>(
      (newest, { runMs, validMs }) => Math.max(newest ?? -Infinity, runMs ?? validMs),
      undefined,
    );
    const score = scoreOf(observation, {
      ...{ kind: 'brief', name: 'brief', station: '', madeMs: newestMs },
      ...found,
    });
    if (newestMs !== undefined || scores.length === 0) scores.push(score);
    if (newestMs === undefined) break;
    from = score.leadBucket;
  }
  return scores;
}

function diagnose(data: LegData, { timeMs, band }: PlacedObservation, route: RoutePoints): Diagnosed {
  const options = settled(undefined);
  const plan: AirPlan = { route, axis: curtainAxis(0), aircraft: aircraftOf(AIRCRAFT), options };
  const { draw, weather, icing, used } = airAt(data, plan, new Float64Array(route.pointCount).fill(timeMs));
  raiseToDraws(icing, draw());
  return { used, ...forecastAtReport({ indicatedMinusPressureM: 0, weather, icing }, band) };
}

function scoreOf(
  observation: PlacedObservation,
  given: Pick<Score, 'kind' | 'name' | 'station' | 'madeMs'> & ForecastAtReport,
): Score {
  const { kind, name, station, madeMs: sourceMs, probability, isIce, flaggedShare, top } = given;
  return {
    ...{ kind, name, station, madeMs: sourceMs, probability, flaggedShare, top },
    leadBucket: sourceMs === undefined ? NO_LEAD : leadBucket(observation.timeMs - sourceMs),
    outcome: outcomeOf(observation, isIce),
  };
}

function outcomeOf({ said, whyUnscored }: PilotObservation, isIce: boolean | undefined): Outcome {
  if (whyUnscored !== undefined || said === 'nothing') return 'unscored';
  if (isIce === undefined) return 'unknown';
  if (said === 'ice') return isIce ? 'hit' : 'miss';
  return isIce ? 'false' : 'correct-no';
}
