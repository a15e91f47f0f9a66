/** The entry form's fields, and the leg's text they stand for. */
import { figureText, isLocalTime } from '../units.ts';
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

/** Fields of a leg in the reader's time and units; an empty leg departs at the next full hour. */
export function legFields(text: LegText, nowMs: number): LegFields {
  const { date, time } = fieldsOfDeparture(
    text.departure ?? new Date(Math.ceil(nowMs / HOUR_MS) * HOUR_MS).toISOString(),
  );
  return {
    route: text.route ?? '',
    date,
    time,
    aircraft: text.aircraft ?? '',
    fluid: fluidField(text.fluid ?? ''),
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
    fluid: fluidText(fields.fluid.trim()),
    minimum: fields.minimum.trim(),
    setting: fields.setting.trim(),
    ...moreFields((name) => fields[name].trim()),
  };
}

/** Takes "11:30", "1130", "930" and "9:30"; what it cannot read is passed on for the contract to refuse. */
export function departureUtc(date: string, time: string): string {
  const found = /^(\d{1,2}):?(\d{2})Z?$/i.exec(time.trim());
  const clock = found === null ? time.trim() : `${found[1]!.padStart(2, '0')}:${found[2]}`;
  const text = `${date.trim()}T${clock}`;
  return isLocalTime() ? utcOfLocal(text) : `${text}Z`;
}

/** What is no time of this device (no such day, an hour that summer time skips) is passed on and refused, never guessed. */
function utcOfLocal(text: string): string {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(text)) return `${text} local`;
  const instant = new Date(text);
  const utc = Number.isNaN(instant.getTime()) ? '' : instant.toISOString();
  const { date, time } = fieldsOfDeparture(utc);
  return text === `${date}T${time}` ? `${utc.slice(0, 16)}Z` : `${text} local`;
}

function fieldsOfDeparture(departure: string): { readonly date: string; readonly time: string } {
  const offsetMin = isLocalTime() ? new Date(departure).getTimezoneOffset() : 0;
  const shifted = Number.isNaN(Date.parse(departure))
    ? departure
    : new Date(Date.parse(departure) - offsetMin * 60_000).toISOString();
  return { date: shifted.slice(0, 10), time: shifted.slice(11, 16) };
}

/** Fluid is asked for in liters; what is no number is passed on for the contract to refuse. */
function fluidField(textL: string): string {
  return Number.isFinite(Number(textL)) ? figureText(textL, 'L').replace(/\.0$/, '') : textL;
}

function fluidText(field: string): string {
  const perLiter = Number(figureText('100000', 'L')) / 100000;
  if (field === '' || perLiter === 1 || !Number.isFinite(Number(field))) return field;
  return String(Math.round((Number(field) / perLiter) * 10) / 10);
}

/** The identifier being typed: the last word up to the caret, when it could be one. */
export function wordAtCaret(text: string, caret: number): { readonly word: string; readonly start: number } {
  const start = text.slice(0, caret).search(/\S*$/);
  const word = text.slice(start, caret);
  return { word: /^[a-z]{2,}[a-z0-9]*$/i.test(word) && word.toUpperCase() !== 'DCT' ? word : '', start };
}

/** Two places at least, none of them still being typed: nobody asks for half a route. */
export function isWholeRoute(route: string): boolean {
  const places = route.split(/\s+/).filter((word) => word !== '' && word.toUpperCase() !== 'DCT');
  return route.trim().startsWith('{') || (places.length >= 2 && places.every((place) => place.length >= 3));
}
