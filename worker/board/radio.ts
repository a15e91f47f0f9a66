/** What of a brief can be said on the radio: at most ten words, the verdict first where it is not one to fly with. */
import { withThousands } from '../flight/words.ts';
import type { Brief, BriefMember, Candidate } from '../schema/brief.ts';
import { bestCandidate } from './best-candidate.ts';

export const MOST_RADIO_WORDS = 10;

/** Each at most seven words, by the code of the reason. */
const OUTSIDE_WORDS: Readonly<Record<string, string>> = {
  'ice-at-lift-off': 'Ice left on the aeroplane.',
  'large-drops': 'Large drops on the way.',
  'large-drops-where-planned': 'Large drops in hold or approach.',
  'reported-large-drops': 'Large drops reported on the way.',
  'severe-icing': 'Severe ice on the way.',
  'severe-icing-where-planned': 'Severe ice in hold or approach.',
  'reported-severe-icing': 'Severe ice reported on the way.',
  'not-certified': 'Ice, and not certified for it.',
  'fluid-below-dispatch-minimum': 'Fluid below the dispatch minimum.',
  'fluid-short': 'Fluid short.',
  'icing-speed-not-held': 'Minimum icing speed not held.',
  'iced-ceiling': 'Above the ceiling with ice.',
  'climb-not-held': 'Ice takes the climb.',
  'cannot-climb': 'Ice takes the climb.',
  'missed-approach-not-climbed': 'Ice takes the missed approach.',
  'no-way-out': 'No way out of the ice.',
  'under-cold-minimum': 'Too cold for the minimum altitudes.',
};

/** The same, after the word "Unknown:". */
const UNKNOWN_WORDS: Readonly<Record<string, string>> = {
  'unknown-air': 'no data for part of the way.',
  'unknown-where-planned': 'no data for hold or approach.',
  'ice-beyond-known-loss': 'ice beyond known performance.',
  'icing-speed-not-given': 'minimum icing speed not given.',
  'fluid-short-if-unknown-air-is-moist': 'fluid may be short.',
  'fluid-not-given': 'fluid on board not given.',
  'no-altitude': 'no altitude can be flown.',
};

/** Where "Unknown:" before it would read as if there were one. */
const WAY_OUT_UNKNOWN = 'Unknown. No known way out of the ice.';

const UNKNOWN_SENTENCES: Readonly<Record<string, string>> = {
  ...Object.fromEntries(Object.entries(UNKNOWN_WORDS).map(([code, words]) => [code, `Unknown: ${words}`])),
  'way-out-unknown': WAY_OUT_UNKNOWN,
};

/** "File 11,000. Accept 11,000 through 13,000. Light ice in climb." */
export function radioWords({ brief }: Brief): string {
  const best = bestCandidate(brief);
  const { code } = brief.verdict;
  if (code === 'outside-limits') return `Outside limits. ${outsideWords(brief, best)}`;
  if (code === 'unknown' || brief.file === null || best === undefined) {
    return causeWords(brief, UNKNOWN_SENTENCES) ?? 'Unknown: see the brief.';
  }
  const file = `File ${best.profile.map(({ altitudeFt }) => withThousands(altitudeFt)).join(' then ')}.`;
  const hazards = fitting([[file], ...hazardWords(brief, best)]).slice(1);
  // What is met comes before what else could be accepted.
  const accepted = acceptWords(brief.file).map((words) => [file, words, ...hazards].join(' '));
  return accepted.find((whole) => wordCount(whole) <= MOST_RADIO_WORDS) ?? [file, ...hazards].join(' ');
}

function outsideWords(brief: BriefMember, best: Candidate | undefined): string {
  const drops = best?.exposure?.worstLargeDrops ?? 'none';
  const isOnPath = brief.verdict.reasons.some(({ code }) => code === 'large-drops');
  if (isOnPath && drops !== 'none') return `${capital(drops.replace('-', ' '))} on the way.`;
  return causeWords(brief, OUTSIDE_WORDS) ?? 'See the brief.';
}

/** Of the first reason that has words here: reasons stand in the order of their gravity. */
function causeWords({ verdict }: BriefMember, words: Readonly<Record<string, string>>): string | undefined {
  return verdict.reasons.map(({ code }) => words[code]).find((each) => each !== undefined);
}

/** Of those in order, all that there is room for, each in the longest of its wordings that fits. */
function fitting(parts: readonly (readonly string[])[]): string[] {
  const kept: string[] = [];
  for (const wordings of parts) {
    const fits = wordings.find((words) => wordCount([...kept, words].join(' ')) <= MOST_RADIO_WORDS);
    if (fits !== undefined) kept.push(fits);
  }
  return kept;
}

const wordCount = (text: string) => text.split(' ').filter(Boolean).length;

/** The longest first; none where there is nothing else to accept. */
function acceptWords({
  altitudeFt,
  acceptFt: { lowerFt, upperFt },
}: NonNullable<BriefMember['file']>): string[] {
  if (lowerFt === upperFt) return lowerFt === altitudeFt ? [] : [`Accept ${withThousands(lowerFt)}.`];
  const inFeet = `Accept ${withThousands(lowerFt)} through ${withThousands(upperFt)}.`;
  const inThousands = lowerFt % 1000 === 0 && upperFt % 1000 === 0;
  return inThousands ? [`Accept ${lowerFt / 1000} through ${upperFt / 1000} thousand.`, inFeet] : [inFeet];
}

/** Gravest first, each in its wordings. */
function hazardWords({ verdict }: BriefMember, best: Candidate): string[][] {
  const codes = new Set(verdict.reasons.map(({ code }) => code));
  const words: string[][] = [];
  if (codes.has('large-drops-not-excluded')) words.push(['Large drops possible.']);
  words.push(iceWords(verdict.code, best));
  if (codes.has('reported-icing')) words.push(['Icing reported.']);
  return words;
}

const PARTS = ['climb', 'cruise', 'descent'] as const;
/** A part with less than this of all the ice is not named. */
const NAMED_SHARE = 0.15;

/** Rather without the parts than not at all. */
function iceWords(code: BriefMember['verdict']['code'], { exposure }: Candidate): string[] {
  if (exposure === null) return [];
  const { icingMinutes, worstIntensity, parts } = exposure;
  if (!(icingMinutes.high > 0)) {
    return [code === 'no-ice-found' ? 'No ice found.' : 'Ice not excluded.'];
  }
  const word = worstIntensity === null || worstIntensity === 'none' ? 'Some' : capital(worstIntensity);
  const highOf = (name: string) => parts.find(({ part }) => part === name)?.icingMinutes.high ?? 0;
  const whole = PARTS.reduce((sum, name) => sum + highOf(name), 0);
  const where = PARTS.filter((name) => highOf(name) > NAMED_SHARE * whole);
  const isEverywhere = where.length === 0 || where.length === PARTS.length;
  return [`${word} ice ${isEverywhere ? 'all along' : `in ${where.join(', ')}`}.`, `${word} ice.`];
}

const capital = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);
