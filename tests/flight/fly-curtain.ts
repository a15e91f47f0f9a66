/** One flight of the round-number aeroplane through a small curtain, for tests of what it meets. */

import { makeCellFacts } from '../../worker/flight/cell-facts.ts';
import { exposureAt } from '../../worker/flight/exposure.ts';
import { type FlightPath, makeFlightPath } from '../../worker/flight/flight-path.ts';
import { flyPlanned } from '../../worker/flight/planned.ts';
import type { Aircraft, ChooseInput, Exposure, Planned, RoutePoints } from '../../worker/flight/types.ts';
import { windFromColumns } from '../../worker/flight/wind.ts';
import type { AltitudeAxis } from '../../worker/science/columns.ts';
import { makeEnvelopeWindows } from '../../worker/science/envelope-windows.ts';
import { mFromFt } from '../../worker/science/units.ts';
import {
  type CellAt,
  makeChooseInput,
  makeCurtain,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
} from './make-curtain.ts';

interface Flight {
  readonly cruiseFt?: number;
  readonly axis?: AltitudeAxis;
  readonly lengthNm?: number;
  readonly aircraft?: Aircraft;
  /** Left out: the trip alone. */
  readonly planned?: Planned;
  readonly residualIceM?: number;
  readonly change?: Partial<ChooseInput>;
}

export type Path = Extract<FlightPath, { kind: 'path' }>;

/** At 10,000 ft over 186 NM: climb 10 min, cruise 116 NM at 180 kt (38.667 min), descent 20 min, in still air. */
export function exposure(cellAt: CellAt, flight: Flight = {}): Exposure {
  const route = makeTestRoute(flight.lengthNm);
  return exposureIn(makeCurtain(route.pointCount, cellAt, flight.axis), flight);
}

/** The same flight through columns that a test has changed. */
export function exposureIn(curtain: ReturnType<typeof makeCurtain>, flight: Flight = {}): Exposure {
  const { cruiseFt = 10000, aircraft = ROUND_AIRCRAFT, residualIceM = 0 } = flight;
  const route = makeTestRoute(flight.lengthNm);
  const facts = makeCellFacts(curtain);
  const input = makeChooseInput(() => ({}), {
    route,
    ...curtain,
    aircraft,
    planned: flight.planned ?? NOTHING_PLANNED,
    ...flight.change,
  });
  return exposureAt({
    aircraft,
    path: pathThrough(route, curtain, { cruiseFt, aircraft, residualIceM }),
    ...curtain,
    facts,
    planned: flyPlanned(input, facts),
    windows: makeEnvelopeWindows(route.distanceM),
    residualIceM,
  });
}

/** From the sea to the sea through the air of a curtain. */
function pathThrough(
  route: RoutePoints,
  curtain: ReturnType<typeof makeCurtain>,
  flight: { readonly cruiseFt: number; readonly aircraft: Aircraft; readonly residualIceM: number },
): Path {
  const path = makeFlightPath({
    route,
    aircraft: flight.aircraft,
    windAt: windFromColumns(curtain.weather),
    layout: curtain.icing.axis,
    levels: [{ fromM: 0, pressureAltitudeM: mFromFt(flight.cruiseFt) }],
    departurePressureAltitudeM: 0,
    destinationPressureAltitudeM: 0,
    facts: makeCellFacts(curtain),
    residualIceM: flight.residualIceM,
  });
  if (path.kind !== 'path') throw new Error(path.kind);
  return path;
}
