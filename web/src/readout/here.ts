/** At the cursor: the way out of the considered altitude, and what is left in the tank. */
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import { wayOrder, wayStretches } from '../answer/file-line.ts';
import { waysOf } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { plannedFluidLeftL } from '../strips/fluid-left.ts';
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
  brief: BriefMember,
  candidate: Candidate,
  at: { readonly distanceNm: number; readonly aircraft: AircraftProfile | undefined },
): string | undefined {
  const leftL = plannedFluidLeftL(brief, candidate, at);
  if (leftL === undefined) return undefined;
  const { curtain } = brief;
  const { flownFt } = candidate;
  const isPassed =
    curtain !== undefined &&
    flownFt !== null &&
    pathPieces(curtain, flownFt).some(
      ({ look, fromNm }) => look.kind === 'unknown' && fromNm < at.distanceNm,
    );
  return `${isPassed ? 'at most ' : ''}${amountText(String(Math.floor(leftL)), 'L')}`;
}
