/** The altitude that the answer's way out and fluid are about: the one to file, else the least bad. */
import type { BriefMember } from './contract.ts';

/** undefined when no altitude can be flown at all. */
export function bestAltitudeFt(brief: Pick<BriefMember, 'file' | 'alternatives'>): number | undefined {
  if (brief.file !== null) return brief.file.altitudeFt;
  let best: { rank: number; altitudeFt: number } | undefined;
  for (const { rank, altitudeFt } of brief.alternatives) {
    if (rank !== null && (best === undefined || rank < best.rank)) best = { rank, altitudeFt };
  }
  return best?.altitudeFt;
}
