/** The entry form's fields, and the leg's text they stand for. */
import { LITERS_PER, type Units, units } from '../units.ts';
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
  'planned',
  'corridor',
  'altitudes',
  'fixed',
  'air',
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
export function legFields(text: LegText, nowMs: number, shown: Units = units.peek()): LegFields {
  const departure = text.departure ?? new Date(Math.ceil(nowMs / HOUR_MS) * HOUR_MS).toISOString();
  return {
    route: text.route ?? '',
    ...fieldsOfDeparture(departure, shown),
    aircraft: text.aircraft ?? '',
    fluid: fluidField(text.fluid ?? '', shown),
    minimum: text.minimum ?? '',
    setting: text.setting ?? '',
    ...moreFields((name) => text[name] ?? ''),
  };
}

/** What stands in the form, in other units; what cannot be read stays as it is. */
export function fieldsInUnits(fields: LegFields, from: Units, to: Units): LegFields {
  const departure = departureUtc(fields.date, fields.time, from);
  return {
    ...fields,
    ...(Number.isNaN(Date.parse(departure)) ? {} : fieldsOfDeparture(departure, to)),
    fluid: fluidField(fluidText(fields.fluid.trim(), from), to),
  };
}

function moreFields(textOf: (name: MoreField) => string): Record<MoreField, string> {
  return Object.fromEntries(MORE_FIELDS.map((name) => [name, textOf(name)])) as Record<MoreField, string>;
}

/** What nobody touched is carried over from the leg that was open: the form may show it rounded. */
export function legTextFromFields(fields: LegFields, open: LegText, defaultAircraft: string): LegText {
  const shown = legFields(open, 0);
  const isSameTime = open.departure !== undefined && fields.date === shown.date && fields.time === shown.time;
  return {
    ...open,
    route: fields.route.trim(),
    departure: isSameTime ? open.departure : departureUtc(fields.date, fields.time),
    aircraft: fields.aircraft === '' ? defaultAircraft : fields.aircraft,
    fluid: fields.fluid === shown.fluid ? (open.fluid ?? '') : fluidText(fields.fluid.trim()),
    minimum: fields.minimum.trim(),
    setting: fields.setting.trim(),
    ...moreFields((name) => fields[name].trim()),
  };
}

/**
 * Takes "11:30", "1130", "930" and "9:30", and UTC whatever is shown where a Z stands behind; what it cannot read is passed on
 * for the contract to refuse.
 */
export function departureUtc(date: string, time: string, shown: Units = units.peek()): string {
  const found = /^(\d{1,2}):?(\d{2})(Z?)$/i.exec(time.trim());
  const clock = found === null ? time.trim() : `${found[1]!.padStart(2, '0')}:${found[2]}`;
  const text = `${date.trim()}T${clock}`;
  return shown.time === 'local' && found?.[3] === '' ? utcOfLocal(text, shown) : `${text}Z`;
}

/**
 * What is no time of this device (no such day, an hour that summer time skips) is passed on and refused. Of an hour that autumn
 * has twice it is the first.
 */
function utcOfLocal(text: string, shown: Units): string {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(text)) return `${text} local`;
  const instant = new Date(text);
  const utc = Number.isNaN(instant.getTime()) ? '' : instant.toISOString();
  const { date, time } = fieldsOfDeparture(utc, shown);
  return text === `${date}T${time}` ? `${utc.slice(0, 16)}Z` : `${text} local`;
}

function fieldsOfDeparture(departure: string, { time }: Units): Pick<LegFields, 'date' | 'time'> {
  const offsetMin = time === 'local' ? new Date(departure).getTimezoneOffset() : 0;
  const shifted = Number.isNaN(Date.parse(departure))
    ? departure
    : new Date(Date.parse(departure) - offsetMin * 60_000).toISOString();
  return { date: shifted.slice(0, 10), time: shifted.slice(11, 16) };
}

/** Fluid is asked for in liters; what is no number is passed on for the contract to refuse. */
function fluidField(textL: string, { fluid }: Units): string {
  return inOtherUnit(textL, 1 / LITERS_PER[fluid]);
}

function fluidText(field: string, { fluid }: Units = units.peek()): string {
  return inOtherUnit(field, LITERS_PER[fluid]);
}

/** To a hundredth. */
function inOtherUnit(text: string, factor: number): string {
  if (text === '' || factor === 1 || !Number.isFinite(Number(text))) return text;
  return String(Math.round(Number(text) * factor * 100) / 100);
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
