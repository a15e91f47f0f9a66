/** The columns of a whole real forecast on its own isobaric levels, as far as they are air. */
import { readFileSync } from 'node:fs';
import type { Grib2Field, Grib2FieldHeader } from '../../worker/formats/grib2/field.ts';
import { readAll } from './grib2-compare.ts';

/** One grid point. Levels rise; all arrays have one entry a level. */
export interface ForecastColumn {
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly pressurePa: readonly number[];
  readonly temperatureK: readonly number[];
  /** In the model's own basis, ratio. */
  readonly relativeHumidityRatio: readonly number[];
  /** Liquid and ice together, kg/kg. */
  readonly condensateKgPerKg: readonly number[];
}

/** What a column is made of: WMO code table 4.1 and 4.2 of discipline 0. */
const WANTED: ReadonlyMap<string, keyof Fields> = new Map([
  ['0.0', 'temperature'],
  ['1.1', 'humidity'],
  ['1.22', 'condensate'],
]);
const ISOBARIC = 100;
const GROUND = 1;

/** Fields by level, Pa. */
interface Fields {
  readonly temperature: Map<number, Grib2Field>;
  readonly humidity: Map<number, Grib2Field>;
  readonly condensate: Map<number, Grib2Field>;
}

const keyOf = ({ parameter }: Pick<Grib2FieldHeader, 'parameter'>) =>
  `${parameter.category}.${parameter.number}`;
const isInstant = ({ parameter, productTemplate }: Grib2FieldHeader) =>
  parameter.discipline === 0 && productTemplate === 0;
const isGroundPressure = (field: Grib2FieldHeader) => keyOf(field) === '3.0' && field.level.type === GROUND;
const isColumnPart = (field: Grib2FieldHeader) => WANTED.has(keyOf(field)) && field.level.type === ISOBARIC;

/**
 * Reads every column of a file.
 *
 * @param path     GRIB2 with temperature, humidity and condensate on isobaric levels and pressure at the ground.
 * @param isWanted  Of a place, degrees.
 * @returns        Levels that have all three and lie above the ground; lowest first.
 * @throws         Error when the file has no pressure at the ground.
 */
export async function readForecastColumns(
  path: string,
  isWanted: (latDeg: number, lonDeg: number) => boolean,
): Promise<ForecastColumn[]> {
  const items = await readAll(readFileSync(path), {
    chunkBytes: 65_536,
    want: (header) => isInstant(header) && (isGroundPressure(header) || isColumnPart(header)),
  });
  const fields: Fields = { temperature: new Map(), humidity: new Map(), condensate: new Map() };
  let ground: Grib2Field | undefined;
  for (const item of items) {
    if (item.kind !== 'field') continue;
    const part = WANTED.get(keyOf(item.field));
    if (part === undefined) ground = item.field;
    else fields[part].set(item.field.level.value, item.field);
  }
  if (ground === undefined) throw new Error('pressure at the ground: found none, expected one field');
  return columnsOf(fields, ground, isWanted);
}

function columnsOf(
  fields: Fields,
  ground: Grib2Field,
  isWanted: (latDeg: number, lonDeg: number) => boolean,
): ForecastColumn[] {
  const levels = [...fields.condensate.keys()]
    .filter((level) => fields.temperature.has(level) && fields.humidity.has(level))
    .sort((a, b) => b - a);
  const { grid, values: groundPa } = ground;
  const columns: ForecastColumn[] = [];
  for (let point = 0; point < groundPa.length; point += 1) {
    const { latDeg, lonDeg } = grid.toLatLon(point % grid.nx, Math.floor(point / grid.nx));
    if (!isWanted(latDeg, lonDeg)) continue;
    const above = levels.filter((level) => level < groundPa[point]!);
    const at = (part: keyof Fields, factor = 1) =>
      above.map((level) => fields[part].get(level)!.values[point]! * factor);
    columns.push({
      latDeg,
      lonDeg,
      pressurePa: above,
      temperatureK: at('temperature'),
      relativeHumidityRatio: at('humidity', 0.01),
      condensateKgPerKg: at('condensate'),
    });
  }
  return columns;
}
