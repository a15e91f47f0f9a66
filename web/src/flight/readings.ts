/** What somebody read from a gauge and typed: it holds for a while and a place, and is said to be old after that. */
import { figureOf } from './figures.ts';

export interface Reading {
  readonly text: string;
  readonly atMs: number;
  /** Where it was read. */
  readonly distanceNm: number;
  readonly altitudeFt: number;
}

export interface ReadFrom {
  readonly nowMs: number;
  readonly distanceNm: number;
  readonly altitudeFt: number;
}

export interface UsedReading {
  /** undefined: not read, no figure, or too old to be used. */
  readonly value: number | undefined;
  /** What to say of it; '' where there is nothing to say. */
  readonly words: string;
}

const MS_PER_MIN = 60_000;
/** Air changes with these (judgement). */
const LONGEST_MIN = 10;
const FARTHEST_NM = 20;
const OTHER_LEVEL_FT = 1000;
/** A gauge where ice is met shows nothing else. */
const [COLDEST_C, WARMEST_C] = [-60, 20];
/** A tank is not guessed at for longer (judgement). */
const LONGEST_TANK_MIN = 20;

export interface Tank {
  readonly highFlowLPerMin: number;
  readonly usableL: number;
}

const NOTHING: UsedReading = { value: undefined, words: '' };

export function usedGauge(reading: Reading | undefined, at: ReadFrom): UsedReading {
  if (reading === undefined || reading.text.trim() === '') return NOTHING;
  // As reports write it: M08.
  const value = figureOf(reading.text.trim().replace(/^M/i, '-'));
  if (value === undefined || value < COLDEST_C || value > WARMEST_C)
    return { value: undefined, words: `${COLDEST_C} to +${WARMEST_C} °C: not used` };
  const minutes = minutesSince(reading, at);
  const isElsewhere =
    Math.abs(at.distanceNm - reading.distanceNm) > FARTHEST_NM ||
    Math.abs(at.altitudeFt - reading.altitudeFt) > OTHER_LEVEL_FT;
  if (minutes > LONGEST_MIN || isElsewhere)
    return {
      value: undefined,
      words: `read ${minutes} min ago${isElsewhere ? ', elsewhere' : ''}: not used`,
    };
  return { value, words: minutes === 0 ? '' : `read ${minutes} min ago` };
}

/** Since it was read fluid may have flowed at the high setting all the time. */
export function usedFluid(
  reading: Reading | undefined,
  at: Pick<ReadFrom, 'nowMs'>,
  { highFlowLPerMin, usableL }: Tank,
): UsedReading {
  if (reading === undefined || reading.text.trim() === '') return NOTHING;
  const readL = figureOf(reading.text);
  if (readL === undefined || readL < 0 || readL > usableL)
    return { value: undefined, words: `0 to ${usableL} L: not used` };
  const minutes = minutesSince(reading, at);
  if (minutes > LONGEST_TANK_MIN) return { value: undefined, words: `read ${minutes} min ago: not used` };
  const value = Math.max(0, readL - minutes * highFlowLPerMin);
  return { value, words: minutes === 0 ? '' : `read ${minutes} min ago, ${Math.floor(value)} L counted now` };
}

/** A clock that was set back makes no reading newer than it is. */
function minutesSince({ atMs }: Reading, { nowMs }: Pick<ReadFrom, 'nowMs'>): number {
  return Math.max(0, Math.floor((nowMs - atMs) / MS_PER_MIN));
}
