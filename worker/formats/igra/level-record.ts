/**
 * The data record of IGRA version 2.
 *
 * @source  NOAA NCEI, igra2-data-format.txt (column numbers, missing and removed values).
 */
import { FREEZING_K } from '../../science/constants.ts';
import { dewPointK } from '../../science/humidity.ts';
import { saturationVaporPressureWaterPa } from '../../science/saturation.ts';
import type { Rejection } from '../sounding.ts';
import { type LevelRecord, pressureFault, withinLimits } from '../sounding-levels.ts';
import {
  type Columns,
  integer,
  MISSING,
  NEVER_REPORTED,
  notBlank,
  number,
  quoted,
  type Refused,
  refused,
} from './columns.ts';

const LEVEL = {
  pressure: [10, 15],
  height: [17, 21],
  temperature: [23, 27],
  relativeHumidity: [29, 33],
  depression: [35, 39],
  direction: [41, 45],
  speed: [47, 51],
} as const satisfies Record<string, Columns>;
const LEVEL_BLANKS = [3, 9, 34, 40, 46] as const;
const LEVEL_FLAGS = [16, 22, 28] as const;
const LEVEL_LENGTH = 51;

export type LevelResult =
  | {
      readonly kind: 'level';
      readonly record: LevelRecord;
      readonly isSurface: boolean;
      /** Temperature or dew point was there and is not used: unreadable, out of limits or removed by quality control. */
      readonly hasLostAir: boolean;
      readonly rejected: readonly Rejection[];
    }
  | Refused;

/**
 * A data record. The dew point comes from the dew point depression; only where that is missing, from the relative
 * humidity (over liquid water, Murphy and Koop saturation), since a relative humidity beside a depression is most
 * often derived from it. Both need the temperature. Refused as a whole: a record that is cut short or shifted, one
 * without a pressure (a wind by height is no level of the sounding), or one whose pressure is impossible. Never throws.
 */
export function readIgraLevel(text: string, line: number): LevelResult {
  const shape = shapeFault(text);
  if (shape !== undefined) return refused(shape);
  const pressure = number(text, LEVEL.pressure, 'pressure');
  if (pressure.fault !== undefined) return refused(pressure.fault);
  if (text[0] === '3') {
    return refused('level type: found 3 (wind by height), expected 1 or 2 (a level with a pressure)');
  }
  if (Number.isNaN(pressure.value))
    return refused('pressure: found none, expected a pressure on a level of type 1 or 2');
  const impossible = pressureFault(pressure.value);
  if (impossible !== undefined) return refused(impossible);

  const rejected: Rejection[] = [];
  const value = (columns: Columns, name: string, scale: number): number => {
    const found = number(text, columns, name);
    if (found.fault !== undefined) rejected.push({ line, reason: found.fault });
    return found.value * scale;
  };
  const temperatureK = value(LEVEL.temperature, 'temperature', 0.1) + FREEZING_K;
  const checked = withinLimits({
    line,
    pressurePa: pressure.value,
    geopotentialHeightM: value(LEVEL.height, 'height', 1),
    temperatureK,
    dewPointK: levelDewPointK(temperatureK, text, value),
    windDirectionDeg: value(LEVEL.direction, 'wind direction', 1),
    windSpeedMps: value(LEVEL.speed, 'wind speed', 0.1),
  });
  return {
    kind: 'level',
    record: checked.record,
    isSurface: text[1] === '1',
    hasLostAir: AIR_FIELDS.some((columns) => wasThere(text, columns)) && !hasAir(checked.record),
    rejected: [...rejected, ...checked.rejected],
  };
}

const AIR_FIELDS = [LEVEL.temperature, LEVEL.depression, LEVEL.relativeHumidity] as const;

/** Anything but the mark of a value that was never reported. */
const wasThere = (text: string, columns: Columns): boolean => integer(text, columns) !== NEVER_REPORTED;

const hasAir = ({ temperatureK, dewPointK: dewPoint }: LevelRecord): boolean =>
  !Number.isNaN(temperatureK) && !Number.isNaN(dewPoint);

function levelDewPointK(
  temperatureK: number,
  text: string,
  value: (columns: Columns, name: string, scale: number) => number,
): number {
  const depressionK = value(LEVEL.depression, 'dew point depression', 0.1);
  // An unreadable depression leaves the dew point missing; only one the file marks missing gives way to the humidity.
  if (!MISSING.includes(integer(text, LEVEL.depression) ?? 0)) return temperatureK - depressionK;
  const humidityRatio = value(LEVEL.relativeHumidity, 'relative humidity', 0.001);
  if (Number.isNaN(humidityRatio) || Number.isNaN(temperatureK)) return Number.NaN;
  return humidityRatio > 0
    ? dewPointK(humidityRatio * saturationVaporPressureWaterPa(temperatureK))
    : Number.NaN;
}

/** What is wrong with the record's outline: level types, blanks between fields, flags, length. */
function shapeFault(text: string): string | undefined {
  const trimmed = text.trimEnd();
  if (trimmed.length !== LEVEL_LENGTH) {
    return `data record: found ${trimmed.length} columns, expected ${LEVEL_LENGTH}`;
  }
  if (!/^[123][012]/.test(text)) return `level type: found ${quoted(text.slice(0, 2))}, expected 1-3 and 0-2`;
  const blank = notBlank(text, LEVEL_BLANKS);
  if (blank !== undefined) return blank;
  const flag = LEVEL_FLAGS.find((column) => !' AB'.includes(text[column - 1]!));
  if (flag === undefined) return undefined;
  return `column ${flag}: found ${quoted(text[flag - 1]!)}, expected a blank, A or B`;
}
