/**
 * Elevation tiles in the terrarium encoding: a PNG of 256 x 256 pixels whose colours are a height. A tile is reduced to
 * the highest and lowest ground of its 16 x 16 blocks at once: nothing else of it is kept.
 *
 * @source  Tilezen, documentation of terrain tiles, "Terrarium": (red * 256 + green + blue / 256) - 32768, metres.
 * @checked tests/published/terrarium.test.ts
 */
import { FormatError, UnsupportedError } from '../errors.ts';
import { TILE_PIXELS } from '../science/web-mercator.ts';
import { ByteReader } from './byte-reader.ts';
import { type PngImage, readPng } from './png.ts';

/** Blocks along the side of a tile. */
export const TILE_BLOCKS = 16;
export const BLOCKS_PER_TILE = TILE_BLOCKS * TILE_BLOCKS;
/** Stands where a block has a pixel without a height: the whole block is unknown. */
export const NO_HEIGHT_M = -32768;

/** Row by row, the northernmost row first, west to east in a row. */
export interface TerrainBlocks {
  /** Highest pixel, rounded up, m; NO_HEIGHT_M where unknown. */
  readonly highestM: Int16Array;
  /** Lowest pixel, rounded down, m; NO_HEIGHT_M where unknown. */
  readonly lowestM: Int16Array;
}

/** No ground and no sea floor lies outside: such a pixel has no height. */
const LOWEST_M = -12_000;
const HIGHEST_M = 9_000;
const OPAQUE = 255;
const BITS_PER_OCTET = 8;

/** @returns m above sea level. */
export function terrariumHeightM(red: number, green: number, blue: number): number {
  return red * 256 + green + blue / 256 - 32_768;
}

/**
 * @throws FormatError for a damaged PNG or one of another size; UnsupportedError for grey ones, palettes and interlacing.
 */
export function readTerrariumTile(bytes: Uint8Array): TerrainBlocks {
  const file = new ByteReader(bytes, { format: 'PNG', name: 'elevation tile', offsetBytes: 0 });
  const image = readPng(file, TILE_PIXELS * TILE_PIXELS);
  checkShape(image);
  const highestM = new Int16Array(BLOCKS_PER_TILE);
  const lowestM = new Int16Array(BLOCKS_PER_TILE);
  for (let block = 0; block < BLOCKS_PER_TILE; block += 1) {
    const { highest, lowest } = extremesOf(image, block);
    const isKnown = lowest >= LOWEST_M && highest <= HIGHEST_M;
    highestM[block] = isKnown ? Math.ceil(highest) : NO_HEIGHT_M;
    lowestM[block] = isKnown ? Math.floor(lowest) : NO_HEIGHT_M;
  }
  return { highestM, lowestM };
}

function checkShape({ width, height, pixelBits }: PngImage): void {
  if (width !== TILE_PIXELS) {
    throw new FormatError({
      format: 'PNG',
      place: { unit: 'byte', offsetBytes: 16 },
      what: 'elevation tile image size',
      found: `${width} x ${height} pixels`,
      expected: `${TILE_PIXELS} x ${TILE_PIXELS}`,
    });
  }
  if (pixelBits === 24 || pixelBits === 32) return;
  const table = 'true colour, 24, or with alpha, 32';
  throw new UnsupportedError({ feature: 'elevation tile of bits a pixel', table, value: String(pixelBits) });
}

/** A pixel that is not opaque makes the lowest minus infinity: no height. */
function extremesOf(
  { rows, rowOctets, pixelBits }: PngImage,
  block: number,
): { highest: number; lowest: number } {
  const side = TILE_PIXELS / TILE_BLOCKS;
  const octets = pixelBits / BITS_PER_OCTET;
  const firstRow = side * Math.floor(block / TILE_BLOCKS);
  const firstOctet = side * octets * (block % TILE_BLOCKS);
  let highest = Number.NEGATIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  for (let row = firstRow; row < firstRow + side; row += 1) {
    const start = row * rowOctets + firstOctet;
    for (let at = start; at < start + side * octets; at += octets) {
      if (octets === 4 && rows[at + 3] !== OPAQUE) return { highest, lowest: Number.NEGATIVE_INFINITY };
      const heightM = terrariumHeightM(rows[at]!, rows[at + 1]!, rows[at + 2]!);
      if (heightM > highest) highest = heightM;
      if (heightM < lowest) lowest = heightM;
    }
  }
  return { highest, lowest };
}
