/** A leg of the schedule in one line. */
import { type ScheduleLeg, WEEKDAYS, type Weekday } from '../../../../worker/schema/board.ts';

export const WEEKDAY_WORDS: Readonly<Record<Weekday, string>> = {
  mon: 'Mon',
  tue: 'Tue',
  wed: 'Wed',
  thu: 'Thu',
  fri: 'Fri',
  sat: 'Sat',
  sun: 'Sun',
};

/** "daily", "Mon–Fri", "Mon, Wed". */
export function weekdaysWords(days: readonly Weekday[]): string {
  const at = WEEKDAYS.flatMap((day, index) => (days.includes(day) ? [index] : []));
  const [first = 0, last = 0] = [at[0], at.at(-1)];
  if (at.length === WEEKDAYS.length) return 'daily';
  const word = (index: number) => WEEKDAY_WORDS[WEEKDAYS[index]!];
  if (at.length >= 3 && last - first === at.length - 1) return `${word(first)}–${word(last)}`;
  return at.map(word).join(', ');
}

/** From when until when it is flown; '' without end. */
export function periodWords({ fromDate, untilDate }: Pick<ScheduleLeg, 'fromDate' | 'untilDate'>): string {
  if (fromDate !== null && untilDate !== null) return `${fromDate} to ${untilDate}`;
  if (fromDate !== null) return `from ${fromDate}`;
  return untilDate === null ? '' : `until ${untilDate}`;
}

/** Whatever somebody may look for. */
export function legMatches({ label, tail, route }: ScheduleLeg, text: string): boolean {
  const sought = text.trim().toLowerCase();
  return [label, tail ?? '', route].some((part) => part.toLowerCase().includes(sought));
}
