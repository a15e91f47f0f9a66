/** Small sound messages of every packing, to be mutated. */
import {
  bitmap,
  complex,
  concat,
  data,
  f32,
  type Grouped,
  groupPayload,
  identification,
  lambert,
  latLon,
  message,
  noBitmap,
  packBits,
  plainMessage,
  previousBitmap,
  product,
  simple,
  spatial,
} from './grib2-builder.ts';
import { bits, ccsds, ieee, packedMessage, png } from './grib2-packings.ts';
import { filtered, pngOf } from './png-builder.ts';

const GRID = latLon({ nx: 4, ny: 2 });
const FORM: Grouped = {
  ...{ count: 8, bits: 4, groups: 2, widthBits: 3, lengthReference: 4, lastLength: 4, lengthBits: 1 },
};
const GROUPS = groupPayload(
  [
    { reference: 3, width: 2, packed: [0, 1, 3, 2] },
    { reference: 1, width: 5, packed: [30, 0, 17, 31] },
  ],
  FORM,
);
const SIZE = { nx: 4, ny: 2 };
const START = [identification(), GRID, product()];

/** A message a packing and variation, by its name. */
export const HAND_MADE: Readonly<Record<string, Uint8Array>> = {
  simple: plainMessage([1, 2, 3, 4, 5, 6, 7, 8], GRID),
  'simple, Lambert': plainMessage([1, 2, 3, 4, 5, 6, 7, 8], lambert(SIZE)),
  'simple, bitmap and its reuse': message([
    ...[...START, simple({ count: 5, bits: 8 }), bitmap('##.#.##.'), data(packBits([1, 2, 3, 4, 5], 8))],
    ...[product(), simple({ count: 5, bits: 8 }), previousBitmap(), data(packBits([5, 4, 3, 2, 1], 8))],
  ]),
  complex: message([...START, complex({ ...FORM, missing: 1 }), noBitmap(), data(GROUPS)]),
  'first differences': message([
    ...[...START, spatial({ ...FORM, order: 1, octets: 2 }), noBitmap()],
    data(concat([Uint8Array.of(0, 9, 0x80, 5), GROUPS])),
  ]),
  'second differences': message([
    ...[...START, spatial({ ...FORM, missing: 2, order: 2, octets: 2 }), noBitmap()],
    data(concat([Uint8Array.of(0, 9, 0, 12, 0x80, 5), GROUPS])),
  ]),
  IEEE: packedMessage(
    SIZE,
    ieee(8, 1),
    Uint8Array.from([1, 2, 3, 4, 5, 6, 7, -8].flatMap((x) => [...f32(x)])),
  ),
  PNG: packedMessage(
    SIZE,
    png({ count: 8, bits: 16 }),
    pngOf(
      { width: 4, height: 2, depth: 16, colourType: 0 },
      filtered(
        [
          [0, 1, 0, 2, 0, 3, 0, 4],
          [1, 1, 2, 2, 3, 3, 4, 4],
        ],
        4,
        2,
      ),
    ),
  ),
  CCSDS: packedMessage(
    { nx: 16, ny: 2 },
    ccsds({ count: 32, bits: 4 }),
    bits(`001 0101 1 01 001 0001 1 1 001  011 1 01 1 1 1 001 1 1 10 01 00 11 00 00 01 00
      000 1 0111 001 01 1 00000001  000 0 1`),
  ),
};

export function handMadeMessages(): Uint8Array[] {
  return Object.values(HAND_MADE);
}
