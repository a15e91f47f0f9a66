/** What the data of an answer lacks, as reasons, cautions and sentences. */
import type { FlightReason } from '../flight/types.ts';
import { durationWords } from '../flight/words.ts';
import type { UsedSource } from './gather-weather.ts';

const MS_PER_MINUTE = 60_000;
/** One hour of a forecast stands for instants so near without a word. */
const NEAR_MS = 30 * MS_PER_MINUTE;

/**
 * To be known before the answer: a forecast hour that stands for times past the last one, or across one that is lost. The one
 * used farthest is told.
 */
export function dataReasons(used: readonly UsedSource[]): FlightReason[] {
  const alone = used.filter(({ aloneMs }) => aloneMs > NEAR_MS);
  const [worst] = alone.toSorted((a, b) => b.aloneMs - a.aloneMs);
  if (worst === undefined) return [];
  const validUtc = new Date(worst.validMs).toISOString();
  const minutes = Math.round(worst.aloneMs / MS_PER_MINUTE);
  const sentence = `The nearest forecast hour, ${validUtc.slice(11, 16)} UTC, is used up to ${durationWords(worst.aloneMs)} from its time`;
  return [{ code: 'forecast-hour-alone', sentence, numbers: { validUtc, minutes } }];
}

/** A forecast hour with refused messages says so beside the other cautions: once, however many legs use it. */
export function incompleteCautions(used: readonly UsedSource[]): string[] {
  const cautions = used
    .filter((source) => source.refusedMessages > 0)
    .map(
      (source) =>
        `${source.name}, valid ${new Date(source.validMs).toISOString()}: ${source.refusedMessages} messages of its file were refused; what they held is unknown.`,
    );
  return [...new Set(cautions)];
}

/** What one source does not hold and should, in words; empty for a whole one. */
export function lacksOf({ refusedMessages, hasCloudWater }: UsedSource): string[] {
  const plural = refusedMessages === 1 ? 'message' : 'messages';
  return [
    ...(refusedMessages > 0 ? [`${refusedMessages} ${plural} of its file refused`] : []),
    ...(hasCloudWater === false ? ['no cloud water: ice judged from humidity'] : []),
  ];
}

/** Everything that the data lacks, in sentences without an end, each once; empty for whole data. */
export function lackSentences(used: readonly UsedSource[]): string[] {
  const ofSources = used.flatMap((source) => lacksOf(source).map((lack) => `${source.name} has ${lack}`));
  return [...dataReasons(used).map(({ sentence }) => sentence), ...new Set(ofSources)];
}
