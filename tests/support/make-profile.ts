/** Small columns of air for tests: say only what matters, in the units people use. */
import type { CondensateBasis, DiagnosisSettings, Profile } from '../../worker/science/columns.ts';
import { kFromC, kgPerM3FromGPerM3, paFromHPa } from '../../worker/science/units.ts';

/** One value for all levels, one a level (NaN where missing), or a function of pressure in hPa. */
type Values = number | readonly number[] | ((pressureHPa: number) => number);

export interface ProfileText {
  /** Strictly decreasing; default 1000 to 300 hPa every 25. */
  readonly pressureHPa?: readonly number[];
  readonly temperatureC?: Values;
  readonly relativeHumidityPct?: Values;
  readonly heightM?: Values;
  readonly windEastMps?: Values;
  readonly windNorthMps?: Values;
  readonly condensateGPerKg?: Values;
  readonly condensateBasis?: CondensateBasis;
  readonly surfaceHeightM?: number;
}

const DEFAULT_PRESSURES = Array.from({ length: 29 }, (_, index) => 1000 - 25 * index);

/** Without further words: dry, 0 degC at 1000 hPa and about 6.5 K colder each km, calm, no condensate, ground unknown. */
export function makeProfile(text: ProfileText = {}): Profile {
  const pressures = text.pressureHPa ?? DEFAULT_PRESSURES;
  const column = (values: Values | undefined, otherwise: Values) =>
    Float64Array.from(pressures, (pressureHPa, level) => {
      const chosen = values ?? otherwise;
      if (typeof chosen === 'number') return chosen;
      return typeof chosen === 'function' ? chosen(pressureHPa) : (chosen[level] ?? Number.NaN);
    });
  return {
    levelCount: pressures.length,
    pressurePa: Float64Array.from(pressures, paFromHPa),
    geopotentialHeightM: column(text.heightM, Number.NaN),
    temperatureK: column(text.temperatureC, lapsingC).map(kFromC),
    relativeHumidityRatio: column(text.relativeHumidityPct, 20).map((percent) => percent / 100),
    windEastMps: column(text.windEastMps, 0),
    windNorthMps: column(text.windNorthMps, 0),
    verticalVelocityPaPerS: column(undefined, Number.NaN),
    condensateKgPerKg: column(text.condensateGPerKg, Number.NaN).map(kgPerM3FromGPerM3),
    condensateBasis: text.condensateBasis ?? 'none',
    surfaceHeightM: text.surfaceHeightM ?? Number.NaN,
  };
}

/** About 6.5 K a km from 0 degC at 1000 hPa. */
export function lapsingC(pressureHPa: number): number {
  return -52 * Math.log(1000 / pressureHPa);
}

/** Straight lines in ln p through the given points [hPa, value], pressures falling; constant beyond the ends. */
export function alongPoints(points: readonly (readonly [number, number])[]): (pressureHPa: number) => number {
  return (pressureHPa) => {
    const next = points.findIndex(([pointHPa]) => pointHPa <= pressureHPa);
    if (next === 0) return points[0]![1];
    if (next < 0) return points.at(-1)![1];
    const [lowerHPa, below] = points[next - 1]!;
    const [upperHPa, above] = points[next]!;
    return below + ((above - below) * Math.log(lowerHPa / pressureHPa)) / Math.log(lowerHPa / upperHPa);
  };
}

/** 150 kt, a wing nose of 20 mm, a rod of 12.5 mm radius, 60 droplets a cm3. */
export function makeSettings(
  cellCount: number,
  changes: Partial<Omit<DiagnosisSettings, 'trueAirspeedMps'>> & { trueAirspeedMps?: number } = {},
): DiagnosisSettings {
  return {
    wingNoseRadiusM: 0.02,
    rodRadiusM: 0.0125,
    dropletNumberPerM3: 60e6,
    ...changes,
    trueAirspeedMps: new Float64Array(cellCount).fill(changes.trueAirspeedMps ?? 77.167),
  };
}
