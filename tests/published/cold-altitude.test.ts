/** What to add to a minimum altitude in the cold, for an aerodrome at sea level. */
import { coldCorrectionM } from '../../worker/flight/cold-altitude.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';

/** Height above the altimeter's source, ft. */
const HEIGHTS_FT = [200, 300, 400, 500, 600, 700, 800, 900, 1000, 1500, 2000, 3000, 4000, 5000] as const;
/** Feet to add, by temperature of the source, degC. */
const TABLE: readonly (readonly [number, readonly number[]])[] = [
  [10, [10, 10, 10, 10, 20, 20, 20, 20, 20, 30, 40, 60, 80, 90]],
  [0, [20, 20, 30, 30, 40, 40, 50, 50, 60, 90, 120, 170, 230, 280]],
  [-10, [20, 30, 40, 50, 60, 70, 80, 90, 100, 150, 200, 290, 390, 490]],
  [-20, [30, 50, 60, 70, 90, 100, 120, 130, 140, 210, 280, 420, 570, 710]],
  [-30, [40, 60, 80, 100, 120, 140, 150, 170, 190, 280, 380, 570, 760, 950]],
  [-40, [50, 80, 100, 120, 150, 170, 190, 220, 240, 360, 480, 720, 970, 1210]],
  [-50, [60, 90, 120, 150, 180, 210, 240, 270, 300, 450, 590, 890, 1190, 1500]],
];

/** Tables are rounded up to 10 ft. */
const addedFt = (heightFt: number, temperatureC: number) =>
  10 * Math.ceil(ftFromM(coldCorrectionM(mFromFt(heightFt), 0, temperatureC)) / 10);

testPublished(
  'cold-temperature altitude corrections',
  { source: 'ICAO Doc 8168, table of temperature corrections, also in the FAA AIM', tag: 'M', values: 98 },
  (published) => {
    for (const [temperatureC, row] of TABLE) {
      HEIGHTS_FT.forEach((heightFt, column) => {
        published.same(addedFt(heightFt, temperatureC), row[column], `${heightFt} ft at ${temperatureC} °C`);
      });
    }
  },
);

testPublished(
  'cold-temperature altitude corrections',
  {
    source: 'Worked example quoting ICAO Doc 8168: at -40 °C, 2,000 ft indicated are 1,520 ft',
    tag: 'L',
    values: 1,
  },
  (published) => {
    published.same(2000 - addedFt(2000, -40), 1520, 'true height, ft');
  },
);

/** 4 per cent for every 10 degrees below standard is safe for all elevations down to -15 degC: never less than the formula. */
testPublished(
  'the approximate rule of 4 per cent a 10 °C',
  { source: 'ICAO Doc 8168 as quoted: safe at temperatures above -15 °C', tag: 'L', values: 12 },
  (published) => {
    for (const elevationFt of [0, 2000, 5000]) {
      for (const temperatureC of [5, 0, -10, -14]) {
        const belowStandardC = 15 - 0.0019812 * elevationFt - temperatureC;
        const roughFt = 0.004 * belowStandardC * 3000;
        const exactFt = ftFromM(coldCorrectionM(mFromFt(3000), mFromFt(elevationFt), temperatureC));
        published.same(
          roughFt >= 0.98 * exactFt,
          true,
          `${elevationFt} ft, ${temperatureC} °C: ${roughFt}, ${exactFt}`,
        );
      }
    }
  },
);
