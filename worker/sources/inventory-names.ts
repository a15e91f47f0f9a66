/** What an inventory's words for a field mean in the code tables of GRIB2. */

import type { Grib2Level, Grib2Parameter } from '../formats/grib2/field.ts';
import type { InventoryEntry } from '../formats/inventory-line.ts';

/** A field as its inventory line names it: one parameter of those that go by the name, on one surface. */
export interface NamedField {
  readonly parameters: readonly Grib2Parameter[];
  readonly level: Grib2Level;
}

/** Code table 4.5. */
const GROUND: Grib2Level = { type: 1, value: Number.NaN };
const ISOBARIC = 100;
const ABOVE_GROUND = 103;

const PA_PER_HPA = 100;

/**
 * Short names of colon inventories as `discipline.category.number`; a name that stands for two triples has both.
 *
 * @source  Code tables 4.1 and 4.2 with NCEP's local numbers. Names as real inventories have them; CIMIXR, TCOND, CDCON, FRACCC
 *          and CDCC from memory. A wrong triple loses the field: its message disagrees with its index and is refused.
 */
const COLON_NAMES: Readonly<Record<string, readonly string[]>> = {
  TMP: ['0.0.0'],
  DPT: ['0.0.6'],
  DEPR: ['0.0.7'],
  SPFH: ['0.1.0'],
  RH: ['0.1.1'],
  HGT: ['0.3.5'],
  UGRD: ['0.2.2'],
  VGRD: ['0.2.3'],
  VVEL: ['0.2.8'],
  DZDT: ['0.2.9'],
  PRES: ['0.3.0'],
  CLMR: ['0.1.22'],
  CLWMR: ['0.1.22'],
  ICMR: ['0.1.23'],
  CIMIXR: ['0.1.82'],
  RWMR: ['0.1.24'],
  SNMR: ['0.1.25'],
  GRLE: ['0.1.32'],
  TCOND: ['0.1.21'],
  CDCON: ['0.6.195'],
  TCDC: ['0.6.1'],
  CDCC: ['0.6.22'],
  FRACCC: ['0.6.32'],
  CRAIN: ['0.1.192', '0.1.33'],
  CFRZR: ['0.1.193', '0.1.34'],
  CICEP: ['0.1.194', '0.1.35'],
  CSNOW: ['0.1.195', '0.1.36'],
};

/** Short names of JSON inventories on isobaric levels; the cloud species from memory. */
const JSON_LEVEL_NAMES: Readonly<Record<string, readonly string[]>> = {
  t: ['0.0.0'],
  q: ['0.1.0'],
  r: ['0.1.1'],
  gh: ['0.3.5'],
  z: ['0.3.4'],
  u: ['0.2.2'],
  v: ['0.2.3'],
  w: ['0.2.8'],
  clwc: ['0.1.83'],
  ciwc: ['0.1.84'],
  crwc: ['0.1.85'],
  cswc: ['0.1.86'],
  cc: ['0.6.32'],
};

/** At the surface, with the height above ground, m, where the name says one. */
const JSON_SURFACE_NAMES: Readonly<
  Record<string, { readonly parameter: string; readonly heightM?: number }>
> = {
  sp: { parameter: '0.3.0' },
  z: { parameter: '0.3.4' },
  ptype: { parameter: '0.1.19' },
  '2t': { parameter: '0.0.0', heightM: 2 },
  '2d': { parameter: '0.0.6', heightM: 2 },
  '10u': { parameter: '0.2.2', heightM: 10 },
  '10v': { parameter: '0.2.3', heightM: 10 },
};

const MB = /^(\d{1,5}(?:\.\d{1,4})?) (mb|pl)$/;
const HEIGHT = /^(\d{1,6}(?:\.\d{1,4})?) m above ground$/;

/** @returns undefined for a name or a level that no hour keeps, whatever its file says. */
export function namedField({
  parameter,
  level,
}: Pick<InventoryEntry, 'parameter' | 'level'>): NamedField | undefined {
  if (level === 'sfc') return surfaceField(parameter);
  const isobaric = MB.exec(level);
  const names = isobaric?.[2] === 'pl' ? JSON_LEVEL_NAMES : COLON_NAMES;
  const triples = Object.hasOwn(names, parameter) ? names[parameter] : undefined;
  const surface = isobaric === null ? colonSurface(level) : isobaricLevel(isobaric[1]!);
  if (triples === undefined || surface === undefined) return undefined;
  return { parameters: triples.map(parameterOf), level: surface };
}

function surfaceField(name: string): NamedField | undefined {
  if (!Object.hasOwn(JSON_SURFACE_NAMES, name)) return undefined;
  const { parameter, heightM } = JSON_SURFACE_NAMES[name]!;
  const level = heightM === undefined ? GROUND : { type: ABOVE_GROUND, value: heightM };
  return { parameters: [parameterOf(parameter)], level };
}

function colonSurface(level: string): Grib2Level | undefined {
  if (level === 'surface') return GROUND;
  const height = HEIGHT.exec(level);
  return height === null ? undefined : { type: ABOVE_GROUND, value: Number(height[1]) };
}

const isobaricLevel = (hPa: string): Grib2Level => ({ type: ISOBARIC, value: Number(hPa) * PA_PER_HPA });

function parameterOf(triple: string): Grib2Parameter {
  const [discipline = 0, category = 0, number = 0] = triple.split('.').map(Number);
  return { discipline, category, number };
}

/** True when a header's field is the one that the inventory names: parameter and surface, and no second surface. */
export function isNamed(
  named: NamedField,
  header: {
    readonly parameter: Grib2Parameter;
    readonly level: Grib2Level;
    readonly secondLevel: Grib2Level | undefined;
  },
): boolean {
  const { parameter, level, secondLevel } = header;
  const isParameter = named.parameters.some(
    (each) =>
      each.discipline === parameter.discipline &&
      each.category === parameter.category &&
      each.number === parameter.number,
  );
  if (!isParameter || secondLevel !== undefined || level.type !== named.level.type) return false;
  return Number.isNaN(named.level.value) || Math.abs(level.value - named.level.value) < SAME_LEVEL;
}

/** In the unit of the level: far below what any two levels differ by. */
const SAME_LEVEL = 1e-3;

const FORECAST_COLON = /^(\d{1,5}) (min|hour|day) fcst$/;
const FORECAST_JSON = /^\d{1,4}$/;
const HOURS = { min: 1 / 60, hour: 1, day: 24 } as const;

/**
 * Hours from the reference time to the instant a line is of.
 *
 * @returns undefined for what is no instant (an average, an accumulation, a greatest value) or has more said of it (a member).
 */
export function instantHour(forecast: string): number | undefined {
  if (forecast === 'anl') return 0;
  if (FORECAST_JSON.test(forecast)) return Number(forecast);
  const match = FORECAST_COLON.exec(forecast);
  return match === null ? undefined : Number(match[1]) * HOURS[match[2] as keyof typeof HOURS];
}
