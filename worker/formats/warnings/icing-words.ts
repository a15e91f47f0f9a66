/**
 * Icing in the words of warnings, and the freezing precipitation named beside it: `SEV ICE (FZRA)`, `MOD TO SEV ICE`,
 * `OCNL SEV RIME/MXD ICGICIP`, `SEV ICG IN FZRA`, `FRZ RAIN SEV ICE`.
 *
 * @source ICAO Annex 3, table A6-1A (from memory); National Weather Service bulletins WAUS4n and WSUSnn.
 */
import type { Scanner } from './scanner.ts';
import type { FreezingPrecipitation, IcingPhenomenon } from './warning.ts';

const KIND = '(?:RIME|CLR|CLEAR|MXD|MIXED|MX)';
const ICING = [
  '(?:(?:OCNL|FRQ|ISOL|INTMT|LCL) )?',
  '(?<first>(?:LGT|MOD|SEV|SVR)(?: ?- ?| TO |/)(?:LCL |OCNL |ISOL )?)?(?<last>MOD|SEV|SVR) ',
  `(?<kinds>${KIND}(?:(?: ?/ ?|-| AND | OR | )${KIND})* )?`,
  '(?:ICE|ICG|ICGIC|ICGIP|ICGICIP|ICING)(?![A-Z])',
].join('');
const RAIN = '(?:FZ(?:DZ|PL|SN|SG|GS)*RA|(?:FRZG?|FZ|FREEZING) ?(?:RAIN|RA))';
const DRIZZLE = '(?:FZ(?:RA|PL|SN|SG|GS)*DZ|(?:FRZG?|FZ|FREEZING) ?(?:DRIZZLE|DRZL|DZ))';
const FREEZING: readonly (readonly [FreezingPrecipitation, RegExp])[] = [
  ['freezing-rain', new RegExp(`${RAIN}(?!NO)`)],
  ['freezing-drizzle', new RegExp(DRIZZLE)],
  ['large-drops', /(?<![A-Z])SLD(?![A-Z])/],
];
const FREEZING_WORD = `(?:${RAIN}|${DRIZZLE}|SLD)(?:PL|SN|SG|GS)*(?![A-Z])`;
/** The words by which a text names it as a cause, with what leads up to them. */
const CAUSE = `(?:(?:DUE TO|IN|WITH|ASSOCD WITH|ASSOC WITH) )?\\(?${FREEZING_WORD}(?:(?:/| AND | OR )${FREEZING_WORD})*\\)?`;
const ICING_HERE = new RegExp(ICING, 'y');
const CAUSE_HERE = new RegExp(CAUSE, 'y');
const ICING_ANYWHERE = new RegExp(`(?<![A-Z])${ICING}`);
const NAMED_ANYWHERE = /(?<![A-Z])(?:ICE|ICG|ICGIC|ICGIP|ICGICIP|ICING)(?![A-Z])/;
const CAUSES = new RegExp(`(?<![A-Z])${CAUSE}`, 'g');
const KIND_WORDS = {
  RIME: 'rime',
  CLR: 'clear',
  CLEAR: 'clear',
  MXD: 'mixed',
  MIXED: 'mixed',
  MX: 'mixed',
} as const;

/** Icing as its words say, its cause not yet looked for. */
export type FoundIcing = Omit<IcingPhenomenon, 'cause'>;

/** What a text names of rain, drizzle or drops that freeze, each once, wherever it stands in a word. */
export function freezingIn(text: string): FreezingPrecipitation[] {
  return FREEZING.filter(([, pattern]) => pattern.test(text)).map(([name]) => name);
}

/** Takes the words of icing; undefined, without moving, when none stand here. */
export function takeIcing(scanner: Scanner): FoundIcing | undefined {
  const match = scanner.take(ICING_HERE);
  return match === undefined ? undefined : icingOf(match);
}

/** Takes words of freezing precipitation, which `freezingIn` reads from the whole text; true when some stood here. */
export function takeFreezing(scanner: Scanner): boolean {
  return scanner.take(CAUSE_HERE) !== undefined;
}

/**
 * Icing anywhere in the words of a phenomenon, and the words that are left. Its name without MOD or SEV, and freezing
 * precipitation alone, are icing whose intensity is not stated.
 */
export function icingIn(text: string): { readonly icing: FoundIcing; readonly rest: string } | undefined {
  const match = ICING_ANYWHERE.exec(text);
  const isNamed = NAMED_ANYWHERE.test(text) || freezingIn(text).length > 0;
  if (match === null && !isNamed) return undefined;
  const others = match === null ? text : text.replace(match[0], ' ; ');
  const rest = others
    .replace(CAUSES, ' ; ')
    .replace(/(?:^|;)\s*AND\b|\bAND\s*(?=;|$)/g, ' ; ')
    .replace(/[\s;]+/g, ' ')
    .trim();
  return { icing: match === null ? ICING_UNSTATED : icingOf(match), rest };
}

export const ICING_UNSTATED: FoundIcing = { kind: 'icing', intensity: 'unstated', ice: [] };

function icingOf({ groups }: RegExpExecArray): FoundIcing {
  const { first = '', last = '', kinds = '' } = groups!;
  const ice = (kinds.match(/[A-Z]+/g) ?? []).flatMap((word) =>
    word in KIND_WORDS ? [KIND_WORDS[word as keyof typeof KIND_WORDS]] : [],
  );
  const isSevere = /S(?:EV|VR)/.test(`${first} ${last}`);
  return { kind: 'icing', intensity: isSevere ? 'severe' : 'moderate', ice: [...new Set(ice)] };
}
