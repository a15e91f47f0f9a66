/** A PNG of color type 3 read by the standard's clauses 5 and 11, with another inflater and check value than the Worker's. */
import { crc32, inflateSync } from 'node:zlib';
import { PNG_SIGNATURE } from './png-builder.ts';

export interface ReadPicture {
  readonly width: number;
  readonly height: number;
  readonly paletteLength: number;
  /** 0xrrggbb; throws outside the picture. */
  readonly at: (x: number, y: number) => number;
}

/** Throws where anything is not as the standard has it. */
export function readIndexedPng(bytes: Uint8Array): ReadPicture {
  const file = Buffer.from(bytes);
  hold('signature', [...file.subarray(0, 8)].join(), PNG_SIGNATURE.join());
  const chunks = chunksOf(file);
  hold('chunks', chunks.map(({ name }) => name).join(), 'IHDR,PLTE,IDAT,IEND');
  const [header, palette, data] = chunks.map((chunk) => chunk.data);
  const [width, height] = [header!.readUInt32BE(0), header!.readUInt32BE(4)];
  const [depth, ...kind] = header!.subarray(8);
  hold('color type, compression, filter, interlace', kind.join(), '3,0,0,0');
  if (depth !== 4 && depth !== 8) throw new Error(`bit depth: found ${depth}`);
  const paletteLength = palette!.length / 3;
  if (!Number.isInteger(paletteLength) || paletteLength > 2 ** depth)
    throw new Error(`palette: found ${paletteLength}`);
  const lines = inflateSync(data!);
  const rowOctets = 1 + Math.ceil((width * depth) / 8);
  hold('scanlines', String(lines.length), String(rowOctets * height));
  for (let y = 0; y < height; y += 1) hold('filter type', String(lines[y * rowOctets]), '0');
  const at = (x: number, y: number) => {
    if (x < 0 || y < 0 || x >= width || y >= height) throw new Error(`no pixel ${x} ${y}`);
    const octet = lines[y * rowOctets + 1 + Math.floor((x * depth) / 8)]!;
    const index = depth === 8 ? octet : x % 2 === 0 ? octet >>> 4 : octet & 0xf;
    if (index >= paletteLength) throw new Error(`no color ${index}`);
    return palette!.readUIntBE(index * 3, 3);
  };
  return { width, height, paletteLength, at };
}

function chunksOf(file: Buffer): { name: string; data: Buffer }[] {
  const chunks = [];
  for (let at = 8; at < file.length; ) {
    const end = at + 8 + file.readUInt32BE(at);
    const name = file.toString('latin1', at + 4, at + 8);
    hold(`check value of ${name}`, String(file.readUInt32BE(end)), String(crc32(file.subarray(at + 4, end))));
    chunks.push({ name, data: file.subarray(at + 8, end) });
    at = end + 4;
  }
  return chunks;
}

function hold(what: string, found: string, expected: string): void {
  if (found !== expected) throw new Error(`${what}: found ${found}, expected ${expected}`);
}
