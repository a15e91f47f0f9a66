/** Elevation tiles made in view: heights in, terrarium PNG out, by the encoding's own documentation. */
import { latDegFromWorldY } from '../../worker/science/web-mercator.ts';
import { pngOf } from './png-builder.ts';

const SIDE = 256;

/** Height of a pixel, m, by column and row from the north-western corner. */
export type HeightOfPixel = (column: number, row: number) => number;

/** The inverse of the decoding: 32,768 m added, then 256s, ones and 256ths. */
export function terrariumOctets(heightM: number): [number, number, number] {
  const raised = heightM + 32_768;
  return [Math.floor(raised / 256), Math.floor(raised) % 256, Math.floor((raised % 1) * 256)];
}

/** With `alpha`, a fourth octet a pixel. */
export function elevationTile(heightOf: HeightOfPixel, alpha?: HeightOfPixel): Uint8Array {
  const octets = alpha === undefined ? 3 : 4;
  const rows = new Uint8Array(SIDE * (1 + SIDE * octets));
  for (let row = 0; row < SIDE; row += 1) {
    for (let column = 0; column < SIDE; column += 1) {
      const at = row * (1 + SIDE * octets) + 1 + column * octets;
      rows.set(terrariumOctets(heightOf(column, row)), at);
      if (alpha !== undefined) rows[at + 3] = alpha(column, row);
    }
  }
  const form = { width: SIDE, height: SIDE, depth: 8, colourType: alpha === undefined ? 2 : 6 };
  return pngOf(form, rows);
}

/** The tile of a world whose height is a function of the place. */
export function worldTile(
  { z, x, y }: { readonly z: number; readonly x: number; readonly y: number },
  heightAt: (latDeg: number, lonDeg: number) => number,
): Uint8Array {
  const side = SIDE * 2 ** z;
  return elevationTile((column, row) => {
    const lonDeg = ((x * SIDE + column + 0.5) / side) * 360 - 180;
    return heightAt(latDegFromWorldY((y * SIDE + row + 0.5) / side), lonDeg);
  });
}
