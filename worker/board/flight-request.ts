/** What is asked of a brief for one flight of a board. */
import { findBuiltInAircraft } from '../flight/aircraft-profiles.ts';
import type { AircraftProfile } from '../schema/aircraft.ts';
import type { IceEquipment } from '../schema/board.ts';
import type { BriefRequest } from '../schema/request.ts';
import type { StoredFlight } from '../sources/boards.ts';

/** What the fluid on the wing comes from. */
const SPREADS_FLUID: readonly IceEquipment[] = ['wing-fluid', 'tail-fluid'];

/**
 * With any of its ice equipment inoperative an aeroplane is held as one that may not enter ice: the minimum equipment list may allow
 * more, and is the operator's to read.
 *
 * @param fluidOnBoardL  undefined where it is not known.
 */
export function requestOfFlight(
  { leg, departureMs, departed }: Pick<StoredFlight, 'leg' | 'departureMs' | 'departed'>,
  fluidOnBoardL: number | undefined,
  inoperative: readonly IceEquipment[],
): BriefRequest {
  const aircraft = inoperative.length === 0 ? leg.aircraft : withoutIce(leg.aircraft, inoperative);
  const carriesFluid = typeof aircraft === 'string' || aircraft.protection.kind === 'fluid';
  return {
    route: leg.route,
    // The air of when it left, not of when it was to leave.
    departure: { atUtc: new Date(departed?.atMs ?? departureMs).toISOString() },
    aircraft,
    options: {
      ...leg.options,
      laterDepartures: 0,
      ...(fluidOnBoardL === undefined || !carriesFluid ? {} : { fluidOnBoardL }),
      ...(leg.alternate === null ? {} : { alternate: leg.alternate }),
    },
  };
}

/** A name that no profile has stays a name: the brief refuses it. */
function withoutIce(
  given: BriefRequest['aircraft'],
  inoperative: readonly IceEquipment[],
): BriefRequest['aircraft'] {
  const profile: AircraftProfile | undefined = typeof given === 'string' ? findBuiltInAircraft(given) : given;
  if (profile === undefined) return given;
  const isDry = inoperative.some((each) => SPREADS_FLUID.includes(each));
  return {
    ...profile,
    certifiedForIcing: false,
    ...(isDry ? { protection: { kind: 'none' as const } } : {}),
  };
}

/** First and last word of a route text. */
export function endsOfRoute(route: string): { readonly from: string; readonly to: string } {
  const words = route.trim().split(/\s+/);
  return { from: words[0] ?? '', to: words.at(-1) ?? '' };
}
