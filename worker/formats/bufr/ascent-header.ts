/** Who, where and when of an ascent: the values outside of all replications. */
import { FormatError } from '../../errors.ts';
import type { BufrSubset } from './decode-message.ts';

export interface AscentHeader {
  /** WMO number of five figures, else the WIGOS identifier, else the call sign. */
  readonly stationId: string;
  readonly latDeg: number;
  /** -180 to 180, the upper end left out. */
  readonly lonDeg: number;
  /** Of the ground at the station above mean sea level, m; NaN when not given. */
  readonly groundM: number;
  /** Of the launch, where the message gives it; epoch ms UTC, NaN when no whole date and hour is given. */
  readonly timeMs: number;
}

/** 0 08 021: what the date and time after it are. */
const TIME_SIGNIFICANCE = 8_021;
const LAUNCH = 18;
const YEAR = 4_001;
/** Year, month, day, hour, minute, second. */
const TIME_DESCRIPTORS = [4_001, 4_002, 4_003, 4_004, 4_005, 4_006] as const;

/**
 * Of several values of one element the first that has one stands.
 *
 * @param unfit    Indexes of values not to be used.
 * @param offsetBytes  Of the data in the file, for errors.
 * @throws FormatError  when there is no station or no place on the globe.
 */
export function ascentHeader(
  subset: BufrSubset,
  unfit: ReadonlySet<number>,
  offsetBytes: number,
): AscentHeader {
  const outside = outsideValues(subset, unfit);
  const fail = (what: string, found: string, expected: string): FormatError =>
    new FormatError({ format: 'BUFR', place: { unit: 'byte', offsetBytes }, what, found, expected });
  const stationId = stationIdOf(outside);
  if (stationId === undefined) {
    throw fail('station', 'no identifier', 'block and station number, WIGOS identifier or call sign');
  }
  const latDeg = outside.first(5_001, 5_002);
  const lonDeg = outside.first(6_001, 6_002);
  if (!(Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 180)) {
    throw fail(
      `position of ${stationId}`,
      `${latDeg} ${lonDeg}`,
      'latitude and longitude within 90 and 180 degrees',
    );
  }
  return {
    stationId,
    latDeg,
    lonDeg: lonDeg === 180 ? -180 : lonDeg,
    groundM: outside.first(7_030, 7_001, 7_007),
    timeMs: timeOf(outside),
  };
}

interface OutsideValues {
  /** The first value of the first of these elements that has one; NaN for none. */
  first(...descriptors: number[]): number;
  text(descriptor: number): string | undefined;
  /** All in their order. */
  readonly entries: readonly { readonly descriptor: number; readonly value: number }[];
}

function outsideValues({ layout, values }: BufrSubset, unfit: ReadonlySet<number>): OutsideValues {
  const indexes: number[] = [];
  for (let index = 0; index < layout.codings.length; index += 1) {
    if (layout.groups[index] === 0 && !unfit.has(index)) indexes.push(index);
  }
  const entries = indexes.map((index) => ({
    descriptor: layout.codings[index]!.descriptor,
    value: values.numbers[index]!,
  }));
  return {
    entries,
    first(...descriptors) {
      for (const wanted of descriptors) {
        const found = entries.find(({ descriptor, value }) => descriptor === wanted && !Number.isNaN(value));
        if (found !== undefined) return found.value;
      }
      return Number.NaN;
    },
    text(wanted) {
      const texts = indexes
        .filter((index) => layout.codings[index]!.descriptor === wanted)
        .map((index) => values.text(index));
      return texts.find((text) => text !== undefined && text !== '');
    },
  };
}

function stationIdOf(outside: OutsideValues): string | undefined {
  const block = outside.first(1_001);
  const station = outside.first(1_002);
  if (!Number.isNaN(block + station)) {
    return `${String(block).padStart(2, '0')}${String(station).padStart(3, '0')}`;
  }
  const wigos = [1_125, 1_126, 1_127].map((descriptor) => outside.first(descriptor));
  const local = outside.text(1_128);
  if (local !== undefined && wigos.every(Number.isFinite)) return `${wigos.join('-')}-${local}`;
  // Ship or mobile station, dropsonde by its flight.
  return outside.text(1_011) ?? outside.text(1_006);
}

/** A date and time, and what it is said to be. */
interface TimeSet {
  readonly significance: number;
  /** By TIME_DESCRIPTORS. */
  readonly parts: number[];
}

function timeOf({ entries }: OutsideValues): number {
  const sets: TimeSet[] = [];
  let significance = Number.NaN;
  for (const { descriptor, value } of entries) {
    if (descriptor === TIME_SIGNIFICANCE) significance = value;
    if (descriptor === YEAR) sets.push({ significance, parts: [] });
    const part = TIME_DESCRIPTORS.indexOf(descriptor as (typeof TIME_DESCRIPTORS)[number]);
    const parts = sets.at(-1)?.parts;
    if (part >= 0 && parts !== undefined) parts[part] ??= value;
  }
  const chosen = sets.find((set) => set.significance === LAUNCH) ?? sets[0];
  return chosen === undefined ? Number.NaN : epochMs(chosen.parts);
}

/** NaN when the date does not exist; minutes and seconds that are missing count as 0. */
function epochMs(parts: readonly number[]): number {
  const [year = Number.NaN, month = Number.NaN, day = Number.NaN, hour = Number.NaN] = parts;
  const minute = zeroIfMissing(parts[4]);
  const second = zeroIfMissing(parts[5]);
  const timeMs = Date.UTC(year, month - 1, day, hour, minute, second);
  const date = new Date(timeMs);
  const isReal =
    year >= 1900 &&
    date.getUTCMonth() === month - 1 &&
    date.getUTCDate() === day &&
    date.getUTCHours() === hour;
  return isReal && minute < 60 && second < 60 ? timeMs : Number.NaN;
}

function zeroIfMissing(value: number | undefined): number {
  return value === undefined || Number.isNaN(value) ? 0 : value;
}
