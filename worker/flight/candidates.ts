/** Which altitudes are weighed against each other, and which of them suit the direction of flight. */
import type { AltitudeAxis } from '../science/columns.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import { type MagneticModel, magneticCourseDeg } from './magnetic.ts';
import type { Aircraft, Direction, RoutePoints } from './types.ts';

const STEP_FT = 1000;
/** The lowest candidate is at least this far above the higher aerodrome, and never under LOWEST_FT. */
const ABOVE_AERODROME_FT = 1500;
const LOWEST_FT = 2000;
export const DIRECTION_RULES = ['14 CFR 91.179(b)', 'ICAO Annex 2, Appendix 3'] as const;
export type DirectionRule = (typeof DIRECTION_RULES)[number];

/**
 * From here on the rule is not judged: of 14 CFR 91.179 because it depends on reduced vertical separation, of ICAO, whose table
 * for reduced separation is meant, where that ends.
 */
const RULE_TOP_FT: Readonly<Record<DirectionRule, number>> = {
  '14 CFR 91.179(b)': 29000,
  'ICAO Annex 2, Appendix 3': 42000,
};

/**
 * Altitudes to weigh, indicated m, ascending: those asked for, else every 1,000 ft from the first one useful to the
 * ceiling or the top of the columns.
 */
export function candidateAltitudesM(request: {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly axis: Pick<AltitudeAxis, 'lowestM' | 'cellDepthM' | 'cellCount'>;
  readonly indicatedMinusPressureM: number;
  readonly askedAltitudesM?: readonly number[] | undefined;
}): number[] {
  if (request.askedAltitudesM !== undefined) {
    const byFt = new Map(
      request.askedAltitudesM.map((altitudeM) => [Math.round(ftFromM(altitudeM)), altitudeM]),
    );
    return [...byFt.values()].sort((a, b) => a - b);
  }
  const { fixes } = request.route;
  const elevationsFt = [fixes[0]!, fixes.at(-1)!]
    .map((fix) => ftFromM(fix.elevationM))
    .filter(Number.isFinite);
  const usefulFt = Math.max(
    LOWEST_FT,
    ...elevationsFt.map((elevationFt) => elevationFt + ABOVE_AERODROME_FT),
  );
  const axisTopM = request.axis.lowestM + request.axis.cellCount * request.axis.cellDepthM;
  const highestFt = ftFromM(Math.min(request.aircraft.ceilingM, axisTopM) + request.indicatedMinusPressureM);
  const altitudesM: number[] = [];
  for (let step = Math.ceil(usefulFt / STEP_FT); step * STEP_FT <= highestFt + 1e-6; step += 1) {
    altitudesM.push(mFromFt(step * STEP_FT));
  }
  return altitudesM;
}

/**
 * Whether an altitude suits a magnetic course: odd thousands on 0-179, even thousands on 180-359, as flight levels
 * from 18,000 ft. Where a rule is not judged nothing suits.
 * @source 14 CFR 91.179(b); ICAO Annex 2, Appendix 3, table for flights under instrument rules in feet (from memory). In
 *         controlled airspace altitudes are assigned, so the others are to be asked for.
 */
export function suitsDirection(
  magneticDeg: number,
  indicatedAltitudeFt: number,
  rule: DirectionRule = DIRECTION_RULES[0],
): boolean {
  const thousands = Math.round(indicatedAltitudeFt / STEP_FT);
  const isWhole = Math.abs(indicatedAltitudeFt - thousands * STEP_FT) < 0.5;
  if (!isWhole || indicatedAltitudeFt > RULE_TOP_FT[rule] - 0.5) return false;
  const isOdd = thousands % 2 !== 0;
  return isOdd === magneticDeg < 180;
}

/** Magnetic course at the start of each leg between fixes, degrees in [0, 360). */
export function legMagneticCoursesDeg(route: RoutePoints, model: MagneticModel): number[] {
  const courses: number[] = [];
  for (let point = 0; point + 1 < route.pointCount; point += 1) {
    if (route.fixIndex[point]! < 0) continue;
    const place = { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! };
    courses.push(magneticCourseDeg(model, place, route.courseRad[point]!));
  }
  return courses;
}

/** Right-way only when it suits every leg. */
export function directionOf(
  legCoursesDeg: readonly number[],
  indicatedAltitudeM: number,
  rule: DirectionRule = DIRECTION_RULES[0],
): Direction {
  const altitudeFt = ftFromM(indicatedAltitudeM);
  const suits = legCoursesDeg.every((courseDeg) => suitsDirection(courseDeg, altitudeFt, rule));
  return suits ? 'right-way' : 'ask';
}
