/**
 * The pixels of a PNG image as the bits of its rows: grey, true colour, and true colour with alpha, not interlaced.
 *
 * @source  W3C Portable Network Graphics (third edition), clauses 5 (datastream structure), 9 (filtering), 10
 *          (compression), 11.2 (critical chunks).
 */
import { UnsupportedError } from '../errors.ts';
import type { ByteReader } from './byte-reader.ts';
import { crc32 } from './crc32.ts';
import { InflateError, inflateInto } from './inflate.ts';
import { joinBytes } from './join-bytes.ts';
import { unfilterRows } from './png-filters.ts';

export interface PngImage {
  readonly width: number;
  readonly height: number;
  /** Bits of a pixel: 1, 2, 4, 8, 16, 24 or 32. */
  readonly pixelBits: number;
  /** Octets of a row, the last one padded. */
  readonly rowOctets: number;
  /** Rows follow each other, the first first. */
  readonly rows: Uint8Array;
  /** Octets of the file, from its first to the last of IEND. */
  readonly usedOctets: number;
}

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** Length, type and check value of a chunk. */
const CHUNK_OCTETS = 12;
const HEADER_OCTETS = 13;
/** Channels of the colour types that are read, and the bit depths that each may have. */
const COLOUR_TYPES: ReadonlyMap<number, { readonly channels: number; readonly depths: readonly number[] }> =
  new Map([
    [0, { channels: 1, depths: [1, 2, 4, 8, 16] }],
    [2, { channels: 3, depths: [8] }],
    [6, { channels: 4, depths: [8] }],
  ]);

interface Chunk {
  readonly type: string;
  /** Octet of its first octet of data. */
  readonly octet: number;
  readonly data: Uint8Array;
}

/**
 * @param pixels  How many there must be: nothing is allocated for another number.
 * @throws FormatError when a chunk is cut, does not match its check value or stands out of place, or when the image holds
 *   another number of pixels; UnsupportedError for palettes, other depths and interlacing.
 */
export function readPng(file: ByteReader, pixels: number): PngImage {
  checkSignature(file);
  const {
    chunks: [header, ...chunks],
    usedOctets,
  } = readChunks(file);
  if (header?.type !== 'IHDR' || header.data.length !== HEADER_OCTETS) {
    throw file.error(SIGNATURE.length + 1, {
      what: 'first chunk',
      found: `${header?.type ?? 'nothing'} of ${header?.data.length ?? 0} octets`,
      expected: `IHDR of ${HEADER_OCTETS} octets`,
    });
  }
  const { width, height, pixelBits } = readHeader(file, header.octet, pixels);
  const rowOctets = Math.ceil((width * pixelBits) / 8);
  const filtered = new Uint8Array((rowOctets + 1) * height);
  const parts = chunks.filter(({ type }) => type === 'IDAT');
  const at = parts[0]?.octet ?? header.octet;
  try {
    inflateInto(joinBytes(parts.map(({ data }) => data)), filtered);
  } catch (error) {
    if (!(error instanceof InflateError)) throw error;
    const expected = `${filtered.length} bytes in a sound zlib stream`;
    throw file.error(at, { what: 'image data', found: error.message, expected });
  }
  const rows = unfilterRows(filtered, { rowOctets, height, pixelOctets: Math.ceil(pixelBits / 8) });
  if (rows !== undefined) return { width, height, pixelBits, rowOctets, rows, usedOctets };
  throw file.error(at, { what: 'filter type', found: 'above 4', expected: '0 to 4' });
}

function checkSignature(file: ByteReader): void {
  if (SIGNATURE.every((octet, n) => file.bytes[n] === octet)) return;
  const found = `octets ${file.bytes.subarray(0, SIGNATURE.length).join(' ')}`;
  throw file.error(1, { what: 'signature', found, expected: SIGNATURE.join(' ') });
}

/** From the header to IEND. */
function readChunks(file: ByteReader): { chunks: Chunk[]; usedOctets: number } {
  const chunks: Chunk[] = [];
  let octet = SIGNATURE.length + 1;
  for (let type = ''; type !== 'IEND'; ) {
    const length = file.uint32(octet);
    if (octet - 1 + CHUNK_OCTETS + length > file.lengthBytes) {
      const expected = `at most ${file.lengthBytes - octet + 1 - CHUNK_OCTETS}`;
      throw file.error(octet, { what: 'chunk length', found: String(length), expected });
    }
    const named = file.bytes.subarray(octet + 3, octet + 7 + length);
    if (crc32(named) !== file.uint32(octet + 8 + length)) {
      throw file.error(octet + 8 + length, {
        what: 'chunk',
        found: 'another check value',
        expected: 'its own',
      });
    }
    type = String.fromCharCode(...named.subarray(0, 4));
    chunks.push({ type, octet: octet + 8, data: named.subarray(4) });
    octet += CHUNK_OCTETS + length;
  }
  return { chunks, usedOctets: octet - 1 };
}

function readHeader(
  file: ByteReader,
  octet: number,
  pixels: number,
): Pick<PngImage, 'width' | 'height' | 'pixelBits'> {
  const width = file.uint32(octet);
  const height = file.uint32(octet + 4);
  if (width * height !== pixels) {
    const found = `${width} x ${height} pixels`;
    throw file.error(octet, { what: 'image size', found, expected: `${pixels} pixels` });
  }
  const [depth = 0, colourType = 0, compression, filter, interlace] = file.from(octet + 8);
  const kind = COLOUR_TYPES.get(colourType);
  if (kind?.depths.includes(depth) === true && compression === 0 && filter === 0 && interlace === 0) {
    return { width, height, pixelBits: depth * kind.channels };
  }
  throw new UnsupportedError({
    feature: 'PNG image',
    table: 'colour type, bit depth, compression, filter and interlace method of IHDR',
    value: [colourType, depth, compression, filter, interlace].join(' '),
  });
}
