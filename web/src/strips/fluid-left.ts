/** How the tank empties along the leg with the fluid on where the plan has it on. */
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import type { BriefMember, Candidate, FluidPlanAnswer, RoutePoint } from '../contract.ts';

type FluidProtection = Extract<AircraftProfile['protection'], { kind: 'fluid' }>;

export interface FluidLeftInput {
  readonly plan: FluidPlanAnswer;
  readonly protection: FluidProtection;
  readonly onBoardL: number;
  readonly points: readonly RoutePoint[];
  /** Of the candidate; the points' times are those of the altitude that the brief is about. */
  readonly timeMinutes: number;
}

export interface FluidLeft {
  readonly distanceNm: number;
  readonly leftL: number;
}

/** Corners of the line, never rising; where the service says that the tank is empty it is, and stays so. */
export function fluidLeftAlong({
  plan,
  protection,
  onBoardL,
  points,
  timeMinutes,
}: FluidLeftInput): FluidLeft[] {
  const minutesAt = clockOver(points, timeMinutes);
  const endNm = points.at(-1)?.distanceNm ?? 0;
  const corners: FluidLeft[] = [{ distanceNm: 0, leftL: onBoardL }];
  let leftL = onBoardL;
  for (const [index, { fromNm, toNm, setting }] of plan.on.entries()) {
    corners.push({ distanceNm: fromNm, leftL });
    if (index === 0) leftL -= protection.primingL;
    corners.push({ distanceNm: fromNm, leftL });
    const flow = setting === 'high' ? protection.highFlowLPerMin : protection.normalFlowLPerMin;
    leftL -= flow * Math.max(0, minutesAt(toNm) - minutesAt(fromNm));
    corners.push({ distanceNm: toNm, leftL });
  }
  corners.push({ distanceNm: endNm, leftL });
  return emptyFrom(plan.runsOutNm, corners, endNm);
}

/** Left over one place; undefined without a fluid system, and where the tank or its flow is not known. */
export function plannedFluidLeftL(
  { leg, limits }: Pick<BriefMember, 'leg' | 'limits'>,
  { fluidPlan, exposure }: Candidate,
  { distanceNm, aircraft }: { readonly distanceNm: number; readonly aircraft: AircraftProfile | undefined },
): number | undefined {
  const { fluidOnBoardL: onBoardL } = limits;
  if (fluidPlan === null || exposure === null || onBoardL === null || aircraft?.protection.kind !== 'fluid')
    return undefined;
  const line = fluidLeftAlong({
    plan: fluidPlan,
    protection: aircraft.protection,
    onBoardL,
    points: leg.points,
    timeMinutes: exposure.timeMinutes,
  });
  const at = Math.max(
    1,
    line.findIndex((corner) => corner.distanceNm >= distanceNm),
  );
  const [from, to] = [line[at - 1], line[at]];
  if (from === undefined || to === undefined) return undefined;
  const spanNm = to.distanceNm - from.distanceNm;
  const share = spanNm > 0 ? Math.min(1, Math.max(0, (distanceNm - from.distanceNm) / spanNm)) : 1;
  return from.leftL + share * (to.leftL - from.leftL);
}

function emptyFrom(runsOutNm: number | null, corners: readonly FluidLeft[], endNm: number): FluidLeft[] {
  const held = corners.map(({ distanceNm, leftL }) => ({ distanceNm, leftL: Math.max(0, leftL) }));
  if (runsOutNm === null) return held;
  return [
    ...held.filter(({ distanceNm }) => distanceNm < runsOutNm),
    { distanceNm: runsOutNm, leftL: 0 },
    { distanceNm: endNm, leftL: 0 },
  ];
}

/** Minutes from departure over a place, as the points' times go, stretched to the candidate's own time. */
function clockOver(points: readonly RoutePoint[], timeMinutes: number): (distanceNm: number) => number {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return () => 0;
  const startMs = Date.parse(first.etaUtc);
  const wholeMs = Date.parse(last.etaUtc) - startMs;
  return (distanceNm) => {
    const after = Math.max(
      1,
      points.findIndex((point) => point.distanceNm >= distanceNm),
    );
    const [before, next] = [points[after - 1] ?? first, points[after] ?? last];
    const spanNm = next.distanceNm - before.distanceNm;
    const share = spanNm > 0 ? Math.min(1, (distanceNm - before.distanceNm) / spanNm) : 0;
    const beforeMs = Date.parse(before.etaUtc);
    const hereMs = beforeMs + share * (Date.parse(next.etaUtc) - beforeMs) - startMs;
    return wholeMs > 0 ? (hereMs / wholeMs) * timeMinutes : 0;
  };
}
