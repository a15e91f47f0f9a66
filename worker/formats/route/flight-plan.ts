/** The route inside a whole flight plan message, `(FPL-…-KBTV1300-N0110F090 DCT MPV DCT-KBGR0130-…)`. */
import { refuseRoute } from './refuse-route.ts';

/** Part of a text, from an offset up to another. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

const MESSAGE = /^\s*\(?\s*FPL\s*-/i;
/** Items 13, 15 and 16: indicator and time; speed, level and route; indicator, duration and alternates. */
const DEPARTURE = /^[A-Z0-9]{4}\d{4}$/i;
const ROUTE = /^(?:N\d{4}|K\d{4}|M\d{3})(?:F\d{3}|A\d{3}|S\d{4}|M\d{4}|VFR)(?:\s|$)/i;
const DESTINATION = /^[A-Z0-9]{4}\d{4}(?:\s+[A-Z0-9]{4}){0,2}$/i;
const INDICATOR_LENGTH = 4;
const EXAMPLE = 'the route alone, from departure to destination, as KBTV DCT MPV DCT KBGR';

/**
 * @returns  departure, route and destination in this order; undefined when the text is no such message.
 * @throws   InvalidRequestError, field route, for a message in which they do not follow each other, or of which one
 *           end is not named by its indicator.
 * @source   ICAO Doc 4444 appendix 3, FPL message; from memory.
 */
export function flightPlanStretches(text: string): readonly Stretch[] | undefined {
  if (!MESSAGE.test(text)) return undefined;
  const end = text.lastIndexOf(')');
  const fields = fieldsOf(text, end === -1 ? text.length : end);
  const words = fields.map(({ from, to }) => text.slice(from, to));
  const index = words.findIndex(
    (word, at) =>
      DEPARTURE.test(word) && ROUTE.test(words[at + 1] ?? '') && DESTINATION.test(words[at + 2] ?? ''),
  );
  if (index === -1) refuseRoute('a flight plan message without items 13, 15 and 16 in order', EXAMPLE);
  const [departure, route, destination] = fields.slice(index, index + 3) as [Stretch, Stretch, Stretch];
  for (const { from } of [departure, destination]) {
    const indicator = text.slice(from, from + INDICATOR_LENGTH).toUpperCase();
    if (indicator === 'ZZZZ' || indicator === 'AFIL')
      refuseRoute(`${indicator} in a flight plan message`, EXAMPLE);
  }
  return [indicatorOf(departure), route, indicatorOf(destination)];
}

const indicatorOf = ({ from }: Stretch): Stretch => ({ from, to: from + INDICATOR_LENGTH });

/** What stands between hyphens, without blanks at its ends. */
function fieldsOf(text: string, end: number): Stretch[] {
  const fields: Stretch[] = [];
  for (let from = 0; from <= end; ) {
    const hyphen = text.indexOf('-', from);
    const to = hyphen === -1 || hyphen > end ? end : hyphen;
    const field = text.slice(from, to);
    const start = from + (field.length - field.trimStart().length);
    fields.push({ from: start, to: Math.max(start, from + field.trimEnd().length) });
    from = to + 1;
  }
  return fields;
}
