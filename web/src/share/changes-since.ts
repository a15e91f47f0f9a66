/** What would be said of a leg now that was not said when its brief was shared. */
import { bestCandidateOf, bestOf, candidateOf, levelsText } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { amountText } from '../units.ts';
import { UNKNOWN_WORD, VERDICT_WORDS } from '../words.ts';

/** Smaller differences are within what is known. */
const WORTH_MINUTES = 5;
const WORTH_L = 5;
const WORTH_PCT = 15;

export interface Since {
  /** Newer data were used for it. */
  readonly hasNewData: boolean;
  readonly lines: readonly string[];
}

/** What is said of the altitude that was shared comes even where the brief's own answer is the same. */
export function changesSince(then: BriefMember, now: BriefMember): Since {
  const best = bestOf(then);
  const before = best && candidateOf(then, best);
  const same = best && candidateOf(now, best);
  return {
    hasNewData: namesOf(then) !== namesOf(now),
    lines: [
      ...answerLines(then, now),
      ...(before === undefined ? [] : [...verdictLines(before, same), ...exposureLines(before, same)]),
    ],
  };
}

const namesOf = ({ data, method }: BriefMember) =>
  [method.version, ...data.map(({ id, validUtc }) => `${id} ${validUtc}`)].sort().join();

function answerLines(then: BriefMember, now: BriefMember): string[] {
  const lines: string[] = [];
  const [was, is] = [filedWords(then), filedWords(now)];
  if (was !== is) lines.push(`Altitude to file: ${was} then, ${is} now`);
  const [verdict, verdictNow] = [VERDICT_WORDS[then.verdict.code], VERDICT_WORDS[now.verdict.code]];
  if (verdict !== verdictNow) lines.push(`Verdict: ${verdict} then, ${verdictNow} now`);
  return lines;
}

function filedWords(brief: BriefMember): string {
  const best = brief.file === null ? undefined : bestCandidateOf(brief);
  return best === undefined ? 'none' : wordsOf(best);
}

const wordsOf = (candidate: Candidate) => `${levelsText(candidate)} ft`;

function verdictLines(before: Candidate, now: Candidate | undefined): string[] {
  if (now === undefined || now.verdict === before.verdict) return [];
  return [
    `${wordsOf(before)}: ${VERDICT_WORDS[before.verdict]} then, ${VERDICT_WORDS[now.verdict]} now: ${now.inWords}`,
  ];
}

type Exposure = NonNullable<Candidate['exposure']>;

function exposureLines(before: Candidate, now: Candidate | undefined): string[] {
  const [was, is] = [before.exposure, now?.exposure ?? null];
  const at = wordsOf(before);
  if (was === null) return [];
  if (is === null) return [`${at}: not flown now`];
  return FIGURES.filter(({ differs }) => differs(was, is)).map(
    ({ words }) => `${at}: ${words(was)} then, ${words(is)} now`,
  );
}

interface Figure {
  readonly differs: (was: Exposure, is: Exposure) => boolean;
  readonly words: (exposure: Exposure) => string;
}

const farther = (figure: (exposure: Exposure) => number, worth: number): Figure['differs'] => {
  return (was, is) => Math.abs(figure(is) - figure(was)) >= worth;
};

const FIGURES: readonly Figure[] = [
  {
    differs: farther(({ icingMinutes }) => icingMinutes.high, WORTH_MINUTES),
    words: ({ icingMinutes }) => `up to ${Math.ceil(icingMinutes.high)} min in ice`,
  },
  {
    differs: (was, is) => was.worstIntensity !== is.worstIntensity,
    words: ({ worstIntensity }) => (worstIntensity === 'none' ? 'no ice' : (worstIntensity ?? UNKNOWN_WORD)),
  },
  {
    differs: (was, is) => was.worstLargeDrops !== is.worstLargeDrops,
    words: ({ worstLargeDrops: drops }) => (drops === 'none' ? 'no large drops' : drops.replace('-', ' ')),
  },
  {
    differs: farther(({ largeDropChancePct }) => largeDropChancePct, WORTH_PCT),
    words: ({ largeDropChancePct }) => `a chance of ${Math.round(largeDropChancePct)} % of large drops`,
  },
  {
    differs: farther(({ unknownMinutes }) => unknownMinutes, WORTH_MINUTES),
    words: ({ unknownMinutes }) => `${Math.ceil(unknownMinutes)} min ${UNKNOWN_WORD}`,
  },
  {
    // null: no fluid system, then as now.
    differs: farther(({ fluidL }) => fluidL?.high ?? 0, WORTH_L),
    words: ({ fluidL }) => `fluid up to ${amountText(String(Math.ceil(fluidL?.high ?? 0)), 'L')}`,
  },
];
