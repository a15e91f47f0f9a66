/** Sections 5 of the packings that hold a coded stream, and messages around them; octets as the manual prints them. */
import {
  data,
  identification,
  latLon,
  message,
  noBitmap,
  product,
  type Scaled,
  section,
  simple,
  u8,
  u16,
  u32,
} from './grib2-builder.ts';

/** Bits typed in groups: `bits('001 0101')`, padded to an octet. */
export function bits(text: string): Uint8Array {
  const digits = text.replace(/\s/g, '');
  const padded = digits.padEnd(Math.ceil(digits.length / 8) * 8, '0');
  return Uint8Array.from(padded.match(/.{8}/g) ?? [], (octet) => Number.parseInt(octet, 2));
}

export interface CcsdsOptions {
  /** Octet 22; 8 predicts, the rest is 0. */
  readonly flags?: number;
  readonly block?: number;
  readonly interval?: number;
}

/** Template 5.42. */
export function ccsds(scaled: Scaled, { flags = 8, block = 8, interval = 2 }: CcsdsOptions = {}): Uint8Array {
  const form = section(5, 25, { 22: u8(flags), 23: u8(block), 24: u16(interval) });
  form.set(simple(scaled).subarray(5), 5);
  form.set(u16(42), 9);
  return form;
}

/** Template 5.40, lossless. */
export function jpeg2000(scaled: Scaled): Uint8Array {
  const form = section(5, 23, { 23: u8(255) });
  form.set(simple(scaled).subarray(5), 5);
  form.set(u16(40), 9);
  return form;
}

/** Template 5.41. */
export function png(scaled: Scaled): Uint8Array {
  return simple(scaled, { 10: u16(41) });
}

/** Template 5.4 with a precision of code table 5.7. */
export function ieee(count: number, precision: number): Uint8Array {
  return section(5, 12, { 6: u32(count), 10: u16(4), 12: u8(precision) });
}

/** A message of `nx` x `ny` points without a bitmap. */
export function packedMessage(
  { nx, ny }: { nx: number; ny: number },
  representation: Uint8Array,
  payload: Uint8Array,
): Uint8Array {
  return message([
    identification(),
    latLon({ nx, ny }),
    product(),
    representation,
    noBitmap(),
    data(payload),
  ]);
}

/** Octets of the last section 7 of a message, after its number: the coded stream. */
export function payloadOf(made: Uint8Array): Uint8Array {
  const view = new DataView(made.buffer, made.byteOffset, made.length);
  let at = 16;
  while (made[at + 4] !== 7) at += view.getUint32(at);
  return made.slice(at + 5, at + view.getUint32(at));
}
