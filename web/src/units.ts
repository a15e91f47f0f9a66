/**
 * Units and time as this device wants them, set once. Figures are kept and computed in the contract's units; this is the last step before
 * they are read. A sentence of the answer is rewritten from its own rounded figures, so that it never knows more than before.
 */
import { signal } from '@preact/signals';
import * as z from 'zod/mini';

const unitsSchema = z.object({
  time: z.enum(['UTC', 'local']),
  ice: z.enum(['mm', 'in']),
  fluid: z.enum(['L', 'US gal']),
});
export type Units = z.infer<typeof unitsSchema>;

export const TRADE_UNITS: Units = { time: 'UTC', ice: 'mm', fluid: 'L' };

const KEY = 'rimeway-units';
const MM_PER_IN = 25.4;
/** A US gallon is 231 cubic inches. */
export const LITERS_PER: Readonly<Record<Units['fluid'], number>> = { L: 1, 'US gal': 3.785411784 };

export const units = signal<Units>(stored());

function stored(): Units {
  try {
    return unitsSchema.safeParse(JSON.parse(localStorage.getItem(KEY) ?? '')).data ?? TRADE_UNITS;
  } catch {
    return TRADE_UNITS;
  }
}

export function chooseUnits(change: Partial<Units>): void {
  units.value = { ...units.value, ...change };
  try {
    localStorage.setItem(KEY, JSON.stringify(units.value));
  } catch {
    // Storage may be refused: the choice then lasts as long as the page.
  }
}

/** Figures of one quantity in the unit wanted; those in the trade's unit stay as they were rounded. */
interface Shown {
  readonly unit: string;
  readonly perTradeUnit: number;
  readonly text: (value: number) => string;
}

const AS_IT_IS = (unit: string): Shown => ({ unit, perTradeUnit: 1, text: String });

function iceShown(): Shown {
  return units.value.ice === 'mm'
    ? AS_IT_IS('mm')
    : { unit: 'in', perTradeUnit: 1 / MM_PER_IN, text: (inches) => inches.toFixed(2) };
}

/** A tenth of a millimeter a minute is four thousandths of an inch. */
function growthShown(): Shown {
  return units.value.ice === 'mm'
    ? AS_IT_IS('mm/min')
    : { unit: 'in/min', perTradeUnit: 1 / MM_PER_IN, text: (inchesPerMin) => inchesPerMin.toFixed(3) };
}

/** A tenth of a gallon is far below the steps of 5 L that most figures come in. */
function fluidShown(): Shown {
  return units.value.fluid === 'L'
    ? AS_IT_IS('L')
    : { unit: 'US gal', perTradeUnit: 1 / LITERS_PER['US gal'], text: (gallons) => gallons.toFixed(1) };
}

const SHOWN = { mm: iceShown, 'mm/min': growthShown, L: fluidShown } as const;
export type TradeUnit = keyof typeof SHOWN;

/** "mm", "in". */
export function unitText(unit: TradeUnit): string {
  return SHOWN[unit]().unit;
}

/** A figure that is written already, without its unit: "12" of millimeters is "0.47" of inches. */
export function figureText(written: string, unit: TradeUnit): string {
  const { perTradeUnit, text } = SHOWN[unit]();
  if (perTradeUnit === 1) return written;
  return written.replace(/\d[\d,]*(?:\.\d+)?/g, (figure) =>
    text(Number(figure.replaceAll(',', '')) * perTradeUnit),
  );
}

/** A rate that is published in inches an hour, without its unit: it is not rounded twice. */
export function rateText(inchesPerHour: number): string {
  const inchesPerMin = inchesPerHour / 60;
  return units.value.ice === 'mm' ? (inchesPerMin * MM_PER_IN).toFixed(1) : inchesPerMin.toFixed(3);
}

/** "12 mm", "0.47 in". */
export function amountText(written: string, unit: TradeUnit): string {
  return `${figureText(written, unit)} ${unitText(unit)}`;
}

function isLocalTime(): boolean {
  return units.value.time === 'local';
}

/** Behind a time: "UTC", or "local" of this device. */
export function zoneWord(): string {
  return isLocalTime() ? 'local' : 'UTC';
}

/** The same behind a time in a narrow column: the trade's Z for UTC, LT for local time. */
export function zoneMark(): string {
  return isLocalTime() ? 'LT' : 'Z';
}

const FIGURES = /(\d[\d,]*(?:\.\d+)?(?:(?:–| of | to | or )\d[\d,]*(?:\.\d+)?)?) (mm\/min|mm|L)\b/g;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;
const TIMES = new RegExp(
  `(?:(\\d{1,2}) (${MONTHS.join('|')})(?: (\\d{4}))? )?(\\d{2}):(\\d{2})(?: to (\\d{2}):(\\d{2}))? UTC`,
  'g',
);

/** A sentence of the answer. @param nearUtc  The day that a time without one is taken to be of, or next to. */
export function inUnits(sentence: string, nearUtc: string): string {
  const withFigures = sentence.replace(FIGURES, (_, figures: string, unit: TradeUnit) =>
    amountText(figures, unit),
  );
  return isLocalTime() ? withFigures.replace(TIMES, (...found) => localTimes(found, nearUtc)) : withFigures;
}

function localTimes(found: readonly (string | undefined)[], nearUtc: string): string {
  const [, day, month, year, hour, minute, toHour, toMinute] = found;
  const near = new Date(nearUtc);
  const at = (hours: string, minutes: string) => {
    const ofDay = Date.UTC(
      Number(year ?? near.getUTCFullYear()),
      month === undefined ? near.getUTCMonth() : MONTHS.indexOf(month as (typeof MONTHS)[number]),
      Number(day ?? near.getUTCDate()),
      Number(hours),
      Number(minutes),
    );
    return new Date(ofDay);
  };
  const from = at(hour!, minute!);
  const date = day === undefined ? '' : `${dateText(from, year !== undefined)} `;
  const to = toHour === undefined ? '' : ` to ${localClock(at(toHour, toMinute!))}`;
  return `${date}${localClock(from)}${to} ${zoneWord()}`;
}

const localClock = (instant: Date) =>
  `${String(instant.getHours()).padStart(2, '0')}:${String(instant.getMinutes()).padStart(2, '0')}`;

/** "11:30", in the time wanted. */
export function clockText(utc: string | number): string {
  const instant = new Date(utc);
  return isLocalTime() ? localClock(instant) : instant.toISOString().slice(11, 16);
}

/** "14 Jan" or "14 Jan 2026", in the time wanted. */
export function dateText(utc: string | number | Date, hasYear = false): string {
  const instant = new Date(utc);
  const [day, month, year] = isLocalTime()
    ? [instant.getDate(), instant.getMonth(), instant.getFullYear()]
    : [instant.getUTCDate(), instant.getUTCMonth(), instant.getUTCFullYear()];
  return `${day} ${MONTHS[month]}${hasYear ? ` ${year}` : ''}`;
}

/** Every sentence of an answer; all else in it stays as it was sent. */
export function answerInUnits<T>(answer: T, nearUtc: string): T {
  const { time, ice, fluid } = units.value;
  const isAsSent = time === TRADE_UNITS.time && ice === TRADE_UNITS.ice && fluid === TRADE_UNITS.fluid;
  return isAsSent ? answer : (rewritten(answer, nearUtc) as T);
}

/** Members of the contract that are sentences, or lists of them. */
const SENTENCES = new Set(['sentence', 'inWords', 'reason', 'acceptReason', 'lacks', 'cautions']);

function rewritten(value: unknown, nearUtc: string): unknown {
  if (Array.isArray(value))
    return typeof value[0] === 'number' ? value : value.map((each) => rewritten(each, nearUtc));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, each]) => [
      name,
      SENTENCES.has(name) ? sentencesInUnits(each, nearUtc) : rewritten(each, nearUtc),
    ]),
  );
}

function sentencesInUnits(value: unknown, nearUtc: string): unknown {
  if (Array.isArray(value)) return value.map((each) => sentencesInUnits(each, nearUtc));
  return typeof value === 'string' ? inUnits(value, nearUtc) : value;
}
