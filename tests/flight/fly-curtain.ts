/** One flight of the round-number aeroplane through a small curtain, for tests of the exposure. */

import { exposureAt } from '../../worker/flight/exposure.ts';
import { makeFlightPath } from '../../worker/flight/flight-path.ts';
import type { Exposure } from '../../worker/flight/types.ts';
import { windFromColumns } from '../../worker/flight/wind.ts';
import type { AltitudeAxis } from '../../worker/science/columns.ts';
import { makeEnvelopeWindows } from '../../worker/science/envelope-windows.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { type CellAt, makeCurtain, makeTestRoute, ROUND_AIRCRAFT, TEST_AXIS } from './make-curtain.ts';

interface Flight {
  readonly cruiseFt?: number;
  readonly axis?: AltitudeAxis;
  readonly lengthNm?: number;
}

/** At 10,000 ft over 186 NM: climb 10 min, cruise 116 NM at 180 kt (38.667 min), descent 20 min, in still air. */
export function exposure(cellAt: CellAt, flight: Flight = {}): Exposure {
  const route = makeTestRoute(flight.lengthNm);
  return exposureIn(makeCurtain(route.pointCount, cellAt, flight.axis), flight);
}

/** The same flight through columns that a test has changed. */
export function exposureIn(
  curtain: ReturnType<typeof makeCurtain>,
  { cruiseFt = 10000, axis = TEST_AXIS, lengthNm = 186 }: Flight = {},
): Exposure {
  const route = makeTestRoute(lengthNm);
  const path = makeFlightPath({
    route,
    aircraft: ROUND_AIRCRAFT,
    windAt: windFromColumns(curtain.weather),
    layout: axis,
    cruisePressureAltitudeM: mFromFt(cruiseFt),
    departurePressureAltitudeM: 0,
    destinationPressureAltitudeM: 0,
  });
  if (path.kind !== 'path') throw new Error(path.kind);
  return exposureAt({
    aircraft: ROUND_AIRCRAFT,
    path,
    ...curtain,
    windows: makeEnvelopeWindows(route.distanceM),
  });
}
