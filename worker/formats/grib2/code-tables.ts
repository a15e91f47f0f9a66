/**
 * Words for the parameters and surfaces that matter here; anything else is told by its numbers.
 *
 * @source  WMO-No. 306, Volume I.2, code tables 4.2 (discipline 0) and 4.5.
 */
import type { Grib2Level, Grib2Parameter } from './field.ts';

export interface ParameterDescription {
  readonly name: string;
  /** Unit of the code table; undefined when the parameter is not in this table. */
  readonly unit: string | undefined;
}

/** Key: discipline.category.number; words and units as the code table has them. */
const PARAMETERS: ReadonlyMap<string, ParameterDescription> = new Map(
  (
    [
      ['0.0.0', 'temperature', 'K'],
      ['0.0.2', 'potential temperature', 'K'],
      ['0.0.4', 'maximum temperature', 'K'],
      ['0.0.5', 'minimum temperature', 'K'],
      ['0.0.6', 'dewpoint temperature', 'K'],
      ['0.0.7', 'dewpoint depression (or deficit)', 'K'],
      ['0.1.0', 'specific humidity', 'kg/kg'],
      ['0.1.1', 'relative humidity', '%'],
      ['0.1.2', 'humidity mixing ratio', 'kg/kg'],
      ['0.1.3', 'precipitable water', 'kg/m2'],
      ['0.1.7', 'precipitation rate', 'kg/m2/s'],
      ['0.1.8', 'total precipitation', 'kg/m2'],
      ['0.1.19', 'precipitation type', 'code table 4.201'],
      ['0.1.21', 'condensate', 'kg/kg'],
      ['0.1.22', 'cloud mixing ratio', 'kg/kg'],
      ['0.1.23', 'ice water mixing ratio', 'kg/kg'],
      ['0.1.24', 'rain mixing ratio', 'kg/kg'],
      ['0.1.25', 'snow mixing ratio', 'kg/kg'],
      ['0.1.32', 'graupel (snow pellets)', 'kg/kg'],
      ['0.1.33', 'categorical rain', 'code table 4.222'],
      ['0.1.34', 'categorical freezing rain', 'code table 4.222'],
      ['0.1.35', 'categorical ice pellets', 'code table 4.222'],
      ['0.1.36', 'categorical snow', 'code table 4.222'],
      ['0.1.71', 'hail mixing ratio', 'kg/kg'],
      ['0.1.82', 'cloud ice mixing-ratio', 'kg/kg'],
      ['0.1.83', 'specific cloud liquid water content', 'kg/kg'],
      ['0.1.84', 'specific cloud ice water content', 'kg/kg'],
      ['0.1.85', 'specific rainwater content', 'kg/kg'],
      ['0.1.86', 'specific snow water content', 'kg/kg'],
      ['0.1.149', 'cloud water mixing ratio', 'kg/kg'],
      ['0.2.2', 'u-component of wind', 'm/s'],
      ['0.2.3', 'v-component of wind', 'm/s'],
      ['0.2.8', 'vertical velocity (pressure)', 'Pa/s'],
      ['0.2.9', 'vertical velocity (geometric)', 'm/s'],
      ['0.2.22', 'wind speed (gust)', 'm/s'],
      ['0.3.0', 'pressure', 'Pa'],
      ['0.3.1', 'pressure reduced to msl', 'Pa'],
      ['0.3.4', 'geopotential', 'm2/s2'],
      ['0.3.5', 'geopotential height', 'gpm'],
      ['0.3.6', 'geometric height', 'm'],
      ['0.6.1', 'total cloud cover', '%'],
      ['0.6.22', 'cloud cover', '%'],
      ['0.6.32', 'fraction of cloud cover', 'numeric'],
      ['2.0.7', 'model terrain height', 'm'],
    ] as const
  ).map(([key, name, unit]) => [key, { name, unit }]),
);

/** Every parameter that has words here, as discipline, category and number. */
export const DESCRIBED_PARAMETERS: readonly Grib2Parameter[] = [...PARAMETERS.keys()].map((key) => {
  const [discipline = 0, category = 0, number = 0] = key.split('.').map(Number);
  return { discipline, category, number };
});

interface SurfaceDescription {
  readonly name: string;
  /** Undefined where the surface has no value. */
  readonly unit: string | undefined;
}

const SURFACES: ReadonlyMap<number, SurfaceDescription> = new Map([
  [1, { name: 'ground or water surface', unit: undefined }],
  [2, { name: 'cloud base level', unit: undefined }],
  [3, { name: 'cloud top level', unit: undefined }],
  [4, { name: 'level of 0 degC isotherm', unit: undefined }],
  [7, { name: 'tropopause', unit: undefined }],
  [8, { name: 'nominal top of the atmosphere', unit: undefined }],
  [10, { name: 'entire atmosphere', unit: undefined }],
  [20, { name: 'isothermal level', unit: 'K' }],
  [100, { name: 'isobaric surface', unit: 'Pa' }],
  [101, { name: 'mean sea level', unit: undefined }],
  [102, { name: 'altitude above mean sea level', unit: 'm' }],
  [103, { name: 'height above ground', unit: 'm' }],
  [104, { name: 'sigma level', unit: '1' }],
  [105, { name: 'hybrid level', unit: '1' }],
  [106, { name: 'depth below land surface', unit: 'm' }],
  [108, { name: 'pressure difference from ground to level', unit: 'Pa' }],
  [109, { name: 'potential vorticity surface', unit: 'K m2/kg/s' }],
  [118, { name: 'hybrid height level', unit: '1' }],
  [119, { name: 'hybrid pressure level', unit: '1' }],
  [150, { name: 'generalized vertical height coordinate', unit: '1' }],
]);

/** @returns name and unit, or the triple in words without a unit. */
export function describeParameter({ discipline, category, number }: Grib2Parameter): ParameterDescription {
  const known = PARAMETERS.get(`${discipline}.${category}.${number}`);
  const name = `discipline ${discipline} category ${category} number ${number}`;
  return known ?? { name, unit: undefined };
}

/** @returns the surface in words, with its value and unit where it has one. */
export function describeLevel({ type, value }: Grib2Level): string {
  const known = SURFACES.get(type);
  if (known === undefined) return Number.isNaN(value) ? `surface ${type}` : `surface ${type} ${value}`;
  return known.unit === undefined || Number.isNaN(value)
    ? known.name
    : `${known.name} ${value} ${known.unit}`;
}
