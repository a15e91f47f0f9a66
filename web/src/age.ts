/** Ages in words. Instants are stored; an age is computed where it is shown. */
import { durationWords } from '../../worker/flight/words.ts';
import type { DataUsed } from './contract.ts';

const MINUTE_MS = 60_000;

/** Age of an instant seen from a named moment: "30 min old at departure", "valid 30 min after departure". */
export function ageAt(instantMs: number, momentMs: number, moment: 'now' | 'at departure'): string {
  const ageMs = momentMs - instantMs;
  if (Math.abs(ageMs) < MINUTE_MS / 2) return moment === 'now' ? 'valid now' : 'valid at departure';
  if (ageMs > 0) return `${durationWords(ageMs)} old ${moment}`;
  return moment === 'now'
    ? `valid ${durationWords(ageMs)} from now`
    : `valid ${durationWords(ageMs)} after departure`;
}

/**
 * How old one sounding or grid is: of a grid the run counts, of a sounding its hour. Invented data has no age of its
 * own, so only its age at departure is said; real data seen after departure has both.
 */
export function dataAgeWords(data: DataUsed, departureMs: number, nowMs: number): string {
  const instantMs = Date.parse(data.runUtc ?? data.validUtc);
  const atDeparture = ageAt(instantMs, departureMs, 'at departure');
  if (data.invented) return `${atDeparture}, invented data`;
  const now = ageAt(instantMs, nowMs, 'now');
  return departureMs < nowMs ? `${now}, ${atDeparture}` : now;
}

/** The oldest of all data used, the one that the answer's age is judged by; undefined when nothing was used. */
export function oldestData(data: readonly DataUsed[]): DataUsed | undefined {
  let oldest: DataUsed | undefined;
  for (const one of data) {
    const isOlder = oldest === undefined || madeMs(one) < madeMs(oldest);
    if (isOlder) oldest = one;
  }
  return oldest;
}

const madeMs = (data: DataUsed) => Date.parse(data.runUtc ?? data.validUtc);
