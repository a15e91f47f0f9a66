/** Numbers as they stand in sentences, rounded for reading. */
import { ftFromM } from '../science/units.ts';
import { rounded } from './rounding.ts';
import type { FlightReason, ProfileLevel } from './types.ts';

const S_PER_MIN = 60;
const MS_PER_MIN = 60_000;
const M3_PER_L = 0.001;

export const minutesOf = (seconds: number): number => seconds / S_PER_MIN;
export const litersOf = (volumeM3: number): number => volumeM3 / M3_PER_L;
export const millimetersOf = (thicknessM: number): number => thicknessM * 1000;

/** "11,000 ft". */
export function feet(altitudeM: number): string {
  return `${withThousands(rounded(ftFromM(altitudeM), 'altitudeFt', 'screen'))} ft`;
}

/** "11,000 ft", or "9,000 then 11,000 ft" of a stepped profile. */
export function levelsWords(levels: readonly ProfileLevel[]): string {
  const altitudes = levels.map(({ altitudeM }) => feet(altitudeM).replace(' ft', ''));
  return `${altitudes.join(' then ')} ft`;
}

/** "40 min" of something that counts, in steps of five and never "0 min" for something. */
export function hazardMinutes(seconds: number): string {
  return `${rounded(minutesOf(seconds), 'hazardMinutes', 'screen')} min`;
}

/** The same as the most there may be: never less than it is. */
export function mostMinutes(seconds: number): string {
  return `${rounded(minutesOf(seconds), 'mostMinutes', 'screen')} min`;
}

/** "11,000", "-1,234.5". */
export function withThousands(value: number): string {
  const [whole = '', part] = String(Math.abs(value)).split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  return `${value < 0 ? '-' : ''}${grouped}${part === undefined ? '' : `.${part}`}`;
}

/** With its first letter large. */
export function capitalized(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export function reason(
  code: string,
  sentence: string,
  numbers: Record<string, number | string>,
): FlightReason {
  return { code, sentence, numbers };
}

/** Numbers beside sentences, as the API carries them. */
export const apiMinutes = (seconds: number): number => rounded(minutesOf(seconds), 'hazardMinutes', 'api');
export const apiFeet = (altitudeM: number): number => rounded(ftFromM(altitudeM), 'altitudeFt', 'api');
export const apiLiters = (volumeM3: number): number => rounded(litersOf(volumeM3), 'fluidL', 'api');

/** "30 min", "1 h 12 min", "2 d 3 h"; the sign is dropped. */
export function durationWords(durationMs: number): string {
  const minutes = Math.round(Math.abs(durationMs) / MS_PER_MIN);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return hours % 24 === 0 ? `${Math.floor(hours / 24)} d` : `${Math.floor(hours / 24)} d ${hours % 24} h`;
}
