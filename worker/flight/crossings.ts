/** Minimum crossing altitudes: whether a path keeps them, and where the climb to one must begin. */
import { mFromFt, mFromNm, nmFromM } from '../science/units.ts';
import { type FlightPath, SLOWEST_CLIMB_MPS } from './flight-path.ts';
import { climbRateMps } from './ice-effects.ts';
import { altitudeAt } from './path-places.ts';
import { rounded } from './rounding.ts';
import type { Aircraft, ChooseInput, FlightReason, MinimumCrossing } from './types.ts';
import { apiFeet, feet, reason, withThousands } from './words.ts';

type Path = Extract<FlightPath, { kind: 'path' }>;

/** Less is conversion dust, m. */
const EQUAL_M = 0.15;
const SLICE_M = mFromFt(500);
const S_PER_MIN = 60;

/** The first crossing that a path is below, as a reason not to fly it; undefined when it keeps all. */
export function brokenCrossing(
  {
    crossings = [],
    indicatedMinusPressureM,
    aircraft,
  }: Pick<ChooseInput, 'crossings' | 'indicatedMinusPressureM' | 'aircraft'>,
  path: Path,
  departureAltitudeM: number,
): FlightReason | undefined {
  const broken = crossings.find((crossing) => {
    const overM = altitudeAt(path.steps, departureAltitudeM, crossing.distanceM) + indicatedMinusPressureM;
    return overM < crossing.altitudeM - EQUAL_M;
  });
  if (broken === undefined) return undefined;
  const overM = altitudeAt(path.steps, departureAltitudeM, broken.distanceM) + indicatedMinusPressureM;
  const climb = climbTo(aircraft, path, broken, { fromM: overM, indicatedMinusPressureM });
  const where = rounded(nmFromM(broken.distanceM), 'distanceNm', 'screen');
  const howWords =
    climb === undefined
      ? 'no climb reaches it'
      : `the climb must start by ${rounded(nmFromM(climb.startM), 'distanceNm', 'screen')} NM`;
  return reason(
    'below-crossing-altitude',
    `${feet(broken.altitudeM)} is the least over ${broken.name} (${where} NM), ${howWords}`,
    {
      minimumFt: apiFeet(broken.altitudeM),
      distanceNm: rounded(nmFromM(broken.distanceM), 'distanceNm', 'api'),
      ...(climb === undefined ? {} : { climbStartNm: rounded(nmFromM(climb.startM), 'distanceNm', 'api') }),
    },
  );
}

/**
 * The last point from which a climb is over in time, with the ice that the path expects by then and the inlet separator on;
 * undefined when the aeroplane does not climb so high or the leg begins too late.
 *
 * @returns startM  along the route, m; rateMps, mean.
 */
export function climbTo(
  aircraft: Aircraft,
  path: Path,
  crossing: MinimumCrossing,
  { fromM, indicatedMinusPressureM }: { readonly fromM: number; readonly indicatedMinusPressureM: number },
): { readonly startM: number; readonly rateMps: number } | undefined {
  const step = path.steps.find(({ toM }) => toM >= crossing.distanceM);
  const state = { builtM: step?.builtM ?? 0, isSeparatorOn: true };
  const headwindMps = step === undefined || Number.isNaN(step.headwindMps) ? 0 : step.headwindMps;
  let durationS = 0;
  for (let lowM = fromM; lowM < crossing.altitudeM - EQUAL_M; lowM += SLICE_M) {
    const highM = Math.min(lowM + SLICE_M, crossing.altitudeM);
    const rateMps = climbRateMps(aircraft, (lowM + highM) / 2 - indicatedMinusPressureM, state);
    if (rateMps < SLOWEST_CLIMB_MPS) return undefined;
    durationS += (highM - lowM) / rateMps;
  }
  const startM = crossing.distanceM - durationS * Math.max(0, aircraft.climbTrueAirspeedMps - headwindMps);
  return startM < 0 ? undefined : { startM, rateMps: (crossing.altitudeM - fromM) / durationS };
}

/** A climb from the departure that is over so far ahead of a crossing needs no word, m. */
const EARLY_M = mFromNm(10);

function isJustReached(path: Path, crossing: MinimumCrossing, indicatedMinusPressureM: number): boolean {
  const reached = path.steps.find(
    ({ endAltitudeM }) => endAltitudeM + indicatedMinusPressureM >= crossing.altitudeM - EQUAL_M,
  );
  return reached === undefined || crossing.distanceM - reached.toM < EARLY_M;
}

/** Where the climb to each crossing begins that a stepped profile, or the climb from the departure, has to make. */
export function crossingReasons(input: ChooseInput, path: Path, departureAltitudeM: number): FlightReason[] {
  const { crossings = [], aircraft, indicatedMinusPressureM } = input;
  return crossings.flatMap((crossing) => {
    const before = path.steps.findLast(
      ({ isLevel, toM, endAltitudeM }) =>
        isLevel &&
        toM <= crossing.distanceM &&
        endAltitudeM + indicatedMinusPressureM < crossing.altitudeM - EQUAL_M,
    );
    if (before === undefined && !isJustReached(path, crossing, indicatedMinusPressureM)) return [];
    const fromM = before === undefined ? departureAltitudeM : before.endAltitudeM;
    const start = { fromM: fromM + indicatedMinusPressureM, indicatedMinusPressureM };
    if (start.fromM >= crossing.altitudeM - EQUAL_M) return [];
    const climb = climbTo(aircraft, path, crossing, start);
    if (climb === undefined) return [];
    const rateFtPerMin = Math.round((climb.rateMps / mFromFt(1)) * S_PER_MIN);
    const startNm = nmFromM(climb.startM);
    return [
      reason(
        'minimum-crossing',
        `Cross ${crossing.name} at ${feet(crossing.altitudeM)} or above: climb from ${feet(start.fromM)} by ${rounded(startNm, 'distanceNm', 'screen')} NM, ${withThousands(rateFtPerMin)} ft/min with ice`,
        {
          minimumFt: apiFeet(crossing.altitudeM),
          distanceNm: rounded(nmFromM(crossing.distanceM), 'distanceNm', 'api'),
          climbStartNm: rounded(startNm, 'distanceNm', 'api'),
          climbFtPerMin: rateFtPerMin,
        },
      ),
    ];
  });
}
