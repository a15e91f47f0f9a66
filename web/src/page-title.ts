/** The page's name among many: the leg, its altitude and its verdict. */
import { pastWords } from './answer/age-line.ts';
import { bestCandidateOf, levelsText } from './considered.ts';
import type { Brief } from './contract.ts';
import { VERDICT_WORDS } from './words.ts';

const NAME = 'Rimeway';

/** "KBTV–KBGR 11,000 within limits · Rimeway". */
/** @param nowMs  Many pages stand open: one that is past says so first. */
export function titleOf(answer: Brief | undefined, nowMs: number): string {
  if (answer === undefined) return NAME;
  const past = pastWords(answer.brief, nowMs).length > 0 ? 'Past: ' : '';
  const { leg, file, verdict } = answer.brief;
  const best = bestCandidateOf(answer.brief);
  const altitude = file === null || best === undefined ? '' : ` ${levelsText(best)}`;
  return `${past}${leg.from}–${leg.to}${altitude} ${VERDICT_WORDS[verdict.code].toLowerCase()} · ${NAME}`;
}
