/**
 * The marker segments of a JPEG 2000 codestream that say how its one component was coded and quantized.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), table A.2, A.6.1, A.6.2, A.6.4 and A.6.5.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';

export interface Parameters {
  readonly coding: CodingStyle;
  readonly quantization: Quantization;
}

export interface CodingStyle {
  /** 1 precincts of sizes of its own, 2 and 4 marks before and after packet headers. */
  readonly flags: number;
  readonly progression: number;
  readonly layers: number;
  readonly levels: number;
  /** Size of a code block as powers of 2. */
  readonly blockWidthLog2: number;
  readonly blockHeightLog2: number;
  /** Table A.19. */
  readonly blockStyle: number;
  /** The 5-3 transformation of whole numbers, else the 9-7 one. */
  readonly isReversible: boolean;
  /** Of each resolution, as powers of 2: width and height. */
  readonly precincts: readonly (readonly [number, number])[];
}

export interface Quantization {
  /** 0 none: whole numbers are kept. */
  readonly style: number;
  readonly guardBits: number;
  /** Of each subband of a stream that is not quantized. */
  readonly exponents: readonly number[];
}

export const MARKER = {
  ...{ start: 0xff4f, size: 0xff51, coding: 0xff52, componentCoding: 0xff53, quantization: 0xff5c },
  ...{ componentQuantization: 0xff5d, comment: 0xff64, tileLengths: 0xff55, packetLengths: 0xff58 },
  ...{ tilePart: 0xff90, data: 0xff93, end: 0xffd9 },
} as const;
const SKIPPED: readonly number[] = [MARKER.comment, MARKER.tileLengths, MARKER.packetLengths];
const MOST_LEVELS = 32;
const LARGEST_PRECINCT: readonly [number, number] = [15, 15];

/**
 * @param octet   Where a marker segment of the main header or of a tile part begins.
 * @param before  What earlier segments have said.
 * @returns       what holds after it.
 * @throws UnsupportedError for markers that change what is decoded in other ways; FormatError for values out of range.
 */
export function readSegment(
  file: ByteReader,
  octet: number,
  before: Partial<Parameters>,
): Partial<Parameters> {
  const marker = file.uint16(octet);
  if (marker === MARKER.coding) return { ...before, coding: readCoding(file, octet) };
  if (marker === MARKER.componentCoding) {
    return { ...before, coding: readComponentCoding(file, octet, before.coding) };
  }
  if (marker === MARKER.quantization)
    return { ...before, quantization: readQuantization(file, octet, octet + 4) };
  if (marker === MARKER.componentQuantization) {
    return { ...before, quantization: readQuantization(file, octet, octet + 5) };
  }
  if (SKIPPED.includes(marker)) return before;
  throw new UnsupportedError({
    feature: 'JPEG 2000 marker',
    table: 'ISO/IEC 15444-1, table A.2',
    value: `0x${marker.toString(16)}`,
  });
}

/** Length of a marker segment, less than its own octets in no sound one. */
export function lengthAt(file: ByteReader, octet: number): number {
  const length = file.uint16(octet);
  if (length >= 2) return length;
  throw file.error(octet, { what: 'segment length', found: String(length), expected: 'at least 2' });
}

/** A.6.1. */
function readCoding(file: ByteReader, octet: number): CodingStyle {
  const flags = file.uint8(octet + 4);
  const layers = file.uint16(octet + 6);
  if (layers === 0) throw file.error(octet + 6, { what: 'layers', found: '0', expected: 'at least 1' });
  const progression = file.uint8(octet + 5);
  return { flags, progression, layers, ...readTransformation(file, octet + 9, (flags & 1) !== 0) };
}

/** A.6.2: in place of what was said for all components. */
function readComponentCoding(file: ByteReader, octet: number, common: CodingStyle | undefined): CodingStyle {
  if (common === undefined) {
    throw file.error(octet, { what: 'coding style', found: 'of a component', expected: 'one of all before' });
  }
  return { ...common, ...readTransformation(file, octet + 6, (file.uint8(octet + 5) & 1) !== 0) };
}

/** Table A.15. */
function readTransformation(
  file: ByteReader,
  octet: number,
  hasPrecincts: boolean,
): Omit<CodingStyle, 'flags' | 'progression' | 'layers'> {
  const levels = file.uint8(octet);
  const blockWidthLog2 = file.uint8(octet + 1) + 2;
  const blockHeightLog2 = file.uint8(octet + 2) + 2;
  const areBlocksSound =
    Math.max(blockWidthLog2, blockHeightLog2) <= 10 && blockWidthLog2 + blockHeightLog2 <= 12;
  if (!areBlocksSound || levels > MOST_LEVELS || file.uint8(octet + 4) > 1) {
    const found = `${levels} levels, blocks of 2^${blockWidthLog2} x 2^${blockHeightLog2}`;
    throw file.error(octet, { what: 'coding style', found, expected: 'what table A.15 allows' });
  }
  return {
    levels,
    ...{ blockWidthLog2, blockHeightLog2 },
    blockStyle: file.uint8(octet + 3),
    isReversible: file.uint8(octet + 4) === 1,
    precincts: Array.from({ length: levels + 1 }, (_, n) => {
      if (!hasPrecincts) return LARGEST_PRECINCT;
      const size = file.uint8(octet + 5 + n);
      return [size & 0x0f, size >>> 4] as const;
    }),
  };
}

/** A.6.4 and A.6.5, which differ in where the style stands. */
function readQuantization(file: ByteReader, octet: number, styleOctet: number): Quantization {
  const style = file.uint8(styleOctet);
  const isPlain = (style & 0x1f) === 0;
  const count = isPlain ? octet + 2 + lengthAt(file, octet + 2) - styleOctet - 1 : 0;
  return {
    style: style & 0x1f,
    guardBits: style >>> 5,
    exponents: Array.from({ length: Math.max(0, count) }, (_, n) => file.uint8(styleOctet + 1 + n) >>> 3),
  };
}
