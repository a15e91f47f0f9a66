/** The wind triangle against drawn and tabulated examples from training books. */
import { groundSpeedMps, windComponents } from '../../worker/flight/wind.ts';
import { testPublished } from '../support/published-values.ts';

interface Example {
  readonly courseDeg: number;
  readonly trueAirspeed: number;
  /** Where the wind comes from. */
  readonly windFromDeg: number;
  readonly windSpeed: number;
}

/** Speeds in the example's own unit; correction positive to the right. */
function solve({ courseDeg, trueAirspeed, windFromDeg, windSpeed }: Example) {
  const fromRad = (windFromDeg * Math.PI) / 180;
  const wind = { eastMps: -windSpeed * Math.sin(fromRad), northMps: -windSpeed * Math.cos(fromRad) };
  const components = windComponents(wind, (courseDeg * Math.PI) / 180);
  return {
    groundSpeed: groundSpeedMps(trueAirspeed, components),
    correctionDeg: (Math.asin(-components.crosswindMps / trueAirspeed) * 180) / Math.PI,
  };
}

testPublished(
  'course 090, 120 kt, wind of 40 kt from 045: 88 kt over the ground',
  { source: "Pilot's Handbook of Aeronautical Knowledge, FAA-H-8083-25, wind triangle", tag: 'L', values: 1 },
  (published) => {
    const found = solve({ courseDeg: 90, trueAirspeed: 120, windFromDeg: 45, windSpeed: 40 });
    published.close(found.groundSpeed, 88, { abs: 0.5, why: 'measured in a drawing to 1 kt' });
  },
);

testPublished(
  'course 094, 165 mph, wind of 34 mph from 154: 146 mph over the ground, nose 10 degrees to the right',
  {
    source: 'Wartime wind computer manual, example 16, transcribed by a national museum',
    tag: 'L',
    values: 2,
  },
  (published) => {
    const found = solve({ courseDeg: 94, trueAirspeed: 165, windFromDeg: 154, windSpeed: 34 });
    published.close(found.groundSpeed, 146, { abs: 1, why: 'wind read from a plotting computer to 1 mph' });
    published.close(found.correctionDeg, 10, { abs: 0.5, why: 'printed to 1 degree' });
  },
);
