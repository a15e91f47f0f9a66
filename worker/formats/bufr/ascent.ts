/** One subset to one ascent: levels checked, those under the ground left out, gaps that the message tells of kept open. */
import { FormatError, UnsupportedError } from '../../errors.ts';
import { dewPointK } from '../../science/humidity.ts';
import { saturationVaporPressureWaterPa } from '../../science/saturation.ts';
import type { Rejection, Sounding } from '../sounding.ts';
import {
  blankBetween,
  isLostBetween,
  type LevelRecord,
  type LostStretch,
  mergeLevels,
  pressureFault,
  stretchesBetween,
  withinLimits,
} from '../sounding-levels.ts';
import { ascentHeader } from './ascent-header.ts';
import type { BufrSubset } from './decode-message.ts';
import { inOrder, oneAPressure, type PlacedLevel } from './level-order.ts';
import { type RawLevel, rawLevels } from './raw-levels.ts';
import { isForWindAlone, SIGNIFICANCE } from './significance.ts';

/** Values of 0 33 007 and 0 33 003 that leave nothing of a value: no confidence at all, unfit for use. */
const UNFIT: ReadonlyMap<number, number> = new Map([
  [33_007, 0],
  [33_003, 3],
]);

/**
 * The ascent of a subset. Place and time are those of the release: the drift of the balloon is not followed. Levels under
 * the one flagged as the surface are left out; between two levels that the message calls the ends of missing temperature
 * or humidity stands one without values, so that nobody draws a line across.
 *
 * @param offsetBytes  Of the message's data in the file, for errors.
 * @throws FormatError       when there is no station, no place or no level.
 * @throws UnsupportedError  when the levels stand at heights instead of pressures, or quality in associated fields.
 */
export function ascentOf(subset: BufrSubset, offsetBytes: number): Sounding {
  refuseAssociatedQuality(subset);
  const unfit = unfitValues(subset);
  const header = ascentHeader(subset, unfit, offsetBytes);
  const raw = rawLevels(subset, unfit);
  if (raw.levels.length === 0) throw noLevels(raw.heightLevelCount, offsetBytes);
  const withPressure = raw.levels.filter(({ pressurePa }) => !Number.isNaN(pressurePa));
  const rejected: Rejection[] = pressurelessNote(raw.levels);
  const checked = withPressure.flatMap((level) => checkedLevel(level, rejected));
  const ordered = inOrder(checked);
  const aboveGround = aboveSurface(ordered.levels, rejected);
  const single = oneAPressure(aboveGround);
  const levels = withGaps(single.levels, lostStretches(raw.levels));
  rejected.push(...ordered.rejected, ...single.rejected, ...unreadNote(subset.unreadBits));
  const surface = levels.find(isSurface);
  const surfaceM = surface?.record.geopotentialHeightM ?? Number.NaN;
  return {
    format: 'fm-94-bufr',
    stationId: header.stationId,
    latDeg: header.latDeg,
    lonDeg: header.lonDeg,
    elevationM: Number.isNaN(surfaceM) ? header.groundM : surfaceM,
    timeMs: header.timeMs,
    releaseMs: header.timeMs,
    reports: [],
    levels: mergeLevels(levels.map(({ record }) => record)).levels,
    rejected: rejected.sort((a, b) => a.line - b.line),
  };
}

/** Levels with air and no pressure, an impossible one, or air unfit for use: what they held lies between their neighbors. */
function lostStretches(levels: readonly RawLevel[]): LostStretch[] {
  const mayMatter = levels.filter((level) => isPlaced(level) || hasAir(level) || hasLostAir(level));
  const pressuresPa = mayMatter.map((level) =>
    isPlaced(level) && !hasLostAir(level) ? level.pressurePa : Number.NaN,
  );
  // A sonde that was dropped tells its levels from above.
  const isDownward = (pressuresPa.find(isKnown) ?? 0) < (pressuresPa.findLast(isKnown) ?? 0);
  return stretchesBetween(isDownward ? pressuresPa.toReversed() : pressuresPa);
}

const isKnown = (value: number): boolean => Number.isFinite(value);
const isPlaced = ({ pressurePa }: RawLevel): boolean => pressureFault(pressurePa) === undefined;

function hasAir({ temperatureK, dewPointK, relativeHumidityPct }: RawLevel): boolean {
  return [temperatureK, dewPointK, relativeHumidityPct].some((value) => !Number.isNaN(value));
}

/** Air that the message calls unfit: of a level with wind nothing else tells that it was there. */
function hasLostAir(level: RawLevel): boolean {
  return level.unfit.some((name) => AIR_NAMES.has(name)) && !hasAir(level);
}

const AIR_NAMES: ReadonlySet<string> = new Set(['temperature', 'dew point', 'relative humidity']);

function unfitValues(subset: BufrSubset): ReadonlySet<number> {
  const { layout, values } = subset;
  const unfit = new Set<number>();
  for (const { index, of } of layout.qualities) {
    if (UNFIT.get(layout.codings[index]!.descriptor) === values.numbers[index]) unfit.add(of);
  }
  const badGroups = groupsOfBadQuality(subset);
  layout.groups.forEach((group, index) => {
    if (badGroups.has(group) && !isCoordinate(layout.codings[index]!.descriptor)) unfit.add(index);
  });
  return unfit;
}

/** Quality information that stands among a level's own values does not say of which: it concerns them all. */
function groupsOfBadQuality({ layout, values }: BufrSubset): ReadonlySet<number> {
  const told = new Set(layout.qualities.map(({ index }) => index));
  const bad = new Set<number>();
  layout.codings.forEach(({ descriptor }, index) => {
    const isInLine = descriptor === QUALITY_INFORMATION && layout.groups[index] !== 0 && !told.has(index);
    if (isInLine && BAD_QUALITY.has(values.numbers[index]!)) bad.add(layout.groups[index]!);
  });
  return bad;
}

/** Classes 1 to 9 say where, when and why. */
const isCoordinate = (descriptor: number): boolean => descriptor < 10_000;

/** 0 33 020: doubtful, wrong. */
const QUALITY_INFORMATION = 33_020;
const BAD_QUALITY: ReadonlySet<number> = new Set([2, 3]);

/** 0 31 021 says what the bits of operator 2 04 before each value mean; all that it can say here is their quality. */
const ASSOCIATED_SIGNIFICANCE = 31_021;
const NO_SIGNIFICANCE = 63;

/** Quality in associated fields is not read: values that it may call bad must not pass for good. */
function refuseAssociatedQuality({ layout, values }: BufrSubset): void {
  layout.codings.forEach(({ descriptor }, index) => {
    const value = values.numbers[index]!;
    if (descriptor !== ASSOCIATED_SIGNIFICANCE || Number.isNaN(value) || value === NO_SIGNIFICANCE) return;
    throw new UnsupportedError({
      feature: 'BUFR ascent with quality in associated fields',
      table: '0 31 021',
      value: String(value),
    });
  });
}

const isSurface = ({ significance }: PlacedLevel): boolean => (significance & SIGNIFICANCE.surface) !== 0;

function checkedLevel(raw: RawLevel, rejected: Rejection[]): PlacedLevel[] {
  const line = raw.number;
  for (const name of raw.unfit) {
    rejected.push({ line, reason: `${name}: found a value that the message calls unfit for use` });
  }
  const fault = pressureFault(raw.pressurePa);
  if (fault !== undefined) {
    rejected.push({ line, reason: fault });
    return [];
  }
  const limited = withinLimits(recordOf(raw));
  rejected.push(...limited.rejected);
  if (isForWindAlone(raw.significance) && !hasAirOrWind(limited.record)) {
    rejected.push({ line, reason: 'level: found no value, expected the wind that its flags promise' });
    return [];
  }
  return [{ record: limited.record, significance: raw.significance, elapsedS: raw.elapsedS }];
}

/** Compressed data fill short ascents with empty levels: one line tells of them all. */
function pressurelessNote(levels: readonly RawLevel[]): Rejection[] {
  const without = levels.filter(({ pressurePa }) => Number.isNaN(pressurePa));
  if (without.length === 0) return [];
  const count = without.length === 1 ? 'none' : `none in ${without.length} levels, the first of them this`;
  return [{ line: without[0]!.number, reason: `pressure: found ${count}` }];
}

function recordOf(raw: RawLevel): LevelRecord {
  return {
    line: raw.number,
    pressurePa: raw.pressurePa,
    geopotentialHeightM: raw.geopotentialHeightM,
    temperatureK: raw.temperatureK,
    dewPointK: Number.isNaN(raw.dewPointK) ? dewPointFromHumidityK(raw) : raw.dewPointK,
    windDirectionDeg: raw.windDirectionDeg,
    windSpeedMps: raw.windSpeedMps,
  };
}

/** Radiosondes give relative humidity over liquid water at all temperatures (WMO-No. 8). */
function dewPointFromHumidityK({ temperatureK, relativeHumidityPct }: RawLevel): number {
  return dewPointK((relativeHumidityPct / 100) * saturationVaporPressureWaterPa(temperatureK));
}

function hasAirOrWind(record: LevelRecord): boolean {
  const values = [record.temperatureK, record.dewPointK, record.windDirectionDeg, record.windSpeedMps];
  return values.some((value) => !Number.isNaN(value));
}

/** Of several levels flagged as the surface the lowest counts. What lies under it is the code's extrapolation. */
function aboveSurface(levels: readonly PlacedLevel[], rejected: Rejection[]): readonly PlacedLevel[] {
  const surface = levels.find(isSurface);
  if (surface === undefined) return levels;
  return levels.filter(({ record }) => {
    const isUnderground = record.pressurePa > surface.record.pressurePa;
    if (isUnderground && hasAirOrWind(record)) {
      rejected.push({
        line: record.line,
        reason: `level ${record.pressurePa / 100} hPa: found temperature or wind under the ground at ${surface.record.pressurePa / 100} hPa, expected none`,
      });
    }
    return !isUnderground;
  });
}

const GAP_BEGINS = SIGNIFICANCE.temperatureGapBegins | SIGNIFICANCE.humidityGapBegins;

/** A level without values where the message says that a gap begins, or where a level without a pressure went. */
function withGaps(levels: readonly PlacedLevel[], lost: readonly LostStretch[]): readonly PlacedLevel[] {
  return levels.flatMap((level, index) => {
    const above = levels[index + 1];
    if (above === undefined) return [level];
    const isGap = (level.significance & GAP_BEGINS) !== 0 || isLostBetween(level.record, above.record, lost);
    if (!isGap) return [level];
    const record = blankBetween(level.record, above.record);
    return [level, { record, significance: 0, elapsedS: Number.NaN }];
  });
}

function noLevels(heightLevelCount: number, offsetBytes: number): FormatError | UnsupportedError {
  if (heightLevelCount > 0) {
    return new UnsupportedError({
      feature: 'BUFR ascent without pressures',
      table: 'levels by height, as in 3 09 051',
      value: `of ${heightLevelCount} levels`,
    });
  }
  return new FormatError({
    format: 'BUFR',
    place: { unit: 'byte', offsetBytes },
    what: 'levels',
    found: 'none',
    expected: 'pressures (0 07 004) with temperature or wind',
  });
}

function unreadNote(unreadBits: number): Rejection[] {
  if (unreadBits === 0) return [];
  return [
    { line: 1, reason: `data: found ${unreadBits} bits after the last value, which no descriptor explains` },
  ];
}
