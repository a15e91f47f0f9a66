/** What an altimeter shows in cold air and on a local setting. */
import { expect, test } from 'vitest';
import { trueHeightMFromIndicatedM } from '../../worker/science/hydrostatics.ts';
import {
  indicatedAltitudeM,
  pressureAltitudeMFromIndicatedM,
  pressureAltitudeMFromPressurePa,
} from '../../worker/science/standard-atmosphere.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'flying the table of cold-temperature corrections gives the height that was wanted',
  { source: 'ICAO Doc 8168, corrections for cold (ft), also AIM table 7-3-1', tag: 'M', values: 36 },
  (published) => {
    const heightsFt = [1000, 1500, 2000, 3000, 4000, 5000];
    // degC at an aerodrome at sea level; ft to add at each height above it.
    const rows = [
      [0, 60, 90, 120, 170, 230, 280],
      [-10, 100, 150, 200, 290, 390, 490],
      [-20, 140, 210, 280, 420, 570, 710],
      [-30, 190, 280, 380, 570, 760, 950],
      [-40, 240, 360, 480, 720, 970, 1210],
      [-50, 300, 450, 590, 890, 1190, 1500],
    ] as const;
    for (const [celsius, ...corrections] of rows) {
      corrections.forEach((correctionFt, column) => {
        const wantedFt = heightsFt[column]!;
        const trueM = trueHeightMFromIndicatedM(mFromFt(wantedFt + correctionFt), celsius - 15);
        const neededFt = correctionFt - (ftFromM(trueM) - wantedFt);
        published.close(neededFt, correctionFt, {
          abs: 9,
          why: 'the table rounds up to 10 ft, and leaves out how its own correction cools the column: 2 ft',
        });
      });
    }
  },
);

testPublished(
  'at ISA-20 an indicated 9,000 ft is about 8,360 ft true',
  { source: 'ICAO Doc 7488, standard atmosphere', tag: 'C', values: 1 },
  (published) => {
    published.close(ftFromM(trueHeightMFromIndicatedM(mFromFt(9000), -20)), 8360, {
      abs: 10,
      why: 'stated to 10 ft',
    });
  },
);

test('an altimeter set to 1013.25 hPa shows pressure altitude, and one set to the field pressure shows 0 there', () => {
  expect(indicatedAltitudeM(3000, 101325)).toBeCloseTo(3000, 9);
  const fieldPa = 98000;
  expect(indicatedAltitudeM(pressureAltitudeMFromPressurePa(fieldPa), fieldPa)).toBeCloseTo(0, 9);
  expect(pressureAltitudeMFromIndicatedM(indicatedAltitudeM(2500, 99000), 99000)).toBeCloseTo(2500, 9);
});

test('a low setting makes the same pressure altitude read lower: 10 hPa are about 270 ft (common practice)', () => {
  assertClose(3000 - indicatedAltitudeM(3000, 100325), mFromFt(270), { abs: 3, why: 'rule of thumb' });
});
