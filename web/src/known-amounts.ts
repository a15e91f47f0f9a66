/** Amounts that were counted in known air alone, as they may be said beside air that is not known: the one rule of it. */

/** Of an amount of which nothing is known; never 0. */
export const UNKNOWN_TEXT = '?';

/** Time in unknown air is told to a tenth of a minute: less is none. */
const NO_KNOWN_MINUTES = 0.1;

/** Unknown air may hold more: "5+"; with no known air there is no amount: "?". */
export function besideUnknown(
  known: string,
  { unknownMinutes, minutes }: { readonly unknownMinutes: number; readonly minutes: number },
): string {
  if (unknownMinutes <= 0) return known;
  return minutes - unknownMinutes <= NO_KNOWN_MINUTES ? UNKNOWN_TEXT : `${known}+`;
}
