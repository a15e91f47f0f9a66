/** One line of a JSON inventory: `_offset` and `_length` in bytes beside the keys that name the field. */
import type { ReadLine } from './inventory-line.ts';
import { instantOf } from './inventory-values.ts';

const DATE = /^(\d{4})-?(\d{2})-?(\d{2})$/;
/** 6, 06, 600 or 0600 o'clock. */
const TIME = /^(\d{1,2}?)(?:(\d{2}))?$/;
const LONGEST_LINE = 20_000;
const LONGEST_SHOWN = 40;

type Refuse = (what: string, found: unknown, expected: string) => ReadLine;

/** `param`, `levelist` with `levtype` (or `levtype` alone), `step`, `date` and `time` are wanted; the rest is read past. */
export function readJsonLine(text: string, line: number): ReadLine {
  let offsetBytes: number | undefined;
  const refuse: Refuse = (what, found, expected) => ({
    line,
    reason: `${what}: found ${shown(found)}, expected ${expected}`,
    offsetBytes,
  });
  if (text.length > LONGEST_LINE)
    return refuse('line', `${text.length} characters`, `at most ${LONGEST_LINE}`);
  const members = objectOf(text);
  if (members === undefined) return refuse('line', text, 'a JSON object');
  const { _offset: offset, _length: length } = members;
  if (!isSafe(offset) || offset < 0) return refuse('_offset', offset, 'a whole number of bytes, 0 or more');
  offsetBytes = offset;
  if (!isSafe(length) || length < 1) return refuse('_length', length, 'a whole number of bytes, 1 or more');
  if (!isSafe(offset + length))
    return refuse('_offset + _length', offset + length, 'an end that a file can have');
  const referenceTimeMs = referenceOf(members.date, members.time);
  if (referenceTimeMs === undefined) {
    return refuse('date and time', `${wordOf(members.date)} ${wordOf(members.time)}`, 'YYYYMMDD and HHMM');
  }
  const parameter = wordOf(members.param);
  if (parameter === '') return refuse('param', members.param, 'a short name');
  const level = [members.levelist, members.levtype]
    .map(wordOf)
    .filter((word) => word !== '')
    .join(' ');
  if (level === '') return refuse('levtype', members.levtype, 'a level');
  const forecast = wordOf(members.step);
  if (forecast === '') return refuse('step', members.step, 'a forecast time');
  const place = { line, offsetBytes, lengthBytes: length, message: undefined, field: undefined };
  return { ...place, referenceTimeMs, parameter, level, forecast };
}

function objectOf(text: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const value: unknown = JSON.parse(text);
    // A line that begins with { is an object or no JSON.
    return value as Readonly<Record<string, unknown>>;
  } catch {
    return undefined;
  }
}

function isSafe(value: unknown): value is number {
  return Number.isSafeInteger(value);
}

/** Text or number as text; nothing for anything else. */
function wordOf(value: unknown): string {
  if (typeof value === 'string') return value.trim();
  return typeof value === 'number' ? String(value) : '';
}

function referenceOf(date: unknown, time: unknown): number | undefined {
  const day = DATE.exec(wordOf(date));
  const clock = TIME.exec(wordOf(time));
  if (day === null || clock === null) return undefined;
  return instantOf([...day.slice(1), clock[1], clock[2] ?? 0].map(Number));
}

function shown(value: unknown): string {
  return value === undefined ? 'nothing' : (JSON.stringify(value) ?? '').slice(0, LONGEST_SHOWN);
}
