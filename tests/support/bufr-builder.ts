/** BUFR messages put together bit by bit, for tests: what stands in each field is written out by the test. */

/** A field of the data: a number in so many bits, or text in octets. */
export type Bits = readonly [value: number, width: number] | string;

export interface BufrParts {
  readonly edition?: 3 | 4;
  readonly masterTable?: number;
  readonly masterVersion?: number;
  readonly category?: number;
  readonly subsetCount?: number;
  readonly isCompressed?: boolean;
  /** As in the manual: `3 09 052`. */
  readonly descriptors: readonly string[];
  readonly data: readonly Bits[];
  /** Content of section 2, which is there when this is. */
  readonly section2?: readonly number[];
  readonly center?: number;
}

/** All bits set: missing. */
export const missing = (width: number): Bits => [2 ** width - 1, width];

/** One message, sections 0 to 5. */
export function bufrMessage(parts: BufrParts): Uint8Array {
  const edition = parts.edition ?? 4;
  const body = [
    ...(edition === 4 ? section1Edition4(parts) : section1Edition3(parts)),
    ...(parts.section2 === undefined ? [] : section([0, ...parts.section2])),
    ...section3(parts),
    ...section([0, ...packedBits(parts.data)], edition === 3),
  ];
  const lengthBytes = 8 + body.length + 4;
  return Uint8Array.from([...octets('BUFR'), ...number(lengthBytes, 3), edition, ...body, ...octets('7777')]);
}

/** Fields one after the other, filled with zeros to whole octets. */
export function packedBits(fields: readonly Bits[]): number[] {
  const bits = fields
    .map((field) =>
      typeof field === 'string'
        ? octets(field)
            .map((octet) => octet.toString(2).padStart(8, '0'))
            .join('')
        : BigInt(field[0]).toString(2).padStart(field[1], '0'),
    )
    .join('');
  const filled = bits.padEnd(Math.ceil(bits.length / 8) * 8, '0');
  return Array.from({ length: filled.length / 8 }, (_, n) =>
    Number.parseInt(filled.slice(8 * n, 8 * n + 8), 2),
  );
}

function section1Edition4(parts: BufrParts): number[] {
  const flags = parts.section2 === undefined ? 0 : 0x80;
  return section([
    parts.masterTable ?? 0,
    ...number(parts.center ?? 98, 2), // originating center
    ...number(0, 2), // sub-center
    0, // update sequence number
    flags,
    parts.category ?? 2,
    4, // international sub-category
    0, // local sub-category
    parts.masterVersion ?? 33,
    0, // local tables
    ...number(2024, 2),
    2,
    26,
    0,
    0,
    0, // year, month, day, hour, minute, second
  ]);
}

function section1Edition3(parts: BufrParts): number[] {
  const flags = parts.section2 === undefined ? 0 : 0x80;
  return section([
    parts.masterTable ?? 0,
    0, // sub-center
    parts.center ?? 98, // originating center
    0, // update sequence number
    flags,
    parts.category ?? 2,
    101, // sub-category
    parts.masterVersion ?? 13,
    0, // local tables
    8,
    12,
    8,
    12,
    0, // year of the century, month, day, hour, minute
    0, // local
  ]);
}

function section3(parts: BufrParts): number[] {
  const flags = 0x80 + (parts.isCompressed === true ? 0x40 : 0);
  const descriptors = parts.descriptors.flatMap((text) => {
    const [f = 0, x = 0, y = 0] = text.split(' ').map(Number);
    return [(f << 6) + x, y];
  });
  return section([0, ...number(parts.subsetCount ?? 1, 2), flags, ...descriptors], parts.edition === 3);
}

/** Length in three octets before the content; edition 3 fills to an even number of octets. */
function section(content: readonly number[], isEven = false): number[] {
  const fill = isEven && content.length % 2 === 0 ? [0] : [];
  return [...number(3 + content.length + fill.length, 3), ...content, ...fill];
}

function number(value: number, count: number): number[] {
  return Array.from({ length: count }, (_, n) => Math.floor(value / 256 ** (count - 1 - n)) % 256);
}

function octets(text: string): number[] {
  return Array.from(text, (character) => character.charCodeAt(0));
}
