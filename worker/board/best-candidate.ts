/** Which of a brief's candidates the board speaks of: the altitude to file, else the least bad one that can be flown. */
import type { BriefMember, Candidate } from '../schema/brief.ts';

/** As the page of a brief chooses; undefined where no altitude can be flown. */
export function bestCandidate(
  brief: Pick<BriefMember, 'file' | 'alternatives' | 'recommended'>,
): Candidate | undefined {
  const { recommended, file, alternatives } = brief;
  if (recommended !== null && recommended.profile.length > 1) return recommended;
  if (file !== null) return alternatives.find(({ altitudeFt }) => altitudeFt === file.altitudeFt);
  return alternatives.reduce<Candidate | undefined>((best, each) => {
    if (each.rank === null || each.exposure === null) return best;
    return best === undefined || each.rank < best.rank! ? each : best;
  }, undefined);
}
