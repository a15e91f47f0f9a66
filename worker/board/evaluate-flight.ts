/** One flight of a board worked out: its brief, the weather at its ends, and what of it is another than before. */
import { makeBriefAlone } from '../brief/make-brief.ts';
import { METHOD_VERSION } from '../brief/method.ts';
import { isAppError } from '../errors.ts';
import { readAerodromeText } from '../formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { AerodromeReport } from '../formats/aerodrome-reports/report.ts';
import { faultLine } from '../log.ts';
import type { Minima, WeatherStanding } from '../schema/board.ts';
import type { Brief } from '../schema/brief.ts';
import type { VerdictCode } from '../schema/choice-words.ts';
import type { FlightClaim, FlightOutcome, Reach, StoredFlight, StoredTail } from '../sources/boards.ts';
import type { BriefReads } from '../sources/ports.ts';
import type { StoredReport } from '../sources/reports.ts';
import { changeBetween, failureChange } from './changes.ts';
import { endsOfRoute, requestOfFlight } from './flight-request.ts';
import { fluidAtDeparture } from './fluid-left.ts';
import { weatherStanding } from './minima.ts';
import { arrivalMsOf, evaluationOf } from './summary.ts';

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 60 * MS_PER_MINUTE;
/** Ascents count up to 300 km from a route, reports less: 2.8 degrees of latitude. */
const AROUND_DEG = 2.8;
/** A leg reads ascents and hours up to six hours before and after. */
const AROUND_MS = 6 * MS_PER_HOUR;
/** No forecast of an aerodrome is made longer before. */
const FORECASTS_BACK_MS = 36 * MS_PER_HOUR;
/** From the destination to the alternate, where no figure says more: for the weather there alone. */
const TO_ALTERNATE_MS = 45 * MS_PER_MINUTE;

export interface FlightContext {
  readonly operators: readonly string[];
  /** When the reading began. */
  readonly startedMs: number;
  /** The board's clock. */
  readonly nowMs: number;
  readonly tail: StoredTail | undefined;
  /** Others of the same aeroplane. */
  readonly others: readonly StoredFlight[];
}

/** Never throws: what cannot be worked out is an outcome, and unknown. */
export async function evaluateFlight(
  deps: BriefReads,
  { flight }: Pick<FlightClaim, 'flight'>,
  context: FlightContext,
): Promise<FlightOutcome> {
  try {
    return await outcomeOf(deps, flight, context);
  } catch (error) {
    if (!isAppError(error)) console.error(faultLine('flight-not-worked-out', error));
    const failure = isAppError(error) && error.kind !== 'bug' ? error.message : 'an error of the service';
    const change = changeByFailure(flight, failure, context.startedMs);
    return { startedMs: context.startedMs, failure, ...(change === undefined ? {} : { change }) };
  }
}

/** Told once: not where the attempt before failed already. */
function changeByFailure(
  { evaluation, failure }: StoredFlight,
  sentence: string,
  atMs: number,
): FlightOutcome['change'] {
  if (evaluation === undefined) return undefined;
  if (failure !== undefined && !(failure.atMs < Date.parse(evaluation.atUtc))) return undefined;
  return failureChange({ verdict: evaluation.verdict, evaluation }, sentence, atMs);
}

async function outcomeOf(
  deps: BriefReads,
  flight: StoredFlight,
  context: FlightContext,
): Promise<FlightOutcome> {
  const { startedMs, tail, operators } = context;
  const inoperative = tail?.inoperative ?? [];
  const fluid = fluidAtDeparture(flight.departureMs, tail, context.others);
  const request = requestOfFlight(flight, fluid.fluidOnBoardL, inoperative);
  const brief = await makeBriefAlone(deps, request, { operators });
  const { plannedMinutes } = flight.leg;
  const arrivalMs = arrivalMsOf(brief, plannedMinutes) ?? latestEtaMs(brief);
  const standings = await standingsOf(deps, flight, { ...context, arrivalMs });
  const evaluation = evaluationOf(brief, request, {
    ...standings,
    atMs: startedMs,
    methodVersion: METHOD_VERSION,
    plannedMinutes,
    fluidUnknownWhy: fluid.fluidOnBoardL === undefined ? fluid.why : '',
    inoperative,
  });
  const before = flight.evaluation && { verdict: verdictBefore(flight), evaluation: flight.evaluation };
  const change = changeBetween(before, { verdict: evaluation.verdict, evaluation }, startedMs);
  return {
    startedMs,
    evaluation,
    reach: reachOf(brief, flight.departureMs, arrivalMs),
    ...(change === undefined ? {} : { change }),
  };
}

/** After a failed attempt it stood as unknown, whatever was worked out before. */
function verdictBefore({ failure, evaluation }: StoredFlight): VerdictCode {
  return failure === undefined && evaluation !== undefined ? evaluation.verdict : 'unknown';
}

/** Where no altitude can be flown and no duration was planned: over the last point at the cruise speed. */
function latestEtaMs({ brief: { leg } }: Brief): number {
  return Date.parse(leg.points.at(-1)!.etaUtc);
}

interface Standings {
  readonly destination: WeatherStanding;
  readonly alternate: WeatherStanding | null;
}

async function standingsOf(
  deps: Pick<BriefReads, 'reports'>,
  { leg }: StoredFlight,
  at: FlightContext & { readonly arrivalMs: number },
): Promise<Standings> {
  const standing = async (aerodrome: string, atMs: number, minima: Minima | null) =>
    weatherStanding({
      ...{ aerodrome, atMs, minima, nowMs: at.nowMs },
      reports: await reportsOf(deps, aerodrome, { ...at, atMs }),
    });
  const [destination, alternate] = await Promise.all([
    standing(endsOfRoute(leg.route).to, at.arrivalMs, leg.destinationMinima),
    leg.alternate === null
      ? null
      : standing(leg.alternate, at.arrivalMs + TO_ALTERNATE_MS, leg.alternateMinima),
  ]);
  return { destination, alternate };
}

async function reportsOf(
  { reports }: Pick<BriefReads, 'reports'>,
  station: string,
  { operators, atMs }: { readonly operators: readonly string[]; readonly atMs: number },
): Promise<readonly AerodromeReport[]> {
  const found = await reports.ofAerodrome({
    ...{ operators, station },
    fromMs: atMs - FORECASTS_BACK_MS,
    toMs: atMs,
  });
  return [
    ...readable(found.filter(({ kind }) => kind === 'taf')),
    ...readable(found.filter(({ kind }) => kind !== 'taf')),
  ];
}

/** Newest first; one that does not read is never passed over for an older one. */
function readable(found: readonly StoredReport[]): AerodromeReport[] {
  const reports: AerodromeReport[] = [];
  for (const { text, issuedMs } of found) {
    const items = readAerodromeText(text, { nearMs: issuedMs });
    const read = items.flatMap((item) => (item.kind === 'report' ? [item.report] : []));
    if (read.length === 0) break;
    reports.push(...read);
  }
  return reports;
}

/** Around the points of the route and the time of the flight. */
function reachOf({ brief: { leg } }: Brief, departureMs: number, arrivalMs: number): Reach {
  const lats = leg.points.map(({ latDeg }) => latDeg);
  const south = Math.min(...lats) - AROUND_DEG;
  const north = Math.max(...lats) + AROUND_DEG;
  const widening = AROUND_DEG / Math.max(0.05, Math.cos((Math.max(-south, north) * Math.PI) / 180));
  const [west, east] = spanOf(leg.points.map(({ lonDeg }) => lonDeg));
  const isAround = east - west + 2 * widening >= 360 || north > 85 || south < -85;
  return {
    southDeg: Math.max(-90, south),
    northDeg: Math.min(90, north),
    westDeg: isAround ? -180 : wrapped(west - widening),
    eastDeg: isAround ? 180 : wrapped(east + widening),
    fromMs: departureMs - AROUND_MS,
    toMs: arrivalMs + AROUND_MS,
  };
}

/** Westmost and eastmost of longitudes that follow each other, the eastmost beyond 180 across the antimeridian. */
function spanOf(lons: readonly number[]): readonly [number, number] {
  let [at, west, east] = [lons[0]!, lons[0]!, lons[0]!];
  for (const lon of lons) {
    at += wrapped(lon - at);
    west = Math.min(west, at);
    east = Math.max(east, at);
  }
  return [west, east];
}

const wrapped = (deg: number) => ((((deg + 180) % 360) + 360) % 360) - 180;
