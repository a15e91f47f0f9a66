/** Heights out of the colours of elevation tiles, worked out by hand from the encoding's documentation. */
import { terrariumHeightM } from '../../worker/formats/terrarium.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'a height is red times 256, green, and blue in 256ths, less 32,768 m',
  { source: 'Tilezen, terrain tile formats: (red * 256 + green + blue / 256) - 32768', tag: 'C', values: 7 },
  (published) => {
    const rows = [
      [128, 0, 0, 0],
      [128, 1, 128, 1.5],
      [127, 255, 255, -0.00390625],
      // 8,848 + 32,768 = 41,616 = 162 * 256 + 144
      [162, 144, 0, 8848],
      // 1,917 + 32,768 = 34,685 = 135 * 256 + 125
      [135, 125, 64, 1917.25],
      // -430 + 32,768 = 32,338 = 126 * 256 + 82
      [126, 82, 0, -430],
      [0, 0, 0, -32768],
    ] as const;
    for (const [red, green, blue, heightM] of rows) {
      const found = terrariumHeightM(red, green, blue);
      published.close(found, heightM, { abs: 1e-9, why: '256ths are exact in binary' });
    }
  },
);
