/** PNG images made in view: chunks, and rows filtered as asked for. */
import { crc32, deflateSync } from 'node:zlib';
import { ascii, concat, u8, u32 } from './grib2-builder.ts';

export interface PngForm {
  readonly width: number;
  readonly height: number;
  readonly depth: number;
  /** 0 grey, 2 true colour, 6 true colour with alpha. */
  readonly colourType: number;
  readonly interlace?: number;
}

export const PNG_SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

export function chunk(type: string, data: Uint8Array): Uint8Array {
  const named = concat([Uint8Array.from(ascii(type)), data]);
  return concat([Uint8Array.from(u32(data.length)), named, Uint8Array.from(u32(crc32(named)))]);
}

export function headerChunk({ width, height, depth, colourType, interlace = 0 }: PngForm): Uint8Array {
  const octets = [...u32(width), ...u32(height), ...u8(depth), ...u8(colourType), 0, 0, interlace];
  return chunk('IHDR', Uint8Array.from(octets));
}

/** Rows that are filtered already, each after its filter type, in as many data chunks as asked for. */
export function pngOf(form: PngForm, filteredRows: Uint8Array, parts = 1): Uint8Array {
  const stream = Uint8Array.from(deflateSync(filteredRows));
  const step = Math.ceil(stream.length / parts);
  const chunks = Array.from({ length: parts }, (_, n) =>
    chunk('IDAT', stream.subarray(n * step, (n + 1) * step)),
  );
  const end = chunk('IEND', new Uint8Array(0));
  return concat([Uint8Array.from(PNG_SIGNATURE), headerChunk(form), ...chunks, end]);
}

/** Filters rows forward: the difference to what clause 9.2 of the standard predicts from the left, above and the corner. */
export function filtered(
  rows: readonly (readonly number[])[],
  type: number,
  pixelOctets: number,
): Uint8Array {
  const lines = rows.map((row, y) =>
    row.map((octet, x) => {
      const a = row[x - pixelOctets] ?? 0;
      const b = rows[y - 1]?.[x] ?? 0;
      const c = rows[y - 1]?.[x - pixelOctets] ?? 0;
      return (octet - [0, a, b, Math.floor((a + b) / 2), paeth(a, b, c)][type]!) & 0xff;
    }),
  );
  return Uint8Array.from(lines.flatMap((line) => [type, ...line]));
}

/** Clause 9.4. */
function paeth(a: number, b: number, c: number): number {
  const p = a + b - c;
  const [pa, pb, pc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)];
  if (pa <= pb && pa <= pc) return a;
  return pb <= pc ? b : c;
}
