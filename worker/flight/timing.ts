/** When the aeroplane is over each route point. */
import { type FlightPath, makeFlightPath, type PathRequest } from './flight-path.ts';
import { secondsOverPoints } from './path-places.ts';
import type { Aircraft, Fix, RoutePoints, WindAt } from './types.ts';

export interface TimingRequest {
  readonly route: RoutePoints;
  readonly departureMs: number;
  readonly aircraft: Aircraft;
  readonly cruisePressureAltitudeM: number;
  readonly windAt: WindAt;
  /** Default: the elevations of the first and last fix, sea level where they have none. */
  readonly departurePressureAltitudeM?: number;
  readonly destinationPressureAltitudeM?: number;
}

export interface Timing {
  /** Epoch ms over each point. */
  readonly etaMs: Float64Array;
  readonly totalS: number;
  /** The altitude the times hold for: lower than asked when the leg is too short to climb to it. */
  readonly cruisePressureAltitudeM: number;
  /** Time flown as in still air because the wind is unknown, s. */
  readonly windUnknownS: number;
  /** The wind leaves too little ground speed somewhere: the times are those of still air. */
  readonly isWindTooStrong: boolean;
}

/** Wind nowhere known: times come out as in still air, and say so. */
export const NO_WIND: WindAt = () => undefined;

const LAYOUT = { lowestM: 0, cellDepthM: 150 };

/** Times over the points with climb, cruise and descent; a short leg, or one above what the aeroplane climbs to, is flown at the highest altitude that can be had. */
export function makeTiming(request: TimingRequest): Timing {
  const { route, departureMs } = request;
  const withWind = timedPath(request, request.windAt);
  const isWindTooStrong = withWind.path.kind === 'wind-too-strong';
  const { path, cruisePressureAltitudeM } = isWindTooStrong ? timedPath(request, NO_WIND) : withWind;
  const offsetsS = path.kind === 'path' ? secondsOverPoints(route, path) : new Float64Array(route.pointCount);
  return {
    etaMs: offsetsS.map((offsetS) => departureMs + Math.round(offsetS * 1000)),
    totalS: path.kind === 'path' ? path.totalS : 0,
    cruisePressureAltitudeM,
    windUnknownS: path.kind === 'path' ? path.windUnknownS : 0,
    isWindTooStrong,
  };
}

function timedPath(
  request: TimingRequest,
  windAt: WindAt,
): { readonly path: FlightPath; readonly cruisePressureAltitudeM: number } {
  const ends = [
    request.departurePressureAltitudeM ?? elevationOrSeaLevelM(request.route.fixes[0]),
    request.destinationPressureAltitudeM ?? elevationOrSeaLevelM(request.route.fixes.at(-1)),
  ];
  const asked: PathRequest = {
    route: request.route,
    aircraft: request.aircraft,
    windAt,
    layout: LAYOUT,
    levels: [{ fromM: 0, pressureAltitudeM: request.cruisePressureAltitudeM }],
    departurePressureAltitudeM: ends[0]!,
    destinationPressureAltitudeM: ends[1]!,
  };
  for (
    let altitudeM = request.cruisePressureAltitudeM;
    altitudeM > Math.max(...ends);
    altitudeM -= LAYOUT.cellDepthM
  ) {
    const path = makeFlightPath({ ...asked, levels: [{ fromM: 0, pressureAltitudeM: altitudeM }] });
    if (path.kind === 'path' || path.kind === 'wind-too-strong')
      return { path, cruisePressureAltitudeM: altitudeM };
  }
  const levelM = Math.max(...ends);
  const level = {
    levels: [{ fromM: 0, pressureAltitudeM: levelM }],
    departurePressureAltitudeM: levelM,
    destinationPressureAltitudeM: levelM,
  };
  return { path: makeFlightPath({ ...asked, ...level }), cruisePressureAltitudeM: levelM };
}

function elevationOrSeaLevelM(fix: Fix | undefined): number {
  return fix !== undefined && Number.isFinite(fix.elevationM) ? fix.elevationM : 0;
}
