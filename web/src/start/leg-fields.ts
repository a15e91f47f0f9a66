/** The entry form's fields, and the leg's text they stand for. */
import type { LegText } from '../url-state.ts';

/** Fields of the foldable group. */
export const MORE_FIELDS = [
  'alternate',
  'hold',
  'crossing',
  'weight',
  'direction',
  'oxygen',
  'later',
  'routes',
] as const;
export type MoreField = (typeof MORE_FIELDS)[number];

export interface LegFields extends Readonly<Record<MoreField, string>> {
  readonly route: string;
  readonly date: string;
  readonly time: string;
  readonly aircraft: string;
  readonly fluid: string;
  readonly minimum: string;
  readonly setting: string;
}

const HOUR_MS = 3_600_000;

/** Fields of a leg; an empty leg departs at the next full hour. */
export function legFields(text: LegText, nowMs: number): LegFields {
  const departure = text.departure ?? new Date(Math.ceil(nowMs / HOUR_MS) * HOUR_MS).toISOString();
  return {
    route: text.route ?? '',
    date: departure.slice(0, 10),
    time: departure.slice(11, 16),
    aircraft: text.aircraft ?? '',
    fluid: text.fluid ?? '',
    minimum: text.minimum ?? '',
    setting: text.setting ?? '',
    ...moreFields((name) => text[name] ?? ''),
  };
}

function moreFields(textOf: (name: MoreField) => string): Record<MoreField, string> {
  return Object.fromEntries(MORE_FIELDS.map((name) => [name, textOf(name)])) as Record<MoreField, string>;
}

/** What the form does not show (corridor, altitudes to consider) is carried over from the leg that was open. */
export function legTextFromFields(fields: LegFields, open: LegText, defaultAircraft: string): LegText {
  return {
    ...open,
    route: fields.route.trim(),
    departure: departureUtc(fields.date, fields.time),
    aircraft: fields.aircraft === '' ? defaultAircraft : fields.aircraft,
    fluid: fields.fluid.trim(),
    minimum: fields.minimum.trim(),
    setting: fields.setting.trim(),
    ...moreFields((name) => fields[name].trim()),
  };
}

/** Takes "11:30", "1130", "930" and "9:30"; what it cannot read is passed on for the contract to refuse. */
export function departureUtc(date: string, time: string): string {
  const found = /^(\d{1,2}):?(\d{2})Z?$/i.exec(time.trim());
  const clock = found === null ? time.trim() : `${found[1]!.padStart(2, '0')}:${found[2]}`;
  return `${date.trim()}T${clock}Z`;
}

/** The identifier being typed: the last word up to the caret, when it could be one. */
export function wordAtCaret(text: string, caret: number): { readonly word: string; readonly start: number } {
  const start = text.slice(0, caret).search(/\S*$/);
  const word = text.slice(start, caret);
  return { word: /^[a-z]{2,}[a-z0-9]*$/i.test(word) && word.toUpperCase() !== 'DCT' ? word : '', start };
}
