/** Numbers and instants as people and programs write them in a call: nothing that JavaScript would read beside these. */

const DECIMAL = /^[+-]?\d+(?:\.\d*)?$/;
/** ISO 8601; without an offset UTC. Years that observations have. */
const INSTANT = /^((?:19|20)\d\d-\d\d-\d\d)(?:T(\d\d:\d\d(?::\d\d(?:\.\d{1,3})?)?)(Z|[+-]\d\d:\d\d)?)?$/;

/** @returns NaN for anything but a decimal number. */
export function writtenNumber(text: string | undefined): number {
  return text !== undefined && DECIMAL.test(text) ? Number(text) : Number.NaN;
}

/** @returns epoch ms; NaN for anything but a date, or a date and time, that the calendar has. */
export function writtenInstantMs(text: string): number {
  const found = INSTANT.exec(text);
  if (found === null) return Number.NaN;
  const [, date = '', time = '00:00', offset = 'Z'] = found;
  // 31 February would be read as 3 March.
  const dayMs = Date.parse(`${date}T00:00Z`);
  const isDay = Number.isFinite(dayMs) && new Date(dayMs).toISOString().startsWith(date);
  return isDay ? Date.parse(`${date}T${time}${offset}`) : Number.NaN;
}
