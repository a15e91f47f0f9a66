/** One candidate altitude: can it be flown at all, and if so what does the flight meet. */
import { CELL_STATE, type IcingColumns } from '../science/columns.ts';
import type { EnvelopeWindows } from '../science/envelope-windows.ts';
import { nmFromM } from '../science/units.ts';
import { cellAt, cellLowerEdgeM } from './cells.ts';
import { exposureAt } from './exposure.ts';
import { type FlightPath, makeFlightPath } from './flight-path.ts';
import { fluidNeed } from './fluid.ts';
import { rounded } from './rounding.ts';
import type {
  ChooseInput,
  Direction,
  Exposure,
  Fix,
  FlightReason,
  FluidNeed,
  Standing,
  Verdict,
  WindAt,
} from './types.ts';
import { verdictOf } from './verdict-rules.ts';
import { apiFeet, feet, reason } from './words.ts';

type Path = Extract<FlightPath, { kind: 'path' }>;

interface Altitude {
  /** Indicated, m. */
  readonly indicatedAltitudeM: number;
  readonly pressureAltitudeM: number;
  readonly direction: Direction;
}

export interface FlownCandidate extends Altitude {
  readonly kind: 'flown';
  readonly path: Path;
  readonly exposure: Exposure;
  readonly fluid: FluidNeed | undefined;
  readonly verdict: Verdict;
  readonly verdictReasons: readonly FlightReason[];
}

/** An altitude that cannot be flown, or whose flight cannot be worked out. */
export interface RefusedCandidate extends Altitude {
  readonly kind: 'refused';
  readonly standing: Exclude<Standing, 'recommended' | 'acceptable' | 'outside-limits'>;
  readonly reason: FlightReason;
}

export type TriedCandidate = FlownCandidate | RefusedCandidate;

/** Differences smaller than this are conversion dust, m. */
const EQUAL_M = 0.15;
/** An altitude is worth climbing to when at least this part of the time is spent there. */
const LEAST_CRUISE_PART = 0.1;

export function tryCandidate(
  input: ChooseInput,
  indicatedAltitudeM: number,
  given: { readonly direction: Direction; readonly windAt: WindAt; readonly windows: EnvelopeWindows },
): TriedCandidate {
  const pressureAltitudeM = indicatedAltitudeM - input.indicatedMinusPressureM;
  const altitude: Altitude = { indicatedAltitudeM, pressureAltitudeM, direction: given.direction };
  const barred = aboveCeiling(input, altitude) ?? belowMinimum(input, altitude);
  if (barred !== undefined) return { kind: 'refused', ...altitude, ...barred };
  const path = makeFlightPath({
    route: input.route,
    aircraft: input.aircraft,
    windAt: given.windAt,
    layout: input.icing.axis,
    cruisePressureAltitudeM: pressureAltitudeM,
    departurePressureAltitudeM: fieldPressureAltitudeM(input, input.route.fixes[0]!, 0),
    destinationPressureAltitudeM: fieldPressureAltitudeM(
      input,
      input.route.fixes.at(-1)!,
      input.route.pointCount - 1,
    ),
  });
  const unflyable = unflyablePath(path, altitude) ?? throughGround(input, path, altitude);
  if (unflyable !== undefined) return { kind: 'refused', ...altitude, ...unflyable };
  return flown(input, altitude, { path: path as Path, windows: given.windows });
}

function flown(
  input: ChooseInput,
  altitude: Altitude,
  { path, windows }: { readonly path: Path; readonly windows: EnvelopeWindows },
): FlownCandidate {
  const { aircraft, weather, icing, drawn } = input;
  const exposure = exposureAt({ aircraft, path, weather, icing, drawn, windows });
  const fluid = fluidNeed(aircraft, exposure, input.fluidOnBoardM3);
  const { code, reasons } = verdictOf({ exposure, aircraft, fluid });
  return { kind: 'flown', ...altitude, path, exposure, fluid, verdict: code, verdictReasons: reasons };
}

type Refusal = Pick<RefusedCandidate, 'standing' | 'reason'>;

function aboveCeiling({ aircraft }: ChooseInput, altitude: Altitude): Refusal | undefined {
  if (altitude.pressureAltitudeM <= aircraft.ceilingM + EQUAL_M) return undefined;
  return {
    standing: 'above-ceiling',
    reason: reason('above-ceiling', `Above the ceiling, pressure altitude ${feet(aircraft.ceilingM)}`, {
      ceilingFt: apiFeet(aircraft.ceilingM),
    }),
  };
}

function belowMinimum(input: ChooseInput, altitude: Altitude): Refusal | undefined {
  const { altitudeM } = input.minimum;
  let highest = -1;
  altitudeM.forEach((minimumM, point) => {
    if (highest < 0 ? !Number.isNaN(minimumM) : minimumM > altitudeM[highest]!) highest = point;
  });
  const fieldM = Math.max(
    ...[input.route.fixes[0]!, input.route.fixes.at(-1)!].map((fix) =>
      Number.isFinite(fix.elevationM) ? fix.elevationM : Number.NEGATIVE_INFINITY,
    ),
  );
  if (highest >= 0 && altitude.indicatedAltitudeM < altitudeM[highest]! - EQUAL_M) {
    const distanceNm = nmFromM(input.route.distanceM[highest]!);
    return {
      standing: 'below-minimum-altitude',
      reason: reason(
        'below-minimum-altitude',
        `Below the minimum altitude of ${feet(altitudeM[highest]!)} at ${rounded(distanceNm, 'distanceNm', 'screen')} NM`,
        {
          minimumFt: apiFeet(altitudeM[highest]!),
          distanceNm: rounded(distanceNm, 'distanceNm', 'api'),
        },
      ),
    };
  }
  if (altitude.indicatedAltitudeM > fieldM + EQUAL_M) return undefined;
  return {
    standing: 'below-minimum-altitude',
    reason: reason('below-aerodrome', `Not above the aerodrome at ${feet(fieldM)}`, {
      elevationFt: apiFeet(fieldM),
    }),
  };
}

function unflyablePath(path: FlightPath, altitude: Altitude): Refusal | undefined {
  const isShort =
    path.kind === 'leg-too-short' ||
    (path.kind === 'path' && path.phaseS.cruise < LEAST_CRUISE_PART * path.totalS);
  if (isShort) {
    return {
      standing: 'leg-too-short',
      reason: reason('leg-too-short', 'The leg is too short to climb there and come down again', {
        altitudeFt: apiFeet(altitude.indicatedAltitudeM),
      }),
    };
  }
  if (path.kind === 'path') return undefined;
  const distanceNm = nmFromM(path.distanceM);
  return {
    standing: 'unknown',
    reason: reason(
      'wind-too-strong',
      `The wind leaves almost no ground speed at ${rounded(distanceNm, 'distanceNm', 'screen')} NM`,
      { distanceNm: rounded(distanceNm, 'distanceNm', 'api') },
    ),
  };
}

/** A cruise through cells that the columns put below the ground. */
function throughGround(
  { icing, route }: ChooseInput,
  path: FlightPath,
  altitude: Altitude,
): Refusal | undefined {
  const cell = cellAt(icing.axis, altitude.pressureAltitudeM);
  if (path.kind !== 'path' || cell === undefined) return undefined;
  const step = path.steps.find(
    ({ phase, pointIndex }) => phase === 'cruise' && isGround(icing, pointIndex, cell),
  );
  if (step === undefined) return undefined;
  const distanceNm = nmFromM(route.distanceM[step.pointIndex]!);
  return {
    standing: 'below-minimum-altitude',
    reason: reason(
      'below-ground',
      `The ground is higher at ${rounded(distanceNm, 'distanceNm', 'screen')} NM`,
      {
        distanceNm: rounded(distanceNm, 'distanceNm', 'api'),
      },
    ),
  };
}

function isGround(icing: IcingColumns, point: number, cell: number): boolean {
  return icing.state[point * icing.axis.cellCount + cell] === CELL_STATE.belowGround;
}

/** Where the climb starts or the descent ends: the elevation, else the lowest air of the column, sea level at least. */
function fieldPressureAltitudeM(input: ChooseInput, fix: Fix, point: number): number {
  const seaLevelM = -input.indicatedMinusPressureM;
  if (Number.isFinite(fix.elevationM)) return fix.elevationM + seaLevelM;
  const { icing } = input;
  let cell = 0;
  while (cell < icing.axis.cellCount - 1 && isGround(icing, point, cell)) cell += 1;
  return Math.max(seaLevelM, cellLowerEdgeM(icing.axis, cell));
}
