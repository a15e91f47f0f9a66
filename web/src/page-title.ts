/** The page's name among many: the leg, its altitude and its verdict. */
import { bestCandidateOf, levelsText } from './considered.ts';
import type { Brief } from './contract.ts';
import { VERDICT_WORDS } from './words.ts';

const NAME = 'Rimeway';

/** "KBTV–KBGR 11,000 within limits · Rimeway". */
export function titleOf(answer: Brief | undefined): string {
  if (answer === undefined) return NAME;
  const { leg, file, verdict } = answer.brief;
  const best = bestCandidateOf(answer.brief);
  const altitude = file === null || best === undefined ? '' : ` ${levelsText(best)}`;
  return `${leg.from}–${leg.to}${altitude} ${VERDICT_WORDS[verdict.code].toLowerCase()} · ${NAME}`;
}
