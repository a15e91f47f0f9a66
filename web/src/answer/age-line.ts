/** The age of the answer in one line: its oldest data, and whether something newer is due. */
import { inventedPart } from '../../../worker/schema/data-origin.ts';
import { dataAgeWords, oldestData } from '../age.ts';
import type { BriefMember } from '../contract.ts';
import { groupedByName } from '../data/stations.ts';
import { datedText, instantText } from '../numbers.ts';

export function answerAgeWords(brief: Pick<BriefMember, 'data' | 'leg'>, nowMs: number): string {
  const oldest = oldestData(brief.data);
  if (oldest === undefined) return 'none reaches this leg';
  const age = dataAgeWords(oldest, Date.parse(brief.leg.departureUtc), nowMs);
  // Hours of one model are one source.
  const sourceCount = groupedByName(brief.data).length;
  const sources = sourceCount === 1 ? `${oldest.name}, ${age}` : `${sourceCount} sources, the oldest ${age}`;
  const lacking = brief.data.filter((one) => one.lacks.length > 0).length;
  return lacking === 0 ? sources : `${sources}; incomplete: see Data`;
}

/** undefined while the brief is fresh. An invented scenario does not age. */
export function staleWords(
  brief: Pick<BriefMember, 'data' | 'staleAtUtc'>,
  nowMs: number,
): string | undefined {
  if (brief.staleAtUtc === null || isInvented(brief)) return undefined;
  const staleMs = Date.parse(brief.staleAtUtc);
  return nowMs < staleMs ? undefined : `Stale since ${instantText(staleMs)}: brief the leg again.`;
}

/** While it is fresh, until when; '' where nobody knows, or nothing ages. */
export function staleFromWords(brief: Pick<BriefMember, 'data' | 'staleAtUtc'>): string {
  return brief.staleAtUtc === null || isInvented(brief)
    ? ''
    : `. Stale from ${instantText(brief.staleAtUtc)}`;
}

/** Wholly of an invented scenario. */
export function isInvented({ data }: Pick<BriefMember, 'data'>): boolean {
  return inventedPart(data) === 'wholly';
}

/** Why the answer is no longer to be acted on; empty while it is. An invented scenario never departs. */
export function pastWords(brief: Pick<BriefMember, 'data' | 'staleAtUtc' | 'leg'>, nowMs: number): string[] {
  if (isInvented(brief)) return [];
  const { staleAtUtc, leg } = brief;
  const words: string[] = [];
  if (Date.parse(leg.departureUtc) < nowMs) words.push(`Departed ${datedText(leg.departureUtc)}`);
  if (staleAtUtc !== null && Date.parse(staleAtUtc) <= nowMs)
    words.push(`Stale since ${datedText(staleAtUtc)}`);
  return words;
}

/** undefined for real data. */
export function inventedWords(brief: Pick<BriefMember, 'data'>): string | undefined {
  const part = inventedPart(brief.data);
  return part === 'none'
    ? undefined
    : `${part === 'wholly' ? 'Invented' : 'Partly invented'} data, for trying only`;
}
