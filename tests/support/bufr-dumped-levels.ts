/** The levels of an ascent by the names of ecCodes' dump alone. */
import type { PlainValue } from './eccodes-bufr.ts';

/** One level of the dump, in its own units; undefined where missing. */
export interface DumpedLevel {
  readonly pressurePa: number | undefined;
  readonly heightM: number | undefined;
  readonly temperatureK: number | undefined;
  readonly dewPointK: number | undefined;
  readonly windDirectionDeg: number | undefined;
  readonly windSpeedMps: number | undefined;
}

const GRAVITY = 9.80665;

/**
 * The levels of a message by the names of the dump: one begins with each pressure that air or wind follows before the next.
 * Values after a level's wind speed, shear and the rest, belong to none.
 */
export function dumpedLevels(values: readonly PlainValue[]): DumpedLevel[] {
  const starts = values.flatMap(({ key }, index) => (key === 'pressure' ? [index] : []));
  return starts.flatMap((start, n) => {
    const own = values.slice(start, starts[n + 1] ?? start + 12);
    const at = (key: string) => {
      const found = own.find((each) => each.key === key)?.value;
      return typeof found === 'number' ? found : undefined;
    };
    if (!own.some(({ key }) => key === 'windSpeed' || key === 'airTemperature')) return [];
    const geopotential = at('nonCoordinateGeopotential');
    return {
      pressurePa: at('pressure'),
      heightM:
        at('nonCoordinateGeopotentialHeight') ??
        (geopotential === undefined ? undefined : geopotential / GRAVITY),
      temperatureK: at('airTemperature'),
      dewPointK: at('dewpointTemperature'),
      windDirectionDeg: at('windDirection'),
      windSpeedMps: at('windSpeed'),
    };
  });
}

/**
 * Levels of one pressure made one, by the rule of the reader worked out on the dump: the pair of temperature and dew point
 * that is nearest to saturation, wind and height of the first level that has them.
 */
export function oneAPressure(levels: readonly DumpedLevel[]): { level: DumpedLevel; numbers: number[] }[] {
  const runs = new Map<number | undefined, { level: DumpedLevel; number: number }[]>();
  levels.forEach((level, n) => {
    const run = runs.get(level.pressurePa) ?? [];
    runs.set(level.pressurePa, [...run, { level, number: n + 1 }]);
  });
  return [...runs.values()].map((run) => ({
    numbers: run.map(({ number }) => number),
    level: run.length === 1 ? run[0]!.level : merged(run.map(({ level }) => level)),
  }));
}

function merged(run: readonly DumpedLevel[]): DumpedLevel {
  const depressionK = ({ temperatureK, dewPointK }: DumpedLevel) =>
    temperatureK === undefined || dewPointK === undefined
      ? Number.POSITIVE_INFINITY
      : temperatureK - dewPointK;
  const moistest = [...run].sort((a, b) => depressionK(a) - depressionK(b))[0]!;
  const windy = run.find(({ windSpeedMps }) => windSpeedMps !== undefined) ?? run[0]!;
  return {
    ...moistest,
    heightM: run.find(({ heightM }) => heightM !== undefined)?.heightM,
    windDirectionDeg: windy.windDirectionDeg,
    windSpeedMps: windy.windSpeedMps,
  };
}
