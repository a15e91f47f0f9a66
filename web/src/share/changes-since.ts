/** What would be said of a leg now that was not said when its brief was shared. */
import { bestCandidateOf, bestOf, candidateOf, levelsText } from '../considered.ts';
import type { Brief, BriefMember, Candidate } from '../contract.ts';
import { amountText } from '../units.ts';
import { UNKNOWN_WORD, VERDICT_WORDS } from '../words.ts';

/** Smaller differences are within what is known. */
const WORTH_MINUTES = 5;
const WORTH_L = 5;
const WORTH_PCT = 15;

/** Of new reports and warnings; the rest are counted. */
const MOST_REPORTS = 4;

export interface Since {
  /** Anything at all is another, be it in data or details that no line tells of. */
  readonly isOther: boolean;
  readonly lines: readonly string[];
}

/**
 * What is said of the altitude that was shared comes even where the brief's own answer is the same, and every report and warning that
 * is new, whatever followed from it.
 */
export function changesSince(then: Brief, now: Brief): Since {
  const best = bestOf(then.brief);
  const before = best && candidateOf(then.brief, best);
  const same = best && candidateOf(now.brief, best);
  return {
    isOther: JSON.stringify(then) !== JSON.stringify(now),
    lines: [
      ...answerLines(then.brief, now.brief),
      ...(before === undefined ? [] : [...verdictLines(before, same), ...exposureLines(before, same)]),
      ...reportLines(then, now),
    ],
  };
}

function reportLines(then: Brief, now: Brief): string[] {
  const old = new Set(sentencesOf(then));
  const added = sentencesOf(now).filter((sentence) => !old.has(sentence));
  const more = added.length - MOST_REPORTS;
  return [
    ...added.slice(0, MOST_REPORTS).map((sentence) => `New: ${sentence}`),
    ...(more > 0 ? [`${more} more new report${more === 1 ? '' : 's'}`] : []),
  ];
}

/** Warnings before reports. */
function sentencesOf({ features }: Brief): string[] {
  const of = (kind: 'warning' | 'report') =>
    features.flatMap(({ properties }) => (properties.kind === kind ? [properties.sentence] : []));
  return [...of('warning'), ...of('report')];
}

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
  if (now === undefined || (now.verdict === before.verdict && now.inWords === before.inWords)) return [];
  const said = VERDICT_WORDS[now.verdict];
  if (now.verdict === before.verdict) return [`${wordsOf(before)}: ${said} as then, but ${now.inWords}`];
  return [`${wordsOf(before)}: ${VERDICT_WORDS[before.verdict]} then, ${said} now: ${now.inWords}`];
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
    // However little more: nobody is to take it for known.
    differs: (was, is) =>
      Math.ceil(is.unknownMinutes) > Math.ceil(was.unknownMinutes) ||
      was.unknownMinutes - is.unknownMinutes >= WORTH_MINUTES,
    words: ({ unknownMinutes }) => `${Math.ceil(unknownMinutes)} min ${UNKNOWN_WORD}`,
  },
  {
    // null: no fluid system, then as now.
    differs: farther(({ fluidL }) => fluidL?.high ?? 0, WORTH_L),
    words: ({ fluidL }) => `fluid up to ${amountText(String(Math.ceil(fluidL?.high ?? 0)), 'L')}`,
  },
];
