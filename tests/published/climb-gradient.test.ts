/** Where a climb to a minimum crossing altitude must begin, against the rate-of-climb table of the terminal procedures. */
import { describe } from 'vitest';
import { climbTo } from '../../worker/flight/crossings.ts';
import type { FlightPath } from '../../worker/flight/flight-path.ts';
import { mFromFt, mFromNm, mpsFromKt, nmFromM } from '../../worker/science/units.ts';
import { makeAircraft } from '../flight/make-curtain.ts';
import { testPublished } from '../support/published-values.ts';

/** Required rate, ft/min, for a gradient, ft/NM, at a ground speed, kt. */
const RATES = [
  [200, 60, 200],
  [200, 120, 400],
  [250, 120, 500],
  [300, 90, 450],
  [300, 120, 600],
  [400, 90, 600],
] as const;

const STILL: Extract<FlightPath, { kind: 'path' }> = {
  kind: 'path',
  steps: [],
  totalS: 0,
  phaseS: { climb: 0, cruise: 0, descent: 0 },
  fuelKg: 0,
  windUnknownS: 0,
  builtM: 0,
};

describe('the start of a climb to a crossing altitude', () => {
  testPublished(
    'is as far ahead as the gradient of the rate-of-climb table asks for',
    {
      source:
        'FAA terminal procedures publication, rate of climb/descent table (ft/min by ft/NM and ground speed)',
      tag: 'M',
      values: RATES.length,
    },
    (published) => {
      for (const [gradientFtPerNm, groundKt, rateFtPerMin] of RATES) {
        const aircraft = makeAircraft('generic-fluid-turboprop', {
          climbRateMps: { pressureAltitudeM: [0], value: [mFromFt(rateFtPerMin) / 60] },
          climbTrueAirspeedMps: mpsFromKt(groundKt),
          separator: { airspeedLoss: 0, climbRateLoss: 0, fuelFlowGain: 0 },
        });
        const climb = climbTo(
          aircraft,
          STILL,
          { distanceM: mFromNm(60), altitudeM: mFromFt(9000), name: 'RIDGE' },
          { fromM: mFromFt(6000), indicatedMinusPressureM: 0 },
        )!;
        const neededNm = 60 - nmFromM(climb.startM);
        published.close(3000 / neededNm, gradientFtPerNm, {
          rel: 1e-9,
          why: 'the table is exact arithmetic',
        });
      }
    },
  );
});
