/** The age of the answer in one line: its oldest data, and whether something newer is due. */
import { dataAgeWords, oldestData } from '../age.ts';
import type { BriefMember } from '../contract.ts';
import { groupedByName } from '../data/stations.ts';
import { instantText } from '../numbers.ts';

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
  const isInvented = brief.data.length > 0 && brief.data.every((one) => one.invented);
  if (brief.staleAtUtc === null || isInvented) return undefined;
  const staleMs = Date.parse(brief.staleAtUtc);
  return nowMs < staleMs ? undefined : `Stale since ${instantText(staleMs)}: brief the leg again.`;
}
