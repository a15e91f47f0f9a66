/** The errors of one draw over one route point: fields in height, and single numbers. */
import type { AltitudeAxis } from './columns.ts';
import { DRAW_COUNT, normalDraws } from './draw-numbers.ts';
import {
  type FieldBasis,
  type FieldNumbers,
  type FieldOverPoint,
  fieldAlong,
  makeFieldBasis,
  makeFieldOverPoint,
  NUMBERS_PER_FIELD,
  placeField,
} from './error-fields.ts';

/** Fields, and single numbers a draw, each with numbers of its own. */
const FIELD = { humidity: 0, temperature: 1, water: 2, liquid: 3, diameter: 4, choice: 5, rain: 6 } as const;
const FIELDS = Object.keys(FIELD);
const SINGLES = 2;

export interface DrawFields {
  readonly basis: FieldBasis;
  /** Of each field, in the order of FIELDS, then of the single numbers. */
  readonly numbers: readonly FieldNumbers[];
  readonly humidity: FieldOverPoint;
  readonly temperature: FieldOverPoint;
  readonly water: FieldOverPoint;
  readonly scratch: FieldOverPoint;
  readonly place: { draw: number; point: number };
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
  const numbers = normalDraws(FIELDS.length * NUMBERS_PER_FIELD + SINGLES);
  return {
    basis: makeFieldBasis(distanceM, heightM),
    numbers: Array.from({ length: FIELDS.length + 1 }, (_, field) => ({
      numbers,
      dimension: field * NUMBERS_PER_FIELD,
    })),
    place: { draw: 0, point: 0 },
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
  const { basis, numbers, place, scratch } = fields;
  place.draw = draw;
  place.point = point;
  placeField(basis, numbers[FIELD.humidity]!, place, fields.humidity);
  placeField(basis, numbers[FIELD.temperature]!, place, fields.temperature);
  placeField(basis, numbers[FIELD.water]!, place, fields.water);
  placeField(basis, numbers[FIELD.liquid]!, place, scratch);
  fields.liquid = fieldAlong(scratch);
  placeField(basis, numbers[FIELD.diameter]!, place, scratch);
  fields.diameter = fieldAlong(scratch);
  placeField(basis, numbers[FIELD.rain]!, place, scratch);
  fields.rain = fieldAlong(scratch);
  placeField(basis, numbers[FIELD.choice]!, place, scratch);
  fields.choice = 1 / (1 + Math.exp(-1.702 * fieldAlong(scratch)));
  const singles = numbers[FIELDS.length]!;
  fields.heightShift = singles.numbers[singles.dimension * DRAW_COUNT + draw]!;
  fields.placeShift = singles.numbers[(singles.dimension + 1) * DRAW_COUNT + draw]!;
}
