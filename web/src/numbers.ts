/** Numbers as the page shows them. Amounts are rounded to what is known by the project's one rounding. */
import { type RoundedQuantity, rounded } from '../../worker/flight/rounding.ts';
import type { SpreadAnswer } from './contract.ts';
import { clockText, dateText, zoneWord } from './units.ts';

const grouped = new Intl.NumberFormat('en-US', { maximumFractionDigits: 0 });

/** "11,000"; the minus is the true sign. */
export function feetText(feet: number): string {
  return grouped.format(Math.round(feet)).replace('-', '−');
}

export function signedText(value: number, digits = 0): string {
  const shown = Number(value.toFixed(digits));
  if (shown === 0) return (0).toFixed(digits);
  return `${shown < 0 ? '−' : '+'}${Math.abs(shown).toFixed(digits)}`;
}

/** Temperatures carry a true minus and no plus. */
export function celsiusText(temperatureC: number): string {
  return `${degreesText(temperatureC)} °C`;
}

/** The same where the unit stands at the head. */
export function degreesText(temperatureC: number): string {
  const shown = rounded(temperatureC, 'temperatureC', 'screen');
  return `${shown < 0 ? '−' : ''}${Math.abs(shown)}`;
}

/** "1:02" from minutes. */
export function hourMinuteText(minutes: number): string {
  const whole = Math.round(minutes);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

/** "25" or "5–40": low and high, each rounded to what is known; the high one by a rounding of its own where that may not fall. */
/** Of fluid; what is carried and covers the most that is needed is not rounded past. */
export function fluidSpreadText(needed: SpreadAnswer, onBoardL: number | null): string {
  const most = rounded(needed.high, 'fluidL', 'screen');
  if (onBoardL === null || needed.high > onBoardL || most <= onBoardL) return spreadText(needed, 'fluidL');
  const carried = rounded(onBoardL, 'fluidOnBoardL', 'screen');
  const low = Math.min(carried, rounded(needed.low, 'fluidL', 'screen'));
  const text = Number.isInteger(carried) ? grouped.format(carried) : carried.toFixed(1);
  return low === carried ? text : `${grouped.format(low)}–${text}`;
}

export function spreadText(
  spread: SpreadAnswer,
  quantity: RoundedQuantity,
  highQuantity: RoundedQuantity = quantity,
): string {
  const low = rounded(spread.low, quantity, 'screen');
  const high = rounded(spread.high, highQuantity, 'screen');
  return low === high ? grouped.format(low) : `${grouped.format(low)}–${grouped.format(high)}`;
}

export function ceilTo(value: number, step: number): number {
  return Math.ceil(value / step - 1e-9) * step + 0;
}

export function floorTo(value: number, step: number): number {
  return Math.floor(value / step + 1e-9) * step + 0;
}

/** "14 Jan 11:30 UTC". */
export function instantText(utc: string | number): string {
  return `${dateText(utc)} ${clockText(utc)} ${zoneWord()}`;
}

/** "14 Jan 2026 11:30 UTC". */
export function datedText(utc: string | number): string {
  return `${dateText(utc, true)} ${clockText(utc)} ${zoneWord()}`;
}

export const HPA_PER_INHG = 33.8638866;

/** "1017 hPa", "1013.25 hPa": no more decimals than it has. */
export function hPaText(settingHPa: number): string {
  return `${Number(settingHPa.toFixed(2))} hPa`;
}

/** "1013 hPa (29.92 inHg)". */
export function settingText(settingHPa: number): string {
  return `${Math.round(settingHPa)} hPa (${(settingHPa / HPA_PER_INHG).toFixed(2)} inHg)`;
}
