/** Magnetic declination from the World Magnetic Model, and courses turned by it. */
import geomagnetism from 'geomagnetism';
import { InvalidRequestError } from '../errors.ts';
import { DEG_PER_RAD, destination, type Position, RAD_PER_DEG } from '../science/great-circle.ts';
import { mFromNm, nmFromM } from '../science/units.ts';

/** First and last instant of the models in the library, epoch ms (2014-12-15T07:00Z, 2029-11-13T03:00Z). */
const MODEL_FROM_MS = 1_418_626_800_000;
const MODEL_TO_MS = 1_889_233_200_000;

export interface MagneticModel {
  /** East positive, degrees; the angle from true to magnetic north. */
  declinationDeg(place: Position): number;
}

/**
 * The model of a date. Outside 2014-12-15 to 2029-11-13 the nearest end's is used: at most places declination changes
 * by about 0.1 degrees a year, so a replay of an old winter is off by a degree or so.
 *
 * @param dateMs  Epoch ms, UTC; the model depends on nothing else.
 */
export function makeMagneticModel(dateMs: number): MagneticModel {
  const insideMs = Math.min(MODEL_TO_MS, Math.max(MODEL_FROM_MS, dateMs));
  const model = geomagnetism.model(new Date(insideMs));
  return {
    declinationDeg: (place) => model.point([place.latDeg, place.lonDeg]).decl,
  };
}

/** The course a magnetic compass shows for a true course, degrees in [0, 360). */
export function magneticCourseDeg(model: MagneticModel, place: Position, trueCourseRad: number): number {
  const degrees = trueCourseRad * DEG_PER_RAD - model.declinationDeg(place);
  const wrapped = degrees - 360 * Math.floor(degrees / 360);
  return wrapped >= 360 ? 0 : wrapped;
}

/** Radials further out than this are refused: bearing errors grow with distance. 999 is what the format can say. */
const LONGEST_BEARING_DISTANCE_M = mFromNm(999);

/** The place on a magnetic bearing and at a distance from another; the bearing is magnetic at that other place. */
export function resolveBearingDistance(
  from: Position,
  bearingMagneticDeg: number,
  distanceM: number,
  model: MagneticModel,
): Position {
  if (!(distanceM >= 0 && distanceM <= LONGEST_BEARING_DISTANCE_M)) {
    throw new InvalidRequestError({
      field: 'route',
      found: `a distance of ${Math.round(nmFromM(distanceM))} NM`,
      expected: 'a bearing and distance of at most 999 NM',
    });
  }
  const trueDeg = bearingMagneticDeg + model.declinationDeg(from);
  return destination(from, trueDeg * RAD_PER_DEG, distanceM);
}
