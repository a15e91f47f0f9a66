/** Which levels of a profile count for which quantity. */
import type { Profile } from './columns.ts';
import { type LevelSeries, LOST_VALUE_LIMIT, makeLevelSeries, SPACING_LIMIT } from './level-series.ts';
import { STANDARD_SURFACES_PA } from './standard-surfaces.ts';

/** Temperature and humidity on the levels that have both. */
export interface MoistureSeries {
  readonly temperature: LevelSeries;
  readonly humidity: LevelSeries;
  readonly levelCount: number;
  /** ln p of the lowest and the highest level that should have both. */
  readonly footLn: number;
  readonly topLn: number;
}

/**
 * Temperature and humidity, taken together: a level that has one of them without the other has lost a value, and so has a
 * level without anything. An ascent's level with wind alone, neither height nor one of the mandatory pressures, is a wind level:
 * no temperature was ever meant to stand on it.
 *
 * @param profile  Native levels.
 * @returns        Both series, on the same levels.
 * @throws         never.
 */
export function moistureSeries(profile: Profile): MoistureSeries {
  const count = profile.levelCount;
  const hasValue = new Uint8Array(count);
  const isLost = new Uint8Array(count);
  let footLn = Number.NEGATIVE_INFINITY;
  let topLn = Number.POSITIVE_INFINITY;
  for (let level = 0; level < count; level += 1) {
    const hasTemperature = Number.isFinite(profile.temperatureK[level]!);
    const hasHumidity = Number.isFinite(profile.relativeHumidityRatio[level]!);
    if (hasTemperature && hasHumidity) hasValue[level] = 1;
    else if (hasTemperature || hasHumidity || !isWindLevel(profile, level)) isLost[level] = 1;
    else continue;
    const lnPressure = Math.log(profile.pressurePa[level]!);
    footLn = Math.max(footLn, lnPressure);
    topLn = Math.min(topLn, lnPressure);
  }
  const levels = { levelCount: count, pressurePa: profile.pressurePa, hasValue, isLost };
  const spacingLimit = profile.isStandardLevelsOnly === true ? LOST_VALUE_LIMIT : SPACING_LIMIT;
  return {
    temperature: makeLevelSeries(levels, profile.temperatureK, spacingLimit),
    humidity: makeLevelSeries(levels, profile.relativeHumidityRatio, spacingLimit),
    levelCount: count,
    footLn,
    topLn,
  };
}

function isWindLevel(profile: Profile, level: number): boolean {
  if (profile.mayHaveWindLevels !== true) return false;
  const hasWind =
    Number.isFinite(profile.windEastMps[level]!) && Number.isFinite(profile.windNorthMps[level]!);
  const isMandatory = MANDATORY_PA.has(Math.round(profile.pressurePa[level]!));
  return hasWind && !isMandatory && !Number.isFinite(profile.geopotentialHeightM[level]!);
}

/** Every ascent reports temperature there. */
const MANDATORY_PA: ReadonlySet<number> = new Set(STANDARD_SURFACES_PA);

/**
 * A quantity that may be missing without harm (wind, height): every level that has it counts, none is lost.
 *
 * @param profile  Native levels.
 * @param value    The quantity at every level.
 * @returns        The levels that have it.
 * @throws         never.
 */
export function plainSeries(profile: Profile, value: Float64Array): LevelSeries {
  const { levelCount, pressurePa } = profile;
  const isLost = new Uint8Array(levelCount);
  return makeLevelSeries({ levelCount, pressurePa, hasValue: finiteOnes(value), isLost }, value);
}

/** 1 for every number that is one. A loop: the method of typed arrays that maps is several times slower. */
function finiteOnes(value: Float64Array): Uint8Array {
  const ones = new Uint8Array(value.length);
  for (let level = 0; level < value.length; level += 1) ones[level] = Number.isFinite(value[level]!) ? 1 : 0;
  return ones;
}

/**
 * A model gives no condensate, rain, cloud fraction or vertical motion at screen height; that level takes the value of the lowest
 * level that has one, when that is at most this far above in ln p (about 80 hPa).
 */
const SCREEN_LEVEL_LIMIT = 0.08;

/**
 * A quantity whose loss matters (condensate, rain, cloud fraction, vertical motion): a level with temperature and without it has
 * lost it, if the source gives it at all; only the level that stands on the ground is taken for screen height.
 *
 * @param profile   Native levels.
 * @param given     The quantity at every level.
 * @param groundPa  Pressure at the ground, Pa; NaN when not known.
 * @returns         The levels that have it; between them is no bridge over one that lost it.
 * @throws          never.
 */
export function givenSeries(profile: Profile, given: Float64Array, groundPa: number): LevelSeries {
  const { levelCount, pressurePa, temperatureK } = profile;
  const value = given.slice();
  const ground = pressurePa.indexOf(groundPa);
  const lowest = value.findIndex((each) => Number.isFinite(each));
  if (ground >= 0 && lowest > ground) {
    const distance = Math.log(groundPa / pressurePa[lowest]!);
    if (distance <= SCREEN_LEVEL_LIMIT) value[ground] = value[lowest]!;
  }
  const hasValue = finiteOnes(value);
  const isLost = new Uint8Array(levelCount);
  for (let level = 0; level < levelCount; level += 1) {
    if (hasValue[level] === 0 && Number.isFinite(temperatureK[level]!)) isLost[level] = 1;
  }
  return makeLevelSeries({ levelCount, pressurePa, hasValue, isLost }, value);
}
