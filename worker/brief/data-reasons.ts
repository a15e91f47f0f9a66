/** What the data lacks that a pilot must know before the answer: said first among its reasons. */
import type { FlightReason } from '../flight/types.ts';
import { durationWords } from '../flight/words.ts';
import type { UsedSource } from './gather-weather.ts';

const MS_PER_MINUTE = 60_000;
/** One hour of a forecast stands for instants so near without a word. */
const NEAR_MS = 30 * MS_PER_MINUTE;

/** A forecast hour that stands for times past the last one, or across one that is lost; the one used farthest is told. */
export function dataReasons(used: readonly UsedSource[]): FlightReason[] {
  const alone = used.filter(({ aloneMs }) => aloneMs > NEAR_MS);
  const [worst] = alone.toSorted((a, b) => b.aloneMs - a.aloneMs);
  if (worst === undefined) return [];
  const validUtc = new Date(worst.validMs).toISOString();
  const minutes = Math.round(worst.aloneMs / MS_PER_MINUTE);
  const sentence = `The nearest forecast hour, ${validUtc.slice(11, 16)} UTC, is used up to ${durationWords(worst.aloneMs)} from its time`;
  return [{ code: 'forecast-hour-alone', sentence, numbers: { validUtc, minutes } }];
}
