/** One line of a colon inventory: number, offset, reference time, parameter, level, forecast, and what more there is. */
import type { ReadLine } from './inventory-line.ts';
import { instantOf, readWhole } from './inventory-values.ts';

const NUMBER = /^([1-9]\d{0,8})(?:\.([1-9]\d{0,5}))?$/;
/** Year, month, day, hour, and where written minute and second. */
const REFERENCE = /^d=(\d{4})(\d{2})(\d{2})(\d{2})(\d{2})?(\d{2})?$/;
const LEAST_COLUMNS = 6;
const LONGEST_LINE = 2000;
const LONGEST_SHOWN = 40;

/**
 * Short form: the parameter's short name alone; long form: its name in words and its unit follow, and are read past.
 * Columns behind the forecast (aerosol, ensemble member, probability) are part of its text, for they tell fields apart.
 */
export function readColonLine(text: string, line: number): ReadLine {
  if (text.length > LONGEST_LINE) {
    return {
      line,
      reason: `${text.length} characters, expected at most ${LONGEST_LINE}`,
      offsetBytes: undefined,
    };
  }
  const columns = text.split(':');
  const [number = '', offset = '', reference = '', parameter = '', level = '', forecast = '', ...more] =
    columns;
  const offsetBytes = readWhole(offset, { isSigned: true });
  const refuse = (what: string, found: string, expected: string): ReadLine => ({
    line,
    reason: `${what}: found "${found.slice(0, LONGEST_SHOWN)}", expected ${expected}`,
    offsetBytes,
  });
  if (columns.length < LEAST_COLUMNS) return refuse('columns', text, 'six, parted by colons');
  const numbers = NUMBER.exec(number);
  if (numbers === null) return refuse('number', number, 'a message as 12, or its field as 12.1');
  if (offsetBytes === undefined)
    return refuse('offset', offset, 'a whole number of bytes that a file can have');
  const date = REFERENCE.exec(reference);
  const referenceTimeMs =
    date === null ? undefined : instantOf(date.slice(1).map((part) => Number(part ?? 0)));
  if (referenceTimeMs === undefined)
    return refuse('reference time', reference, 'd=YYYYMMDDHH of the calendar');
  const shortName = parameter.split(' ', 1)[0]!;
  if (shortName === '') return refuse('parameter', parameter, 'a short name');
  if (level === '') return refuse('level', level, 'a level');
  if (forecast === '') return refuse('forecast', forecast, 'anl or a forecast time');
  return {
    line,
    offsetBytes,
    lengthBytes: undefined,
    referenceTimeMs,
    parameter: shortName,
    level,
    forecast: [forecast, ...more.filter((each) => each !== '')].join(':'),
    message: Number(numbers[1]),
    field: numbers[2] === undefined ? undefined : Number(numbers[2]),
  };
}
