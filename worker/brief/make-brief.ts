/**
 * The one orchestrator: request in, brief out. It reads once, then everything is pure and takes its times from the
 * request, so the same request over the same data gives the same bytes.
 */
import { bboxOf } from '../flight/antimeridian.ts';
import type { Brief } from '../schema/brief.ts';
import type { BriefRequest } from '../schema/request.ts';
import type { Dependencies } from '../sources/ports.ts';
import { briefMember } from './brief-member.ts';
import { briefFeatures } from './features.ts';
import { chooseLeg, type LegStageClock } from './leg-choice.ts';
import { aircraftOf, makeLegPlan } from './leg-plan.ts';
import { readLeg } from './leg-reads.ts';
import { resolveRoute } from './resolve-route.ts';
import { settled } from './settings.ts';

/** Called as each stage ends; for benchmarks only, never part of an answer. */
export type StageClock = (stage: Parameters<LegStageClock>[0] | 'read' | 'answer') => void;

export async function makeBrief(
  deps: Dependencies,
  request: BriefRequest,
  { operators, onStage = () => undefined }: { operators: readonly string[]; onStage?: StageClock },
): Promise<Brief> {
  const departureMs = Date.parse(request.departure.atUtc);
  const plan = makeLegPlan({
    options: settled(request.options),
    aircraft: aircraftOf(request.aircraft),
    departureMs,
    resolved: await resolveRoute(request.route, { places: deps.places, operators, departureMs }),
  });
  const reads = await readLeg(deps, plan, { operators, laterByMs: 0 });
  onStage('read');
  const { air, choice } = chooseLeg(plan, reads, {}, onStage);
  const parts = { ...plan, ...air, minimum: reads.minimum, choice };
  const brief: Brief = {
    type: 'FeatureCollection',
    bbox: bboxOf(Array.from(plan.route.latDeg, (latDeg, point) => [plan.route.lonDeg[point]!, latDeg])),
    brief: briefMember(parts),
    features: briefFeatures(parts),
  };
  onStage('answer');
  return brief;
}
