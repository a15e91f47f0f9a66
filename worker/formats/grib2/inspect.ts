/** A field as JSON for people: what, where, when, and what its values are like. */
import { describeLevel, describeParameter } from './code-tables.ts';
import type { Grib2Field, Grib2Level, Grib2Parameter } from './field.ts';

export { valueAt } from './value-at.ts';

export interface InspectedField {
  readonly kind: 'grib2-field';
  readonly index: number;
  readonly parameter: Grib2Parameter;
  readonly level: { readonly type: number; readonly value: number | null };
  /** ISO 8601 ending in Z. */
  readonly referenceUtc: string;
  readonly validUtc: string;
  readonly grid: { readonly template: number; readonly nx: number; readonly ny: number };
  readonly packing: number;
  /** Grid points, those without a value included. */
  readonly count: number;
  readonly missing: number;
  /** Of the values that are present, in the field's unit; null when there is none. */
  readonly min: number | null;
  readonly max: number | null;
  readonly mean: number | null;
  readonly name: string;
  readonly unit: string | null;
  readonly levelName: string;
  readonly secondLevel: { readonly type: number; readonly value: number | null } | null;
  readonly productTemplate: number;
}

/** Never throws. */
export function inspectGrib2Field(field: Grib2Field): InspectedField {
  const { index, parameter, packing, productTemplate, grid } = field;
  const { name, unit } = describeParameter(parameter);
  return {
    kind: 'grib2-field',
    index,
    parameter,
    level: levelOf(field.level),
    referenceUtc: isoSeconds(field.referenceTimeMs),
    validUtc: isoSeconds(field.validTimeMs),
    grid: { template: grid.template, nx: grid.nx, ny: grid.ny },
    packing,
    count: field.values.length,
    missing: field.missingCount,
    ...statistics(field.values),
    name,
    unit: unit ?? null,
    levelName: describeLevel(field.level),
    secondLevel: field.secondLevel === undefined ? null : levelOf(field.secondLevel),
    productTemplate,
  };
}

function levelOf({ type, value }: Grib2Level): { type: number; value: number | null } {
  return { type, value: Number.isNaN(value) ? null : value };
}

function statistics(values: Float32Array): Pick<InspectedField, 'min' | 'max' | 'mean'> {
  let count = 0;
  let sum = 0;
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    count += 1;
    sum += value;
    if (value < min) min = value;
    if (value > max) max = value;
  }
  return count === 0 ? { min: null, max: null, mean: null } : { min, max, mean: sum / count };
}

function isoSeconds(timeMs: number): string {
  return new Date(timeMs).toISOString().replace('.000Z', 'Z');
}
