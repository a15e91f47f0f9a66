/** Profiles on their own levels become columns of cells on the common axis. */
import {
  type AltitudeAxis,
  CELL_STATE,
  type CellState,
  type CondensateBasis,
  type Profile,
  type WeatherColumns,
} from './columns.ts';
import { groundPressurePa } from './ground-pressure.ts';
import { AIRCRAFT_READING, type CloudSaturation } from './humidity-basis.ts';
import { filledHeightsM } from './hydrostatics.ts';
import { greatestWithin, HOLE, holeWithin, type LevelSeries, valueAt } from './level-series.ts';
import { givenSeries, type MoistureSeries, moistureSeries, plainSeries } from './profile-series.ts';

/**
 * Columns of air on an axis, one a profile.
 *
 * Temperature, height and wind are those at the cell's middle, linear in ln p. Humidity, condensate and rain are the greatest
 * inside the cell, with every native level in it. A cell is known only when temperature and humidity are known in all of
 * it (of a cell that the ground cuts, in the part above). Cells whose middle is under the ground are belowGround; below
 * the lowest level nothing is made up.
 *
 * @param profiles  Native levels, pressure strictly decreasing. May be empty of levels.
 * @param axis      Cells; only the pressures are used, so that they may be irregular.
 * @returns         Columns in the order of the profiles; cells that are not known hold NaN.
 * @throws          never.
 */
export function weatherColumnsFromProfiles(profiles: readonly Profile[], axis: AltitudeAxis): WeatherColumns {
  const columns = emptyWeatherColumns(
    axis,
    profiles.map((profile) => profile.condensateBasis),
    profiles.map((profile) => profile.cloudSaturation ?? AIRCRAFT_READING),
  );
  const middleLn = axis.middlePressurePa.map(Math.log);
  const edgeLn = axis.edgePressurePa.map(Math.log);
  profiles.forEach((profile, column) => {
    columns.givesRain[column] = profile.rainKgPerKg === undefined ? 0 : 1;
    columns.freezingRainRatio[column] = profile.freezingRainRatio ?? Number.NaN;
    fillColumn(columns, column, { source: openProfile(profile), middleLn, edgeLn });
  });
  return columns;
}

/**
 * Columns without any value: every cell noData and NaN.
 *
 * @param axis             Cells.
 * @param condensateBasis  One entry a column.
 * @param cloudSaturation  One entry a column; left out, those of an aircraft's own sensor.
 * @returns                New arrays.
 * @throws                 never.
 */
export function emptyWeatherColumns(
  axis: AltitudeAxis,
  condensateBasis: readonly CondensateBasis[],
  cloudSaturation: readonly CloudSaturation[] = condensateBasis.map(() => AIRCRAFT_READING),
): WeatherColumns {
  const columnCount = condensateBasis.length;
  const unset = () => new Float32Array(columnCount * axis.cellCount).fill(Number.NaN);
  return {
    columnCount,
    axis,
    temperatureK: unset(),
    relativeHumidityRatio: unset(),
    geopotentialHeightM: unset(),
    windEastMps: unset(),
    windNorthMps: unset(),
    verticalVelocityPaPerS: unset(),
    condensateKgPerKg: unset(),
    condensateBasis,
    cloudFractionRatio: unset(),
    rainKgPerKg: unset(),
    givesRain: new Uint8Array(columnCount),
    freezingRainRatio: new Float32Array(columnCount).fill(Number.NaN),
    cloudSaturation,
    state: new Uint8Array(columnCount * axis.cellCount).fill(CELL_STATE.noData),
  };
}

/** One profile, ready to be asked for values between its levels. */
interface OpenProfile {
  readonly moisture: MoistureSeries;
  readonly height: LevelSeries;
  readonly windEast: LevelSeries;
  readonly windNorth: LevelSeries;
  readonly verticalVelocity: LevelSeries;
  readonly condensate: LevelSeries;
  /** undefined for a source without cloud fraction. */
  readonly cloudFraction: LevelSeries | undefined;
  /** The same without rain. */
  readonly rain: LevelSeries | undefined;
  /** ln p of the ground; +Infinity when it is not known where the ground is. */
  readonly groundLn: number;
}

function openProfile(profile: Profile): OpenProfile {
  const heightM = filledHeightsM(profile);
  const groundPa = groundPressurePa(profile, heightM);
  const given = (value: Float64Array | undefined) =>
    value === undefined ? undefined : givenSeries(profile, value, groundPa);
  return {
    moisture: moistureSeries(profile),
    height: plainSeries(profile, heightM),
    windEast: plainSeries(profile, profile.windEastMps),
    windNorth: plainSeries(profile, profile.windNorthMps),
    verticalVelocity: givenSeries(profile, profile.verticalVelocityPaPerS, groundPa),
    condensate: givenSeries(profile, profile.condensateKgPerKg, groundPa),
    cloudFraction: given(profile.cloudFractionRatio),
    rain: given(profile.rainKgPerKg),
    groundLn: Number.isNaN(groundPa) ? Number.POSITIVE_INFINITY : Math.log(groundPa),
  };
}

function fillColumn(
  columns: WeatherColumns,
  column: number,
  { source, middleLn, edgeLn }: { source: OpenProfile; middleLn: Float64Array; edgeLn: Float64Array },
): void {
  for (let cell = 0; cell < middleLn.length; cell += 1) {
    const index = column * middleLn.length + cell;
    const lowerLn = Math.min(edgeLn[cell]!, source.groundLn);
    const upperLn = edgeLn[cell + 1]!;
    if (middleLn[cell]! > source.groundLn) {
      columns.state[index] = CELL_STATE.belowGround;
      continue;
    }
    const state = stateWithin(source.moisture, lowerLn, upperLn);
    columns.state[index] = state;
    if (state !== CELL_STATE.known) continue;
    const middle = middleLn[cell]!;
    columns.temperatureK[index] = valueAt(source.moisture.temperature, middle);
    columns.relativeHumidityRatio[index] = greatestWithin(source.moisture.humidity, lowerLn, upperLn);
    columns.geopotentialHeightM[index] = valueAt(source.height, middle);
    columns.windEastMps[index] = valueAt(source.windEast, middle);
    columns.windNorthMps[index] = valueAt(source.windNorth, middle);
    columns.verticalVelocityPaPerS[index] = valueAt(source.verticalVelocity, middle);
    columns.condensateKgPerKg[index] = greatestWithin(source.condensate, lowerLn, upperLn);
    if (source.cloudFraction !== undefined) {
      columns.cloudFractionRatio[index] = valueAt(source.cloudFraction, middle);
    }
    if (source.rain !== undefined) columns.rainKgPerKg[index] = greatestWithin(source.rain, lowerLn, upperLn);
  }
}

/** Known when temperature and humidity cover all of the stretch, else why not. */
function stateWithin(moisture: MoistureSeries, lowerLn: number, upperLn: number): CellState {
  const { humidity } = moisture;
  if (humidity.count === 0 && moisture.levelCount === 0) return CELL_STATE.noData;
  const hole = holeWithin(humidity, lowerLn, upperLn);
  if (hole === -1) return CELL_STATE.known;
  if (hole >= 0) {
    return humidity.hole[hole] === HOLE.valueLost ? CELL_STATE.quantityMissing : CELL_STATE.outsideProfile;
  }
  const isAmongLevels = upperLn >= moisture.topLn && lowerLn <= moisture.footLn;
  return isAmongLevels ? CELL_STATE.quantityMissing : CELL_STATE.outsideProfile;
}
