/** Amounts of a candidate as the table writes them. */
import { rounded } from '../../../worker/flight/rounding.ts';
import type { BriefMember, Candidate, ExposureAnswer } from '../contract.ts';
import { besideUnknown, UNKNOWN_TEXT } from '../known-amounts.ts';
import { degreesText, fluidSpreadText, hourMinuteText, signedText, spreadText } from '../numbers.ts';
import { figureText } from '../units.ts';
import { STANDING_WORDS } from '../words.ts';

export function iceMinutesText(exposure: ExposureAnswer): string {
  return beside(spreadText(exposure.icingMinutes, 'hazardMinutes', 'mostMinutes'), exposure);
}

const beside = (known: string, { unknownMinutes, timeMinutes }: ExposureAnswer) =>
  besideUnknown(known, { unknownMinutes, minutes: timeMinutes });

/** Unknown time is never rounded away. */
export function unknownMinutesText({ unknownMinutes }: ExposureAnswer): string {
  return String(rounded(unknownMinutes, 'hazardMinutes', 'screen'));
}

export function builtText(exposure: ExposureAnswer): string {
  // As inches are written where there is little room.
  const figures = figureText(spreadText(exposure.builtMm, 'builtMm'), 'mm').replaceAll(/\b0\./g, '.');
  return beside(figures, exposure);
}

/** With unknown air on the trip or in what is planned for it may be more. */
export function fluidText(
  { fluidL, unknownMinutes, parts }: ExposureAnswer,
  { fluidOnBoardL }: Pick<BriefMember['limits'], 'fluidOnBoardL'>,
): string {
  if (fluidL === null) return 'none';
  const isMore = unknownMinutes > 0 || parts.some((part) => part.unknownMinutes > 0);
  return `${figureText(fluidSpreadText(fluidL, fluidOnBoardL), 'L')}${isMore ? '+' : ''}`;
}

/** Minus is a headwind: it costs. */
export function windText({ headwindKt }: ExposureAnswer): string {
  return headwindKt === null ? UNKNOWN_TEXT : signedText(-rounded(headwindKt, 'speedKt', 'screen'));
}

/** Before what was flown as in still air in part, since the wind is not known there. */
const about = ({ windUnknownMinutes }: ExposureAnswer) => (windUnknownMinutes > 0 ? '≈' : '');

export function timeText(exposure: ExposureAnswer): string {
  return `${about(exposure)}${hourMinuteText(exposure.timeMinutes)}`;
}

export function fuelText(exposure: ExposureAnswer): string {
  return `${about(exposure)}${rounded(exposure.fuelKg, 'fuelKg', 'screen')}`;
}

/** "−7/−3": of the still air and on the gauge; nothing known is unknown. */
export function temperatureText({ staticTemperatureC, gaugeTemperatureC }: ExposureAnswer): string {
  if (staticTemperatureC === null || gaugeTemperatureC === null) return UNKNOWN_TEXT;
  return `${degreesText(staticTemperatureC)}/${degreesText(gaugeTemperatureC)}`;
}

/** How much of the heating by speed the gauge is taken to show. */
export function gaugeWords({ temperatureRecoveryRatio }: BriefMember['limits']): string {
  return `Gauge: static and ${Math.round(temperatureRecoveryRatio * 100)} % of the heating by speed`;
}

/** Why it lost, or won; of one that cannot be flown, why not. */
export function whyText({ reasons, standing }: Candidate): string {
  return reasons[0]?.sentence ?? STANDING_WORDS[standing];
}
