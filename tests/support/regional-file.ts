/**
 * A file of a regional model's size: 1,799 x 1,059 points, 40 levels, 8 quantities, made of one real field whose numbers are
 * put into each quantity's range. It is never whole in memory: messages come one after the other.
 */

/** Parameter, and where its values lie: reference and power of two of a step, for numbers from 0 to about 520. */
const QUANTITIES: readonly {
  readonly parameter: readonly [number, number];
  readonly from: number;
  readonly power: number;
}[] = [
  { parameter: [0, 0], from: 235, power: -4 },
  { parameter: [1, 1], from: 10, power: -3 },
  { parameter: [3, 5], from: 1000, power: 0 },
  { parameter: [2, 2], from: -10, power: -4 },
  { parameter: [2, 3], from: -10, power: -4 },
  { parameter: [2, 8], from: -1, power: -8 },
  { parameter: [1, 22], from: 0, power: -20 },
  { parameter: [6, 1], from: 0, power: -3 },
];
const LEVELS = 40;
const LOWEST_PA = 100_000;
const STEP_PA = 2250;
const INDICATOR_OCTETS = 16;

/** About 600 x 600 km around Lake Erie, degrees. */
export const REGIONAL_AREA = { westDeg: -87.8, southDeg: 39.7, eastDeg: -81.6, northDeg: 44.3 };
export const REGIONAL_FIELDS = LEVELS * QUANTITIES.length;

/** @param field  One message of spatial differencing (5.3), of product 4.0 on an isobaric level. */
export async function* regionalFile(field: Uint8Array): AsyncGenerator<Uint8Array> {
  const at = sectionsOf(field);
  for (let level = 0; level < LEVELS; level += 1) {
    for (const { parameter, from, power } of QUANTITIES) {
      const message = field.slice();
      const view = new DataView(message.buffer);
      view.setUint8(at[4]! + 9, parameter[0]);
      view.setUint8(at[4]! + 10, parameter[1]);
      view.setUint32(at[4]! + 24, LOWEST_PA - STEP_PA * level);
      view.setFloat32(at[5]! + 11, from);
      view.setUint16(at[5]! + 15, power < 0 ? 0x8000 | -power : power);
      yield message;
    }
  }
}

/** Where each section begins, by its number. */
function sectionsOf(message: Uint8Array): number[] {
  const view = new DataView(message.buffer, message.byteOffset, message.byteLength);
  const at: number[] = [];
  for (let offset = INDICATOR_OCTETS; offset < message.length - 4; offset += view.getUint32(offset))
    at[view.getUint8(offset + 4)] = offset;
  return at;
}
