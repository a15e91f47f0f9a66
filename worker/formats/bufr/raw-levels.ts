/** The levels of a subset as the message has them: each time round of a replication that holds a pressure and air or wind. */
import { GRAVITY_MPS2 } from '../../science/constants.ts';
import type { BufrSubset } from './decode-message.ts';
import { extendedFromShort } from './significance.ts';

/** One level in SI units; NaN where a value is missing. */
export interface RawLevel {
  /** Order in the message, from 1. */
  readonly number: number;
  /** Flags of 0 08 042; 0 for none. */
  readonly significance: number;
  /** Since the launch, s. */
  readonly elapsedS: number;
  readonly pressurePa: number;
  readonly geopotentialHeightM: number;
  readonly temperatureK: number;
  readonly dewPointK: number;
  readonly relativeHumidityPct: number;
  readonly windDirectionDeg: number;
  readonly windSpeedMps: number;
  /** Names of values that the message itself calls worthless; they are NaN here. */
  readonly unfit: readonly string[];
}

export interface RawLevels {
  readonly levels: readonly RawLevel[];
  /** Times round that hold air or wind at a height instead of a pressure. */
  readonly heightLevelCount: number;
}

/** Places in a level's row of numbers, one a quantity; several elements may give the same. */
const PLACE = {
  elapsed: 0,
  significance: 1,
  shortSignificance: 2,
  pressure: 3,
  height: 4,
  geopotential: 5,
  temperature: 6,
  dewPoint: 7,
  relativeHumidity: 8,
  windDirection: 9,
  windSpeed: 10,
  windEast: 11,
  windNorth: 12,
} as const;
const NAMES = [
  'time',
  'significance',
  'significance',
  'pressure',
  'height',
  'height',
  'temperature',
  'dew point',
  'relative humidity',
  'wind direction',
  'wind speed',
  'wind',
  'wind',
] as const;

const PLACE_OF: ReadonlyMap<number, number> = new Map([
  [4_086, PLACE.elapsed],
  [7_004, PLACE.pressure],
  [8_001, PLACE.shortSignificance],
  [8_042, PLACE.significance],
  [10_003, PLACE.geopotential],
  [10_008, PLACE.geopotential],
  [10_009, PLACE.height],
  [11_001, PLACE.windDirection],
  [11_002, PLACE.windSpeed],
  [11_003, PLACE.windEast],
  [11_004, PLACE.windNorth],
  [12_001, PLACE.temperature],
  [12_003, PLACE.dewPoint],
  [12_101, PLACE.temperature],
  [12_103, PLACE.dewPoint],
  [13_003, PLACE.relativeHumidity],
  [13_009, PLACE.relativeHumidity],
]);
/** Vertical coordinates other than pressure. */
const HEIGHT_COORDINATES: ReadonlySet<number> = new Set([7_002, 7_003, 7_007, 7_008, 7_009]);

/** One time round while it is read. */
interface OpenLevel {
  readonly row: Float64Array;
  /** Places that had an element, with a value or without: a bit each. */
  seen: number;
  isAtHeight: boolean;
  unfit: string[];
}

const bitOf = (place: number): number => 2 ** place;
const AIR_OR_WIND = [PLACE.temperature, PLACE.windDirection, PLACE.windSpeed, PLACE.windEast]
  .map(bitOf)
  .reduce((sum, bit) => sum + bit, 0);

/** @param unfit  Indexes of values not to be used. */
export function rawLevels(subset: BufrSubset, unfit: ReadonlySet<number>): RawLevels {
  const { codings, groups } = subset.layout;
  const open = new Map<number, OpenLevel>();
  for (let index = 0; index < codings.length; index += 1) {
    const group = groups[index]!;
    if (group === 0) continue;
    const { descriptor } = codings[index]!;
    const place = PLACE_OF.get(descriptor);
    const isHeight = place === undefined && HEIGHT_COORDINATES.has(descriptor);
    if (place === undefined && !isHeight) continue;
    let level = open.get(group);
    if (level === undefined) {
      level = { row: new Float64Array(NAMES.length).fill(Number.NaN), seen: 0, isAtHeight: false, unfit: [] };
      open.set(group, level);
    }
    if (place === undefined) level.isAtHeight = true;
    else if (unfit.has(index)) noteUnfit(level, place);
    else note(level, place, subset.values.numbers[index]!);
  }
  return gathered([...open.values()]);
}

/** Of several elements for one quantity the first that has a value stands. */
function note(level: OpenLevel, place: number, value: number): void {
  level.seen |= bitOf(place);
  if (Number.isNaN(level.row[place]!)) level.row[place] = value;
}

function noteUnfit(level: OpenLevel, place: number): void {
  level.seen |= bitOf(place);
  level.unfit.push(NAMES[place]!);
}

function gathered(open: readonly OpenLevel[]): RawLevels {
  const ofAir = open.filter(({ seen }) => (seen & AIR_OR_WIND) !== 0);
  const isAtPressure = ({ seen }: OpenLevel) => (seen & bitOf(PLACE.pressure)) !== 0;
  return {
    levels: ofAir.filter(isAtPressure).map((level, index) => rawLevelOf(level, index + 1)),
    heightLevelCount: ofAir.filter((level) => level.isAtHeight && !isAtPressure(level)).length,
  };
}

function rawLevelOf({ row, unfit }: OpenLevel, number: number): RawLevel {
  const significance = row[PLACE.significance]!;
  const height = row[PLACE.height]!;
  return {
    number,
    significance: Number.isNaN(significance)
      ? extendedFromShort(row[PLACE.shortSignificance]!)
      : significance,
    elapsedS: row[PLACE.elapsed]!,
    pressurePa: row[PLACE.pressure]!,
    geopotentialHeightM: Number.isNaN(height) ? row[PLACE.geopotential]! / GRAVITY_MPS2 : height,
    temperatureK: row[PLACE.temperature]!,
    dewPointK: row[PLACE.dewPoint]!,
    relativeHumidityPct: row[PLACE.relativeHumidity]!,
    ...windOf(row),
    unfit,
  };
}

/** Direction and speed as given, else from the components. */
function windOf(row: Float64Array): Pick<RawLevel, 'windDirectionDeg' | 'windSpeedMps'> {
  const east = row[PLACE.windEast]!;
  const north = row[PLACE.windNorth]!;
  const windDirectionDeg = row[PLACE.windDirection]!;
  const windSpeedMps = row[PLACE.windSpeed]!;
  const isGiven = !Number.isNaN(windDirectionDeg) || !Number.isNaN(windSpeedMps);
  if (isGiven || Number.isNaN(east + north)) return { windDirectionDeg, windSpeedMps };
  const fromDeg = (Math.atan2(-east, -north) * 180) / Math.PI;
  return { windDirectionDeg: (fromDeg + 360) % 360, windSpeedMps: Math.hypot(east, north) };
}
