/** Amounts of a candidate as the table writes them. */
import { rounded } from '../../../worker/flight/rounding.ts';
import type { ExposureAnswer } from '../contract.ts';
import { signedText, spreadText } from '../numbers.ts';

export function iceMinutesText(exposure: ExposureAnswer): string {
  return besideUnknown(spreadText(exposure.icingMinutes, 'hazardMinutes', 'mostMinutes'), exposure);
}

/** Of an amount of which nothing is known; never 0. */
export const UNKNOWN_TEXT = '?';

/** Time in unknown air is told to a tenth of a minute: less is none. */
const NO_KNOWN_MINUTES = 0.1;

/** An amount of the known air alone: with no known air there is none, and unknown air may hold more. */
function besideUnknown(known: string, { unknownMinutes, timeMinutes }: ExposureAnswer): string {
  if (unknownMinutes <= 0) return known;
  return timeMinutes - unknownMinutes <= NO_KNOWN_MINUTES ? UNKNOWN_TEXT : `${known}+`;
}

/** Unknown time is never rounded away. */
export function unknownMinutesText({ unknownMinutes }: ExposureAnswer): string {
  return String(rounded(unknownMinutes, 'hazardMinutes', 'screen'));
}

export function builtText(exposure: ExposureAnswer): string {
  return besideUnknown(spreadText(exposure.builtMm, 'builtMm'), exposure);
}

export function fluidText({ fluidL }: ExposureAnswer): string {
  return fluidL === null ? 'none' : spreadText(fluidL, 'fluidL');
}

/** Minus is a headwind: it costs. */
export function windText({ headwindKt }: ExposureAnswer): string {
  return headwindKt === null ? 'unknown' : signedText(-rounded(headwindKt, 'speedKt', 'screen'));
}

export function fuelText({ fuelKg }: ExposureAnswer): string {
  return String(rounded(fuelKg, 'fuelKg', 'screen'));
}
