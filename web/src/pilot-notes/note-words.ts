/** Pilots' notes in words. None of them says more than the pilot did. */
import { durationWords } from '../../../worker/flight/words.ts';
import type { FeatureOf } from '../contract.ts';
import { celsiusText, feetText } from '../numbers.ts';

export type PilotNote = FeatureOf<'pilot-note'>;
type Properties = PilotNote['properties'];
type Heights = Properties['clouds'][number]['top'];

/** "no ice met 6,000–8,000 ft, tops 9,500 ft, bases 4,000 ft, −8 °C": all that was said. */
export function saidWords({ noIce, lowerFt, upperFt, clouds, temperatureC }: Properties): string {
  const level = levelWords(lowerFt, upperFt);
  const hasLevel = noIce || temperatureC !== null;
  return [
    ...(noIce ? ['no ice met'] : []),
    ...(temperatureC === null ? [] : [celsiusText(temperatureC)]),
    ...(hasLevel && level !== '' ? [level] : []),
    ...clouds.flatMap(({ top, base }) => [
      ...(top === null ? [] : [`tops ${heightsText(top)} ft`]),
      ...(base === null ? [] : [`bases ${heightsText(base)} ft`]),
    ]),
  ].join(', ');
}

function levelWords(lowerFt: number | null, upperFt: number | null): string {
  if (lowerFt === null && upperFt === null) return '';
  if (lowerFt === null) return `below ${feetText(upperFt!)} ft`;
  if (upperFt === null) return `above ${feetText(lowerFt)} ft`;
  return `${heightsText({ lowerFt, upperFt })} ft`;
}

/** "9,500", "9,000–10,000". */
export function heightsText({ lowerFt, upperFt }: NonNullable<Heights>): string {
  return lowerFt === upperFt ? feetText(lowerFt) : `${feetText(lowerFt)}–${feetText(upperFt)}`;
}

const HALF_MINUTE_MS = 30_000;

/** "35 min", of one that a clock puts ahead "5 min ahead". */
export function noteAge(issuedUtc: string, atMs: number): string {
  const ageMs = atMs - Date.parse(issuedUtc);
  if (Math.abs(ageMs) < HALF_MINUTE_MS) return 'just now';
  return `${durationWords(ageMs)}${ageMs > 0 ? '' : ' ahead'}`;
}
