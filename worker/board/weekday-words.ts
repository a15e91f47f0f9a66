/** Weekdays as they are typed: "mon tue wed", "mon-fri", "daily". */
import { WEEKDAYS, type Weekday } from '../schema/board.ts';

const DAILY = 'daily';
/** Fewer in a row are named one by one. */
const LEAST_RANGE = 3;

/** Monday first, each once; undefined for a word that is none. A range may go over the weekend: "fri-mon". */
export function weekdaysOfWords(text: string): Weekday[] | undefined {
  const words = text
    .toLowerCase()
    .split(/[\s,;]+/)
    .filter(Boolean);
  const found = new Set<Weekday>();
  for (const word of words) {
    const days = daysOf(word);
    if (days === undefined) return undefined;
    for (const day of days) found.add(day);
  }
  return WEEKDAYS.filter((day) => found.has(day));
}

function daysOf(word: string): readonly Weekday[] | undefined {
  if (word === DAILY) return WEEKDAYS;
  const [from, until = from, ...more] = word.split('-').map((each) => WEEKDAYS.indexOf(each as Weekday));
  if (from === undefined || from < 0 || until === undefined || until < 0 || more.length > 0) return undefined;
  const count = ((until - from + WEEKDAYS.length) % WEEKDAYS.length) + 1;
  return Array.from({ length: count }, (_, index) => WEEKDAYS[(from + index) % WEEKDAYS.length]!);
}

export function wordsOfWeekdays(days: readonly Weekday[]): string {
  const indexes = WEEKDAYS.flatMap((day, index) => (days.includes(day) ? [index] : []));
  if (indexes.length === WEEKDAYS.length) return DAILY;
  const [first, last] = [indexes[0], indexes.at(-1)];
  if (first === undefined || last === undefined) return '';
  const isRange = last - first === indexes.length - 1 && indexes.length >= LEAST_RANGE;
  return isRange ? `${WEEKDAYS[first]}-${WEEKDAYS[last]}` : indexes.map((index) => WEEKDAYS[index]).join(' ');
}
