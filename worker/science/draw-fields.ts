/** The errors of one draw over one route point: fields in height, and single numbers. */
import type { AltitudeAxis } from './columns.ts';
import { DRAW_COUNT, normalDraws } from './draw-numbers.ts';
import {
  type FieldBasis,
  type FieldOverPoint,
  fieldAlong,
  makeFieldBasis,
  makeFieldOverPoint,
  NUMBERS_PER_FIELD,
  placeField,
} from './error-fields.ts';

/** Fields, and single numbers a draw, each with numbers of its own. */
const FIELDS = ['humidity', 'temperature', 'water', 'liquid', 'diameter', 'choice', 'rain'] as const;
const SINGLES = 2;

export interface DrawFields {
  readonly basis: FieldBasis;
  readonly numbers: Float64Array;
  readonly humidity: FieldOverPoint;
  readonly temperature: FieldOverPoint;
  readonly water: FieldOverPoint;
  readonly scratch: FieldOverPoint;
  /** Whether cloud is liquid, drop size and large drops: of the whole column, in standard deviations. */
  liquid: number;
  diameter: number;
  rain: number;
  /** Which source, 0-1. */
  choice: number;
  /** Of the whole draw, in standard deviations. */
  heightShift: number;
  placeShift: number;
}

export function makeDrawFields(distanceM: Float64Array, axis: AltitudeAxis): DrawFields {
  const heightM = Float64Array.from(
    axis.middlePressurePa,
    (pressurePa) => SCALE_HEIGHT_M * Math.log(1e5 / pressurePa),
  );
  return {
    basis: makeFieldBasis(distanceM, heightM),
    numbers: normalDraws(FIELDS.length * NUMBERS_PER_FIELD + SINGLES),
    humidity: makeFieldOverPoint(),
    temperature: makeFieldOverPoint(),
    water: makeFieldOverPoint(),
    scratch: makeFieldOverPoint(),
    liquid: 0,
    diameter: 0,
    rain: 0,
    choice: 0,
    heightShift: 0,
    placeShift: 0,
  };
}

/** Height for the correlation of errors alone, which needs no more than this, m. */
const SCALE_HEIGHT_M = 7600;

/** Places all fields of a draw over a point. */
export function placeDraw(fields: DrawFields, draw: number, point: number): void {
  const at = { draw, point };
  const place = (name: (typeof FIELDS)[number], over: FieldOverPoint) => {
    const first = FIELDS.indexOf(name) * NUMBERS_PER_FIELD * DRAW_COUNT;
    placeField(fields.basis, fields.numbers.subarray(first), at, over);
    return over;
  };
  place('humidity', fields.humidity);
  place('temperature', fields.temperature);
  place('water', fields.water);
  fields.liquid = fieldAlong(place('liquid', fields.scratch));
  fields.diameter = fieldAlong(place('diameter', fields.scratch));
  fields.rain = fieldAlong(place('rain', fields.scratch));
  fields.choice = 1 / (1 + Math.exp(-1.702 * fieldAlong(place('choice', fields.scratch))));
  const singles = FIELDS.length * NUMBERS_PER_FIELD * DRAW_COUNT;
  fields.heightShift = fields.numbers[singles + draw]!;
  fields.placeShift = fields.numbers[singles + DRAW_COUNT + draw]!;
}
