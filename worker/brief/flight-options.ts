/** Options of a request that belong to a place of the route or to its end, turned into what the choice takes. */
import { InvalidRequestError } from '../errors.ts';
import { defaultPlanned } from '../flight/planned.ts';
import type { MinimumCrossing, Planned, RoutePoints } from '../flight/types.ts';
import { ftFromM, mFromFt, mFromNm, nmFromM } from '../science/units.ts';
import type { SettledOptions } from './settings.ts';

const S_PER_MIN = 60;

/**
 * What is planned for beyond the trip: as asked, else the defaults for the destination.
 *
 * @throws InvalidRequestError for an altitude under the destination or over the ceiling.
 */
export function plannedOf(
  { planned }: Pick<SettledOptions, 'planned'>,
  route: RoutePoints,
  ceilingM: number,
): Planned {
  for (const name of ['approachAltitudeFt', 'holdAltitudeFt'] as const) {
    refuseNowhere(`options.planned.${name}`, planned[name], route.fixes.at(-1)!.elevationM, ceilingM);
  }
  const usual = defaultPlanned(route.fixes.at(-1)!.elevationM);
  const seconds = (minutes: number | undefined, otherwiseS: number) =>
    minutes === undefined ? otherwiseS : minutes * S_PER_MIN;
  const meters = (feet: number | undefined, otherwiseM: number) =>
    feet === undefined ? otherwiseM : mFromFt(feet);
  return {
    earlyDescentS: seconds(planned.earlyDescentMinutes, usual.earlyDescentS),
    vectorsS: seconds(planned.vectorsMinutes, usual.vectorsS),
    approachS: seconds(planned.approachMinutes, usual.approachS),
    holdS: seconds(planned.holdMinutes, usual.holdS),
    approachAltitudeM: meters(planned.approachAltitudeFt, usual.approachAltitudeM),
    holdAltitudeM: meters(planned.holdAltitudeFt, usual.holdAltitudeM),
  };
}

function refuseNowhere(field: string, askedFt: number | undefined, fieldM: number, ceilingM: number): void {
  if (askedFt === undefined) return;
  const lowestFt = Math.ceil(ftFromM(Number.isFinite(fieldM) ? fieldM : 0));
  const highestFt = Math.floor(ftFromM(ceilingM));
  if (askedFt > lowestFt && askedFt <= highestFt) return;
  const expected = `an altitude over the destination at ${lowestFt} and up to the ceiling at ${highestFt}`;
  throw new InvalidRequestError({ field, found: `${askedFt}`, expected });
}

/**
 * Minimum crossing altitudes with their places along the route.
 *
 * @throws InvalidRequestError for a fix that is not of the route, or a distance beyond its end.
 */
export function crossingsOf(
  { minimumCrossings }: Pick<SettledOptions, 'minimumCrossings'>,
  route: RoutePoints,
): MinimumCrossing[] {
  const lengthM = route.distanceM.at(-1)!;
  return minimumCrossings.map(({ atNm, fix, altitudeFt }, index) => {
    const field = `options.minimumCrossings[${index}]`;
    if (fix === undefined) {
      const distanceM = mFromNm(atNm!);
      if (distanceM <= lengthM) return { distanceM, altitudeM: mFromFt(altitudeFt), name: `${atNm} NM` };
      const expected = `at most the length of the route (${Math.floor(nmFromM(lengthM))})`;
      throw new InvalidRequestError({ field: `${field}.atNm`, found: `${atNm}`, expected });
    }
    const number = route.fixes.findIndex(({ name }) => name === fix);
    const point = number < 0 ? -1 : route.fixIndex.indexOf(number);
    if (point >= 0) return { distanceM: route.distanceM[point]!, altitudeM: mFromFt(altitudeFt), name: fix };
    const expected = `a fix of the route: ${route.fixes.map(({ name }) => name).join(', ')}`;
    throw new InvalidRequestError({ field: `${field}.fix`, found: JSON.stringify(fix), expected });
  });
}
