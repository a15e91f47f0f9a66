/** At the cursor: the way out of the considered altitude, and what is left in the tank. */
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import { wayOrder, wayStretches } from '../answer/file-line.ts';
import { waysOf } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { fluidLeftAlong } from '../strips/fluid-left.ts';
import { pathPieces } from '../table/path-pieces.ts';
import { amountText } from '../units.ts';
import type { ReadoutValue } from './values.ts';

export function hereValues(
  brief: BriefMember,
  candidate: Candidate,
  { distanceNm, aircraft }: { readonly distanceNm: number; readonly aircraft: AircraftProfile | undefined },
): ReadoutValue[] {
  const stretches = wayStretches(waysOf(candidate, brief.leg.points));
  const way = stretches.find(({ toNm }) => distanceNm <= toNm) ?? stretches.at(-1);
  const leftText = fluidLeftText(brief, candidate, { distanceNm, aircraft });
  return [
    ...(way === undefined ? [] : [{ label: 'way out here', text: wayOrder(way) }]),
    ...(leftText === undefined ? [] : [{ label: 'fluid left, as planned', text: leftText }]),
  ];
}

/** undefined without a fluid system, and where the tank or its flow is not known. */
function fluidLeftText(
  { leg, limits, curtain }: BriefMember,
  { fluidPlan, exposure, flownFt }: Candidate,
  { distanceNm, aircraft }: { readonly distanceNm: number; readonly aircraft: AircraftProfile | undefined },
): string | undefined {
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
  const leftL = from.leftL + share * (to.leftL - from.leftL);
  const isPassed =
    curtain !== undefined &&
    flownFt !== null &&
    pathPieces(curtain, flownFt).some(({ look, fromNm }) => look.kind === 'unknown' && fromNm < distanceNm);
  return `${isPassed ? 'at most ' : ''}${amountText(String(Math.floor(leftL)), 'L')}`;
}
