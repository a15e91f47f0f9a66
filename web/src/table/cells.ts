/** Amounts of a candidate as the table writes them. */
import { rounded } from '../../../worker/flight/rounding.ts';
import type { ExposureAnswer } from '../contract.ts';
import { signedText, spreadText } from '../numbers.ts';

export function iceMinutesText({ icingMinutes }: ExposureAnswer): string {
  return spreadText(icingMinutes, 'hazardMinutes', 'mostMinutes');
}

/** Unknown time is never rounded away. */
export function unknownMinutesText({ unknownMinutes }: ExposureAnswer): string {
  return String(rounded(unknownMinutes, 'hazardMinutes', 'screen'));
}

export function builtText({ builtMm }: ExposureAnswer): string {
  return spreadText(builtMm, 'builtMm');
}

export function fluidText({ fluidL }: ExposureAnswer): string {
  return fluidL === null ? 'none' : spreadText(fluidL, 'fluidL');
}

/** Minus is a headwind: it costs. */
export function windText({ headwindKt }: ExposureAnswer): string {
  return headwindKt === null ? 'unknown' : signedText(-rounded(headwindKt, 'speedKt', 'screen'));
}
