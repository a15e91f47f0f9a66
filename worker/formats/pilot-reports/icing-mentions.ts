/** Icing told outside the element of icing: in remarks, under turbulence or sky, or among words that no rule reads. */
import { tokensOf } from './altitudes.ts';
import { holdsIcing } from './icing.ts';
import type { IcingMention } from './report.ts';

const ICING =
  /(?<![A-Z])(?:ICE|ICED|ICY|ICING|ICG[A-Z]*|DEIC[A-Z]*|RIME|GLAZE|SLD|ZR|ZL)(?![A-Z])|(?<![A-Z/])IC(?![A-Z])|FZ(?:RA|DZ|UP|FG)|(?:FRZ|FREEZ|FZ )[A-Z]*/;
const SUBJECT = '(?:ICE|ICG|ICING|IC|RIME)';
/** Behind a denial: it holds here and not there, or no longer. */
const LIMIT =
  '(?! ?(?:ABV|ABOVE|BLO|BLW|BELOW|BTN|BTWN|AFT|BFR|UNTIL|TIL|EXC|EXCEPT|BUT|AT|FL|SINCE|NOW|\\d))';
const DENIAL = `(?:NEG|NEGATIVE|NO|NIL|NONE) ${SUBJECT}(?![A-Z])(?: (?:INC|IN CLDS?)(?![A-Z]))?|${SUBJECT} (?:NEG|NIL|NONE)(?![A-Z])`;
/** What says that there is none, or tells of the freezing level alone. */
const NO_ICING = new RegExp(`(?<![A-Z])(?:${DENIAL})${LIMIT}|(?:FRZG?|FZ|FREEZING) ?(?:LVL|LEVEL)`, 'g');

/**
 * Texts in which ice or freezing precipitation is named. Nothing is read from them: how much, where and whether it was
 * met stays with who reads the words.
 *
 * @param texts  code of the element and its text.
 */
export function icingMentions(
  texts: readonly (readonly [element: string, text: string | undefined])[],
): IcingMention[] {
  return texts.flatMap(([element, text = '']) => {
    const told = text.replace(NO_ICING, ' ');
    const isTold = ICING.test(told) || (isTurbulence(element) && holdsIcing(tokensOf(told)));
    return isTold ? [{ element, text }] : [];
  });
}

const isTurbulence = (element: string) => element === 'TB' || element === 'TURB';

/** Freezing precipitation is ice, whatever the element of icing says. */
export function freezingAmong(phenomena: readonly string[]): string {
  return phenomena.filter((each) => /FZ(?!FG)/.test(each)).join(' ');
}
