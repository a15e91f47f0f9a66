/** Which GRIB2 fields an hour keeps, what they become, and what their source means by humidity and condensate. */
import type { Grib2Level, Grib2Parameter } from '../formats/grib2/field.ts';
import type { CondensateBasis } from '../science/columns.ts';
import type { HumidityBasis } from '../science/humidity-basis.ts';
import type { GridQuantity, GridSlice } from './ports.ts';

/** What is known of a field before its values are decoded. */
export interface FieldIdentity {
  readonly centre: number;
  readonly generatingProcess: number;
  readonly parameter: Grib2Parameter;
  readonly level: Grib2Level;
  readonly secondLevel: Grib2Level | undefined;
  readonly productTemplate: number;
  readonly referenceTimeMs: number;
}

/** A field that is kept: its slice and the factor that turns the file's unit into SI. */
export interface WantedField {
  readonly slice: GridSlice;
  readonly factor: number;
}

/**
 * What a value in SI may be at all; anything else is a fault of the file. Wider than any air on record, so that only
 * faults are caught: -123 to +67 degrees C, humidity to 150 %, condensate to 20 g/kg.
 */
export const PLAUSIBLE: Readonly<Record<GridQuantity, readonly [low: number, high: number]>> = {
  temperatureK: [150, 340],
  relativeHumidityRatio: [0, 1.5],
  geopotentialHeightM: [-1500, 60_000],
  windEastMps: [-200, 200],
  windNorthMps: [-200, 200],
  verticalVelocityPaPerS: [-200, 200],
  condensateKgPerKg: [-1e-6, 0.02],
  surfaceHeightM: [-1500, 9500],
  surfacePressurePa: [30_000, 115_000],
  screenTemperatureK: [150, 340],
  screenRelativeHumidityRatio: [0, 1.5],
  screenWindEastMps: [-150, 150],
  screenWindNorthMps: [-150, 150],
};

/** Highest isobaric level kept, Pa: cloud tops that matter lie below it. */
const HIGHEST_LEVEL_PA = 10_000;

/** Code table 4.5. */
const SURFACE = { ground: 1, isobaric: 100, aboveGround: 103 } as const;

/** WMO code tables 4.1 and 4.2, discipline 0: category and number to the quantity on isobaric levels. */
const ISOBARIC: ReadonlyMap<string, Pick<WantedField, 'factor'> & { quantity: GridSlice['quantity'] }> =
  new Map([
    ['0.0', { quantity: 'temperatureK', factor: 1 }],
    ['1.1', { quantity: 'relativeHumidityRatio', factor: 0.01 }],
    ['3.5', { quantity: 'geopotentialHeightM', factor: 1 }],
    ['2.2', { quantity: 'windEastMps', factor: 1 }],
    ['2.3', { quantity: 'windNorthMps', factor: 1 }],
    ['2.8', { quantity: 'verticalVelocityPaPerS', factor: 1 }],
    ['1.22', { quantity: 'condensateKgPerKg', factor: 1 }],
  ]);

const GROUND: typeof ISOBARIC = new Map([
  ['3.0', { quantity: 'surfacePressurePa', factor: 1 }],
  ['3.5', { quantity: 'surfaceHeightM', factor: 1 }],
]);

/** Key carries the height above ground, m. */
const ABOVE_GROUND: typeof ISOBARIC = new Map([
  ['0.0@2', { quantity: 'screenTemperatureK', factor: 1 }],
  ['1.1@2', { quantity: 'screenRelativeHumidityRatio', factor: 0.01 }],
  ['2.2@10', { quantity: 'screenWindEastMps', factor: 1 }],
  ['2.3@10', { quantity: 'screenWindNorthMps', factor: 1 }],
]);

/** The slice a field fills, or undefined when the hour does not keep it. */
export function wantedField(field: FieldIdentity): WantedField | undefined {
  const { parameter, level } = field;
  const isInstant = field.productTemplate === 0 || field.productTemplate === 1;
  if (parameter.discipline !== 0 || !isInstant || field.secondLevel !== undefined) return undefined;
  const key = `${parameter.category}.${parameter.number}`;
  if (level.type === SURFACE.isobaric) {
    if (!(level.value >= HIGHEST_LEVEL_PA)) return undefined;
    return sliceOf(ISOBARIC.get(key), level.value);
  }
  if (level.type === SURFACE.ground) return sliceOf(GROUND.get(key), null);
  if (level.type === SURFACE.aboveGround) return sliceOf(ABOVE_GROUND.get(`${key}@${level.value}`), null);
  return undefined;
}

function sliceOf(
  found: { quantity: GridSlice['quantity']; factor: number } | undefined,
  levelPa: number | null,
): WantedField | undefined {
  return found && { slice: { quantity: found.quantity, levelPa }, factor: found.factor };
}

/** WMO common code table C-11. */
const CENTRE_NAMES: ReadonlyMap<number, string> = new Map([
  [7, 'NOAA NCEP'],
  [34, 'Japan Meteorological Agency'],
  [54, 'Environment and Climate Change Canada'],
  [59, 'NOAA GSL'],
  [78, 'Deutscher Wetterdienst'],
  [98, 'ECMWF'],
]);

export function centreName(centre: number): string {
  return CENTRE_NAMES.get(centre) ?? `centre ${centre}`;
}

/**
 * Humidity basis by originating centre: NCEP's global model mixes water and ice saturation linearly from 0 to -20 degC,
 * ECMWF quadratically (both from memory, not re-read; a wrong basis shifts humidity by at most 5 % at -10 degC).
 */
export function humidityBasis(field: FieldIdentity): HumidityBasis {
  if (field.centre === 7 && NCEP_GLOBAL_PROCESSES.has(field.generatingProcess)) return 'ncep-mixed';
  return field.centre === 98 ? 'ecmwf-mixed' : 'water';
}

/** NCEP generating processes of the global forecast (ON388 table A: 81 analysis, 96 forecast). */
const NCEP_GLOBAL_PROCESSES: ReadonlySet<number> = new Set([81, 96]);

/** First run of the NCEP global model whose cloud water no longer holds the ice too: 2019-06-12 12 UTC. */
const NCEP_SPLIT_CONDENSATE_MS = Date.UTC(2019, 5, 12, 12);

/** Whether parameter 1/22 is liquid alone or all condensate, liquid and ice together. */
export function condensateBasis(field: FieldIdentity): CondensateBasis {
  const isNcepGlobal = field.centre === 7 && NCEP_GLOBAL_PROCESSES.has(field.generatingProcess);
  return isNcepGlobal && field.referenceTimeMs < NCEP_SPLIT_CONDENSATE_MS ? 'total' : 'liquid';
}
