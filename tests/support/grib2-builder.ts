/**
 * GRIB2 messages small enough to read as bytes. A section is written as the manual prints it: octet numbers with what
 * stands there; octets not named are 0.
 */

type Octets = readonly number[];

export const u8 = (value: number): Octets => [value & 0xff];
export const u16 = (value: number): Octets => [(value >>> 8) & 0xff, value & 0xff];
export const u32 = (value: number): Octets => [...u16(Math.floor(value / 65536)), ...u16(value % 65536)];
/** Sign and magnitude. */
export const s8 = (value: number): Octets => u8(value < 0 ? 0x80 | -value : value);
export const s16 = (value: number): Octets => u16(value < 0 ? 0x8000 | -value : value);
export const s32 = (value: number): Octets => u32(value < 0 ? 2 ** 31 - value : value);
export const microdegrees = (deg: number): Octets => s32(Math.round(deg * 1e6));
export const MISSING_32: Octets = [0xff, 0xff, 0xff, 0xff];

export function f32(value: number): Octets {
  const view = new DataView(new ArrayBuffer(4));
  view.setFloat32(0, value);
  return [...new Uint8Array(view.buffer)];
}

/** Bytes typed as in a dump: `bytes('00 01 41')`. */
export function bytes(hex: string): Uint8Array {
  return Uint8Array.from(hex.trim().split(/\s+/), (octet) => Number.parseInt(octet, 16));
}

export function section(
  number: number,
  length: number,
  entries: Readonly<Record<number, Octets>>,
): Uint8Array {
  const octets = new Uint8Array(length);
  octets.set(u32(length), 0);
  octets.set(u8(number), 4);
  for (const [octet, value] of Object.entries(entries)) octets.set(value, Number(octet) - 1);
  return octets;
}

/** Section 0 before and "7777" after the sections; the length is right whatever they hold. */
export function message(sections: readonly Uint8Array[], discipline = 0): Uint8Array {
  const body = concat(sections);
  const length = 16 + body.length + 4;
  const indicator = [...ascii('GRIB'), 0, 0, discipline, 2, ...u32(0), ...u32(length)];
  return concat([Uint8Array.from(indicator), body, Uint8Array.from(ascii('7777'))]);
}

export function concat(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

export const ascii = (text: string): number[] => Array.from(text, (letter) => letter.charCodeAt(0));

/** Numbers of one width after each other, most significant bit first, padded to an octet. */
export function packBits(values: readonly number[], width: number): Uint8Array {
  return fromBits(values.map((value) => bitText(value, width)).join(''));
}

const bitText = (value: number, width: number) => (width === 0 ? '' : value.toString(2).padStart(width, '0'));

function fromBits(text: string): Uint8Array {
  const padded = text.padEnd(Math.ceil(text.length / 8) * 8, '0');
  return Uint8Array.from(padded.match(/.{8}/g) ?? [], (octet) => Number.parseInt(octet, 2));
}

/** Reference time 2024-01-15 12:00:00 UTC of centre 255. */
export const identification = (entries: Readonly<Record<number, Octets>> = {}): Uint8Array =>
  section(1, 21, {
    6: u16(255),
    10: u8(2),
    12: u8(1),
    13: u16(2024),
    15: u8(1),
    16: u8(15),
    17: u8(12),
    ...entries,
  });

/** `nx` x `ny` points from 50 N 10 E, 1 degree apart, in the order of the scanning flags. */
export function latLon(
  { nx, ny, scanning = 0 }: { nx: number; ny: number; scanning?: number },
  entries: Readonly<Record<number, Octets>> = {},
): Uint8Array {
  const lonSign = (scanning & 0x80) === 0 ? 1 : -1;
  const latSign = (scanning & 0x40) === 0 ? -1 : 1;
  return section(3, 72, {
    7: u32(nx * ny),
    15: u8(6),
    31: u32(nx),
    35: u32(ny),
    43: MISSING_32,
    47: microdegrees(50),
    51: microdegrees(10),
    55: u8(0x30),
    56: microdegrees(50 + latSign * (ny - 1)),
    60: microdegrees(10 + lonSign * (nx - 1)),
    64: microdegrees(1),
    68: microdegrees(1),
    72: u8(scanning),
    ...entries,
  });
}

/** `nx` x `ny` points from 40 N 100 W, 10 km apart, on the cone of 38.5 N about 97.5 W. */
export function lambert(
  { nx, ny, scanning = 0x40 }: { nx: number; ny: number; scanning?: number },
  entries: Readonly<Record<number, Octets>> = {},
): Uint8Array {
  return section(3, 81, {
    7: u32(nx * ny),
    13: u16(30),
    15: u8(6),
    31: u32(nx),
    35: u32(ny),
    39: microdegrees(40),
    43: microdegrees(260),
    47: u8(8),
    48: microdegrees(38.5),
    52: microdegrees(262.5),
    56: u32(10_000_000),
    60: u32(10_000_000),
    65: u8(scanning),
    66: microdegrees(38.5),
    70: microdegrees(38.5),
    ...entries,
  });
}

/** Temperature at 850 hPa, forecast of 6 hours. */
export const product = (entries: Readonly<Record<number, Octets>> = {}, length = 34): Uint8Array =>
  section(4, length, {
    14: u8(96),
    18: u8(1),
    19: u32(6),
    23: u8(100),
    25: u32(85_000),
    29: u8(255),
    30: u8(255),
    31: MISSING_32,
    ...entries,
  });

export interface Scaled {
  readonly count: number;
  /** R, E and D; 0 when not given. */
  readonly reference?: number;
  readonly binary?: number;
  readonly decimal?: number;
  readonly bits: number;
}

const scaledEntries = ({ count, reference = 0, binary = 0, decimal = 0, bits }: Scaled) => ({
  6: u32(count),
  12: f32(reference),
  16: s16(binary),
  18: s16(decimal),
  20: u8(bits),
});

export const simple = (scaled: Scaled, entries: Readonly<Record<number, Octets>> = {}): Uint8Array =>
  section(5, 21, { ...scaledEntries(scaled), ...entries });

export interface Grouped extends Scaled {
  readonly missing?: number;
  readonly groups: number;
  readonly widthReference?: number;
  readonly widthBits: number;
  readonly lengthReference: number;
  readonly lengthIncrement?: number;
  readonly lastLength: number;
  readonly lengthBits: number;
}

const groupedEntries = (grouped: Grouped) => ({
  ...scaledEntries(grouped),
  22: u8(1),
  23: u8(grouped.missing ?? 0),
  32: u32(grouped.groups),
  36: u8(grouped.widthReference ?? 0),
  37: u8(grouped.widthBits),
  38: u32(grouped.lengthReference),
  42: u8(grouped.lengthIncrement ?? 1),
  43: u32(grouped.lastLength),
  47: u8(grouped.lengthBits),
});

export const complex = (grouped: Grouped, entries: Readonly<Record<number, Octets>> = {}): Uint8Array =>
  section(5, 47, { 10: u16(2), ...groupedEntries(grouped), ...entries });

export const spatial = (
  grouped: Grouped & { order: number; octets: number },
  entries: Readonly<Record<number, Octets>> = {},
): Uint8Array =>
  section(5, 49, {
    10: u16(3),
    ...groupedEntries(grouped),
    48: u8(grouped.order),
    49: u8(grouped.octets),
    ...entries,
  });

/** A group as it is packed: a reference, and each value less the reference in so many bits. */
export interface Group {
  readonly reference: number;
  readonly width: number;
  readonly packed: readonly number[];
}

/** References, widths, lengths and values of groups, each padded to an octet as in data template 7.2. */
export function groupPayload(groups: readonly Group[], form: Grouped): Uint8Array {
  const { widthReference = 0, lengthReference, lengthIncrement = 1 } = form;
  const lengths = groups.map(({ packed }, n) =>
    n === groups.length - 1 ? 0 : (packed.length - lengthReference) / lengthIncrement,
  );
  const values = groups.map(({ packed, width }) => packed.map((each) => bitText(each, width)).join(''));
  return concat([
    packBits(
      groups.map(({ reference }) => reference),
      form.bits,
    ),
    packBits(
      groups.map(({ width }) => width - widthReference),
      form.widthBits,
    ),
    packBits(lengths, form.lengthBits),
    fromBits(values.join('')),
  ]);
}

export const noBitmap = (): Uint8Array => section(6, 6, { 6: u8(255) });
export const previousBitmap = (): Uint8Array => section(6, 6, { 6: u8(254) });
/** A picture of the bitmap: `#` present, anything else not. */
export function bitmap(picture: string): Uint8Array {
  const bits = packBits(
    Array.from(picture.replace(/\s/g, ''), (letter) => (letter === '#' ? 1 : 0)),
    1,
  );
  return section(6, 6 + bits.length, { 7: [...bits] });
}

export const data = (payload: Uint8Array): Uint8Array => section(7, 5 + payload.length, { 6: [...payload] });

/** A whole message of simple packing, 8 bits a value: the values are what is packed. */
export function plainMessage(values: readonly number[], grid: Uint8Array): Uint8Array {
  return message([
    identification(),
    grid,
    product(),
    simple({ count: values.length, bits: 8 }),
    noBitmap(),
    data(packBits(values, 8)),
  ]);
}
