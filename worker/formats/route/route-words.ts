/** Words of a route with their places, and the one way to refuse them. */
import { plainText } from '../plain-text.ts';
import { flightPlanStretches } from './flight-plan.ts';
import { refuseRoute } from './refuse-route.ts';

export interface RouteWord {
  /** Upper case. */
  readonly text: string;
  /** Of its first character in the text as given, from 0. */
  readonly offset: number;
  /** Among the words, from 1. */
  readonly number: number;
}

const SEPARATORS = /(?:\s|\.\.|-|>)+/g;
const LONGEST_SHOWN = 30;

/**
 * Words are parted by blanks, `..`, `-` or `>`, dashes and blanks of any kind; case does not matter. Of a whole flight
 * plan message they are those of departure, route and destination.
 *
 * @throws InvalidRequestError for a flight plan message whose route is not found.
 */
export function routeWords(text: string): RouteWord[] {
  const plain = plainText(text);
  const words: RouteWord[] = [];
  const keep = (from: number, to: number) => {
    if (to > from)
      words.push({ text: text.slice(from, to).toUpperCase(), offset: from, number: words.length + 1 });
  };
  for (const { from, to } of flightPlanStretches(plain) ?? [{ from: 0, to: plain.length }]) {
    let start = from;
    for (const separator of plain.slice(from, to).matchAll(SEPARATORS)) {
      keep(start, from + separator.index);
      start = from + separator.index + separator[0].length;
    }
    keep(start, to);
  }
  return words;
}

/** @throws InvalidRequestError naming the word, its number, and what should have stood there. */
export function refuseWord(word: RouteWord, expected: string): never {
  const { text } = word;
  const shown = text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)}…` : text;
  return refuseRoute(`"${shown}" (word ${word.number})`, expected);
}
