/** What a shared brief was asked with, as a leg of this device. */
import type { BriefRequest } from '../contract.ts';
import { keptAircraft } from '../device-aircraft.ts';
import { type LegText, legTextFromRequest } from '../url-state.ts';

/** Of an identifier's 60 characters. */
const MOST_OF_ID = 52;

/** The sender's figures never take the place of this device's own under the same name. */
export function legTextOfShared(request: BriefRequest): LegText {
  const { aircraft } = request;
  if (typeof aircraft === 'string') return legTextFromRequest(request);
  const own = keptAircraft.peek().find(({ id }) => id === aircraft.id);
  if (own === undefined || JSON.stringify(own) === JSON.stringify(aircraft))
    return legTextFromRequest(request);
  const id = `${aircraft.id.slice(0, MOST_OF_ID)}-shared`;
  return legTextFromRequest({ ...request, aircraft: { ...aircraft, id } });
}
