/**
 * The one orchestrator: request in, brief out. It reads once, then everything is pure and takes its times from the
 * request, so the same request over the same data gives the same bytes.
 */
import { InvalidRequestError } from '../errors.ts';
import { bboxOf } from '../flight/antimeridian.ts';
import type { Brief } from '../schema/brief.ts';
import type { BriefRequest } from '../schema/request.ts';
import type { BriefReads } from '../sources/ports.ts';
import { alternatePlan, readAlternate } from './alternate-leg.ts';
import { briefMember } from './brief-member.ts';
import { briefFeatures } from './features.ts';
import type { UsedSource } from './gather-weather.ts';
import { type GroundLeg, groundAnswer, readGround } from './ground.ts';
import { isInventedStation } from './invented.ts';
import { DEPARTURE_STEP_MS, laterDepartureAnswer, laterDepartures } from './later-departures.ts';
import { chooseLeg, type LegStageClock, usedByAir } from './leg-choice.ts';
import { legNotes, readLegNotes } from './leg-notes.ts';
import { aircraftOf, type LegPlan, makeLegPlan, windowOf } from './leg-plan.ts';
import { readLeg } from './leg-reads.ts';
import { terrainAttribution } from './leg-terrain.ts';
import { chooseOthers, otherPlans } from './other-routes.ts';
import { refuseOverfull } from './overfull.ts';
import { resolveRoute } from './resolve-route.ts';
import { settled } from './settings.ts';
import { waysAnswer } from './ways-answer.ts';

/** Called as each stage ends; for benchmarks only, never part of an answer. */
export type StageClock = (
  stage: Parameters<LegStageClock>[0] | 'read' | 'departures' | 'ways' | 'answer',
) => void;

interface BriefContext {
  readonly operators: readonly string[];
  readonly onStage?: StageClock;
}

export async function makeBrief(
  deps: BriefReads,
  request: BriefRequest,
  context: BriefContext,
): Promise<Brief> {
  const parts = await partsOf(deps, request, context);
  const brief = { ...briefOf(parts), features: briefFeatures(parts) };
  context.onStage?.('answer');
  return brief;
}

/** The same without a picture: no features. */
export async function makeBriefAlone(
  deps: BriefReads,
  request: BriefRequest,
  context: BriefContext,
): Promise<Brief> {
  return { ...briefOf(await partsOf(deps, request, context)), features: [] };
}

type Parts = Awaited<ReturnType<typeof partsOf>>;

function briefOf(parts: Parts): Omit<Brief, 'features'> {
  const { latDeg, lonDeg } = parts.route;
  return {
    type: 'FeatureCollection',
    bbox: bboxOf(Array.from(latDeg, (lat, point) => [lonDeg[point]!, lat])),
    brief: briefMember(parts),
  };
}

async function partsOf(
  deps: BriefReads,
  request: BriefRequest,
  { operators, onStage = () => undefined }: BriefContext,
) {
  const { plan, others, alternate } = await makePlans(deps, request, operators);
  const laterByMs = plan.options.laterDepartures * DEPARTURE_STEP_MS;
  const ramp = rampOf(plan);
  const [reads, groundReads, noteReads, alternateAt] = await Promise.all([
    readLeg(deps, plan, { operators, laterByMs }),
    readGround(deps, ramp, operators),
    readLegNotes(deps, { ...plan, ...windowOf(plan), operators }),
    alternate &&
      readAlternate(deps, alternate, {
        operators,
        planned: plan.planned,
        ...arrivalsOf([plan, ...others], laterByMs),
      }),
  ]);
  onStage('read');
  const carried = { alternateAt };
  const leg = chooseLeg(plan, reads, carried, onStage);
  const later = laterDepartures(leg, carried);
  onStage('departures');
  const otherLegs = await chooseOthers(deps, others, { operators, carried });
  onStage('ways');
  return {
    ...plan,
    ...leg.air,
    usedByAir: usedByAir(leg),
    minimum: reads.minimum,
    alternate: alternate?.route.fixes.at(-1)?.name,
    groundAttribution: terrainAttribution(reads.minimum, reads.terrain),
    hazards: leg.hazards,
    notes: legNotes(noteReads, reads.reports.reports, { ...plan, ...leg.air }),
    choice: leg.choice,
    departures: later.map(laterDepartureAnswer),
    ground: groundAnswer(groundReads, { ...ramp, isInvented: isInventedAir(leg.air.used) }),
    ways: waysAnswer({ filed: leg, others: otherLegs, later }),
  };
}

/** Wholly of the demo's stations. */
function isInventedAir(used: readonly UsedSource[]): boolean {
  return used.length > 0 && used.every(({ kind, name }) => kind === 'sounding' && isInventedStation(name));
}

function rampOf({ route, aircraft, departureMs }: LegPlan): Omit<GroundLeg, 'isInvented'> {
  return {
    aerodrome: route.fixes[0]!.name,
    at: { latDeg: route.latDeg[0]!, lonDeg: route.lonDeg[0]! },
    departureMs,
    fluids: aircraft.groundFluids,
    skin: aircraft.wingSkin,
  };
}

interface Plans {
  readonly plan: LegPlan;
  readonly others: readonly LegPlan[];
  readonly alternate: LegPlan | undefined;
}

/** Every leg that the request asks for; all of it is checked before any weather is read. */
async function makePlans(
  deps: BriefReads,
  request: BriefRequest,
  operators: readonly string[],
): Promise<Plans> {
  const departureMs = Date.parse(request.departure.atUtc);
  const aircraft = aircraftOf(request.aircraft, request.options?.takeoffWeightKg);
  refuseOverfull('options.fluidOnBoardL', request.options?.fluidOnBoardL, aircraft);
  const plan = makeLegPlan({
    options: settled(request.options),
    aircraft,
    departureMs,
    resolved: await resolveRoute(request.route, { places: deps.places, operators, departureMs }),
  });
  const others = await otherPlans(deps, plan, { routes: request.options?.otherRoutes ?? [], operators });
  const ident = request.options?.alternate;
  const alternate = ident === undefined ? undefined : await alternatePlan(deps, plan, { ident, operators });
  const plans = { plan, others, alternate };
  refuseMuch(plans);
  return plans;
}

/** Route points over all departures and routes, so that one request stays within what an isolate may take. */
const MOST_POINTS = 1600;

function refuseMuch({ plan, others, alternate }: Plans): void {
  const departures = 1 + plan.options.laterDepartures;
  const ofAlternate = (alternate?.route.pointCount ?? 0) * (departures + others.length);
  const points =
    plan.route.pointCount * departures +
    others.reduce((sum, other) => sum + other.route.pointCount, 0) +
    ofAlternate;
  if (points <= MOST_POINTS) return;
  throw new InvalidRequestError({
    field: 'options',
    found: `${points} route points over all departures and routes`,
    expected: `at most ${MOST_POINTS}: fewer laterDepartures, otherRoutes or miles`,
  });
}

/** When somebody may arrive who leaves on any of the routes at any of the departures, epoch ms. */
function arrivalsOf(plans: readonly LegPlan[], laterByMs: number) {
  const windows = plans.map(windowOf);
  return {
    earliestArrivalMs: Math.min(...windows.map(({ earliestMs }) => earliestMs.at(-1)!)),
    latestArrivalMs: Math.max(...windows.map(({ latestMs }) => latestMs.at(-1)!)) + laterByMs,
  };
}
