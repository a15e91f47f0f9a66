/** Words of a route with their places, and the one way to refuse them. */
import { InvalidRequestError } from '../../errors.ts';

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

/** Words are parted by blanks, `..`, `-` or `>`; case does not matter. */
export function routeWords(text: string): RouteWord[] {
  const words: RouteWord[] = [];
  const keep = (from: number, to: number) => {
    if (to > from)
      words.push({ text: text.slice(from, to).toUpperCase(), offset: from, number: words.length + 1 });
  };
  let from = 0;
  for (const separator of text.matchAll(SEPARATORS)) {
    keep(from, separator.index);
    from = separator.index + separator[0].length;
  }
  keep(from, text.length);
  return words;
}

/** @throws InvalidRequestError naming the word, its number, and what should have stood there. */
export function refuseWord(word: RouteWord, expected: string): never {
  const { text } = word;
  const shown = text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)}…` : text;
  return refuseRoute(`"${shown}" (word ${word.number})`, expected);
}

export function refuseRoute(found: string, expected: string): never {
  throw new InvalidRequestError({ field: 'route', found, expected });
}
