/**
 * A PNG image of up to 16 colors, four bits a pixel.
 *
 * @source  W3C Portable Network Graphics (third edition), clauses 5 (datastream structure), 7.2 (scanlines), 11.2.
 */
import { crc32 } from '../../formats/crc32.ts';
import { joinBytes } from '../../formats/join-bytes.ts';
import { zlibDeflate } from '../../store/gzip.ts';

export interface IndexedImage {
  /** Even: two pixels share an octet. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Index into the palette, row by row, the upper left pixel first. */
  readonly pixels: Uint8Array;
  /** Colors as 0xrrggbb, at most 16. */
  readonly palette: readonly number[];
}

const SIGNATURE = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
const BIT_DEPTH = 4;
const INDEXED_COLOR = 3;

export async function indexedPng(image: IndexedImage): Promise<Uint8Array> {
  const { widthPx, heightPx, palette } = image;
  const size = [widthPx, heightPx].flatMap(octetsOf);
  return joinBytes([
    SIGNATURE,
    chunk('IHDR', Uint8Array.from([...size, BIT_DEPTH, INDEXED_COLOR, 0, 0, 0])),
    chunk('PLTE', Uint8Array.from(palette.flatMap((color) => octetsOf(color).slice(1)))),
    chunk('IDAT', await zlibDeflate(scanlines(image))),
    chunk('IEND', new Uint8Array(0)),
  ]);
}

/** Each row behind filter type 0: neighboring indices differ by nothing that a filter could foresee. */
function scanlines({ widthPx, heightPx, pixels }: IndexedImage): Uint8Array {
  const rowOctets = widthPx / 2 + 1;
  const lines = new Uint8Array(rowOctets * heightPx);
  for (let row = 0, pixel = 0; row < heightPx; row += 1) {
    const end = (row + 1) * rowOctets;
    for (let octet = row * rowOctets + 1; octet < end; octet += 1, pixel += 2) {
      lines[octet] = (pixels[pixel]! << BIT_DEPTH) | pixels[pixel + 1]!;
    }
  }
  return lines;
}

/** Length, name, data, and the check value of name and data. */
function chunk(name: string, data: Uint8Array): Uint8Array {
  const named = joinBytes([Uint8Array.from(name, (letter) => letter.charCodeAt(0)), data]);
  return joinBytes([Uint8Array.from(octetsOf(data.length)), named, Uint8Array.from(octetsOf(crc32(named)))]);
}

/** Four octets, the most significant first. */
function octetsOf(value: number): number[] {
  return [value >>> 24, (value >>> 16) & 0xff, (value >>> 8) & 0xff, value & 0xff];
}
