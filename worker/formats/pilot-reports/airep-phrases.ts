/** Icing and turbulence in an air-report: the intensity before the word (`SEV ICE`) or after it (`ICE SEV`, `TB LGT`). */
import { tokensOf } from './altitudes.ts';
import { ICING_WORDS } from './icing.ts';
import { TURBULENCE_WORDS } from './turbulence.ts';

/** Rime is ice without another word for it; the other kinds may be of turbulence, or of the sky. */
const ICING = new Set(['IC', 'ICE', 'ICG', 'ICING', 'RIME']);
const TURBULENCE = new Set(['TB', 'TURB', 'TURBC', 'MTW']);
const INTENSITIES = new Set(
  [...ICING_WORDS.intensities, ...TURBULENCE_WORDS.intensities].flatMap(([, codes]) => codes),
);
/** Other words that a phrase may hold. */
const WITHIN = new Set([
  ...ICING_WORDS.kinds.keys(),
  ...TURBULENCE_WORDS.kinds.keys(),
  ...[
    'OCNL',
    'OCN',
    'INTMT',
    'INTER',
    'CONT',
    'CONS',
    'ISOL',
    'ISOLD',
    'FRQ',
    'TO',
    'INC',
    '-',
    '/',
    'BLO',
    'ABV',
  ],
]);

export interface IntensityPhrases {
  /** Words of the phrases, ready for the layers; undefined when there is no such phrase. */
  readonly icing: string | undefined;
  readonly turbulence: string | undefined;
  /** All words that belong to neither. */
  readonly rest: readonly string[];
}

/** Every word comes out in one of the three, none twice. */
export function intensityPhrases(words: readonly string[]): IntensityPhrases {
  const taken = new Map<number, 'icing' | 'turbulence'>();
  words.forEach((word, index) => {
    const subject = subjectOf(word);
    if (subject === undefined || taken.has(index)) return;
    taken.set(index, subject);
    const before = takeBefore(words, index, taken, subject);
    takeAfter(words, index, taken, { subject, hasIntensity: before > 0 });
  });
  const of = (subject: 'icing' | 'turbulence') => {
    const phrase = words.filter((_, index) => taken.get(index) === subject);
    return phrase.length === 0 ? undefined : phrase.join(' ');
  };
  return {
    icing: of('icing'),
    turbulence: of('turbulence'),
    rest: words.filter((_, index) => !taken.has(index)),
  };
}

function subjectOf(word: string | undefined): 'icing' | 'turbulence' | undefined {
  if (ICING.has(word ?? '')) return 'icing';
  return TURBULENCE.has(word ?? '') ? 'turbulence' : undefined;
}

/** Intensities and their qualifiers right before the word. */
function takeBefore(
  words: readonly string[],
  index: number,
  taken: Map<number, 'icing' | 'turbulence'>,
  subject: 'icing' | 'turbulence',
): number {
  let first = index;
  while (first > 0 && !taken.has(first - 1) && isWithin(words[first - 1]!)) first -= 1;
  for (let each = first; each < index; each += 1) taken.set(each, subject);
  return index - first;
}

/** What follows the word, up to what belongs to the next phrase. */
function takeAfter(
  words: readonly string[],
  index: number,
  taken: Map<number, 'icing' | 'turbulence'>,
  phrase: { readonly subject: 'icing' | 'turbulence'; readonly hasIntensity: boolean },
): void {
  let { hasIntensity } = phrase;
  for (let next = index + 1; next < words.length && isWithin(words[next]!); next += 1) {
    const other = subjectOf(words[next]);
    if (other !== undefined && other !== phrase.subject) return;
    const isIntensity = INTENSITIES.has(tokensOf(words[next]!)[0] ?? '');
    if (isIntensity && hasIntensity && (phrase.hasIntensity || subjectOf(words[next + 1]) !== undefined))
      return;
    hasIntensity ||= isIntensity;
    taken.set(next, phrase.subject);
  }
}

/** Words of intensity, kind and frequency, and ranges of them; figures belong to a phrase only as a range (`060-080`). */
function isWithin(word: string): boolean {
  if (/^(?:FL)?\d{3}-(?:FL)?\d{3}$/.test(word)) return true;
  return tokensOf(word).every((token) => INTENSITIES.has(token) || WITHIN.has(token));
}
