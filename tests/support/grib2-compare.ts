/** One field of ours beside the same field as ecCodes reads it, value by value. */
import type { Grib2Item } from '../../worker/formats/grib2/decode-message.ts';
import type { Grib2Field } from '../../worker/formats/grib2/field.ts';
import { readGrib2 } from '../../worker/formats/grib2/read-grib2.ts';
import type { EccodesField, EccodesHeader } from './eccodes.ts';

/** Half a unit in the last place of an IEEE single, as a part of the value. */
const SINGLE_ROUNDING = 2 ** -24;
/** What double arithmetic in another order may change, as a part of the reference value. */
const DOUBLE_ROUNDING = 1e-12;

/**
 * Values must agree to single precision; unless `halfStep` is false, to half a packing step too. (Single precision is
 * coarser than the step of a field that is packed in more than about 23 bits.)
 *
 * @returns what differs, in words; empty when every value agrees.
 */
export function differences(
  field: Grib2Field,
  truth: EccodesField,
  { halfStep = true }: { halfStep?: boolean } = {},
): string[] {
  return [...headerDifferences(field, truth.header), ...valueDifferences(field, truth, halfStep)];
}

function headerDifferences(field: Grib2Field, header: EccodesHeader): string[] {
  const { parameter, level, grid } = field;
  const pairs: readonly (readonly [string, unknown, unknown])[] = [
    ['offset', field.messageOffsetBytes, header.offset],
    ['centre', field.centre, header.centre],
    ['generating process', field.generatingProcess, header.generatingProcessIdentifier],
    ['discipline', parameter.discipline, header.discipline],
    ['category', parameter.category, header.parameterCategory],
    ['number', parameter.number, header.parameterNumber],
    ['level type', level.type, header.typeOfFirstFixedSurface],
    ['level value', level.value, levelValue(header)],
    ['second level type', field.secondLevel?.type ?? 255, header.typeOfSecondFixedSurface],
    ['reference time', field.referenceTimeMs, instantMs(header.dataDate, header.dataTime)],
    ['valid time', field.validTimeMs, instantMs(header.validityDate, header.validityTime)],
    ['product template', field.productTemplate, header.productDefinitionTemplateNumber],
    ['grid template', grid.template, header.gridDefinitionTemplateNumber],
    ['columns', grid.nx, header.Nx],
    ['rows', grid.ny, header.Ny],
    ['packing', field.packing, header.dataRepresentationTemplateNumber],
    ['points', field.values.length, header.count],
    ['missing', field.missingCount, header.numberOfMissing],
  ];
  return pairs
    .filter(([, ours, theirs]) => !Object.is(ours, theirs))
    .map(([what, ours, theirs]) => `field ${field.index} ${what}: found ${ours}, ecCodes has ${theirs}`);
}

function valueDifferences(field: Grib2Field, { header, values }: EccodesField, halfStep: boolean): string[] {
  const decimal = 10 ** -header.decimalScaleFactor;
  const half = (2 ** header.binaryScaleFactor * decimal) / 2;
  const slack = Math.abs(header.referenceValue * decimal) * DOUBLE_ROUNDING;
  if (isEndMarkerReadAsData(values)) return emptyDataDifferences(field, header.referenceValue * decimal);
  const wrong: string[] = [];
  for (let n = 0; n < values.length && wrong.length < 3; n += 1) {
    const ours = field.values[field.fileOrder?.[n] ?? n] ?? Number.POSITIVE_INFINITY;
    const theirs = values[n]!;
    if (Number.isNaN(ours) && Number.isNaN(theirs)) continue;
    const allowed = Math.abs(theirs) * SINGLE_ROUNDING + slack;
    const isEqual = Math.abs(ours - theirs) <= allowed;
    const isWithinHalfStep = !halfStep || header.bitsPerValue === 0 || Math.abs(ours - theirs) <= half;
    if (isEqual && isWithinHalfStep) continue;
    wrong.push(
      `field ${field.index} value ${n}: found ${ours}, ecCodes has ${theirs}, half a step is ${half}`,
    );
  }
  return wrong;
}

/** The character code of "7", four of which end a message. */
const END_MARKER_BYTE = 0x37;

/**
 * A field with no groups has an empty data section. ecCodes 2.28 then takes the end marker for the first value of the
 * differences and counts up in steps of 55; the NCEP library gives the constant reference value, as we must.
 */
export function isEndMarkerReadAsData(values: Float64Array): boolean {
  return values.length > 1 && values.every((value, n) => value === END_MARKER_BYTE * (n + 1));
}

function emptyDataDifferences(field: Grib2Field, constant: number): string[] {
  const isConstant =
    field.missingCount === 0 && field.values.every((value) => value === Math.fround(constant));
  return isConstant
    ? []
    : [`field ${field.index}: expected the constant ${constant} of an empty data section`];
}

/** Our reader takes scaled values of surfaces as sign and magnitude; ecCodes 2.28 gives them unsigned. */
function levelValue({
  scaledValueOfFirstFixedSurface: raw,
  scaleFactorOfFirstFixedSurface: factor,
}: EccodesHeader): number {
  if (raw === null || factor === null) return Number.NaN;
  const scaled = raw >= 2 ** 31 ? 2 ** 31 - raw : raw;
  return factor < 0 ? scaled * 10 ** -factor : scaled / 10 ** factor;
}

/** ecCodes gives times to the minute. */
function instantMs(date: number, time: number): number {
  const year = Math.floor(date / 10_000);
  const month = Math.floor(date / 100) % 100;
  return Date.UTC(year, month - 1, date % 100, Math.floor(time / 100), time % 100);
}

/** Everything readGrib2 makes of bytes that come in chunks of one size. */
export async function readAll(
  bytes: Uint8Array,
  options: Parameters<typeof readGrib2>[1] & { chunkBytes?: number } = {},
): Promise<Grib2Item[]> {
  const { chunkBytes = 4096, ...rest } = options;
  const items: Grib2Item[] = [];
  for await (const item of readGrib2(inChunks(bytes, chunkBytes), rest)) items.push(item);
  return items;
}

export async function* inChunks(bytes: Uint8Array, chunkBytes: number): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += chunkBytes) yield bytes.subarray(at, at + chunkBytes);
}

/** The only field of the bytes. */
export async function readOne(bytes: Uint8Array): Promise<Grib2Field> {
  const items = await readAll(bytes);
  const [item] = items;
  if (items.length === 1 && item?.kind === 'field') return item.field;
  const reason = item?.kind === 'rejected' ? item.error.message : `${items.length} items`;
  throw new Error(`expected one field: ${reason}`);
}

/** What the field's values are in file order, as plain numbers. */
export function inFileOrder(field: Grib2Field): number[] {
  return Array.from(field.values, (_, n) => field.values[field.fileOrder?.[n] ?? n]!);
}
