/** The minimum altitude along a leg, from what was entered and from known ground. Unknown stays unknown. */
import { InvalidRequestError } from '../errors.ts';
import { mFromFt, mFromNm } from '../science/units.ts';
import { type GroundHere, type GroundSources, groundHere } from './known-ground.ts';
import { MINIMUM_SOURCES, type MinimumAltitudes, type MinimumSource, type RoutePoints } from './types.ts';

/** A published minimum between two distances along the route; indicated, m. */
export interface EnteredMinimum {
  readonly fromM: number;
  readonly toM: number;
  readonly altitudeM: number;
}

/** An entered minimum less than this above known ground is a slip: 14 CFR 91.177(a) asks for it everywhere. */
const LEAST_ABOVE_GROUND_M = mFromFt(1000);
/** Feet turned into meters leave this much dust, m. */
const DUST_M = 1e-6;
/** Entered ends are written in round miles, m. */
const ENTERED_TOLERANCE_M = mFromNm(0.5);

/**
 * Entered minima hold at the points they cover, but never within 1,000 ft of known ground; elsewhere the highest ground of
 * the point's stretch (half way to its neighbors) with what known-ground.ts adds to it; elsewhere unknown.
 *
 * @throws InvalidRequestError when an entered minimum ends before it starts.
 */
export function minimumAltitudes(
  request: GroundSources & { readonly entered: readonly EnteredMinimum[] },
): MinimumAltitudes {
  const { route, entered } = request;
  entered.forEach(refuseBackward);
  const found = emptyMinima(route.pointCount);
  const applied = entered.map((minimum) => withCoveredPoint(route, minimum));
  for (let point = 0; point < route.pointCount; point += 1) {
    const ground = groundHere(request, point);
    found.terrainM[point] = ground.heightM;
    found.terrainSource[point] = codeOf(ground.source);
    const enteredM = enteredAtM(route, applied, point);
    if (enteredM === undefined) keepGround(found, ground, point);
    else if (enteredM < ground.atLeastM + LEAST_ABOVE_GROUND_M - DUST_M) {
      found.overruledM[point] = enteredM;
      found.overrulingGroundM[point] = ground.atLeastM;
      keepGround(found, ground, point);
    } else {
      found.altitudeM[point] = enteredM;
      found.source[point] = codeOf('entered');
    }
  }
  return { ...found, legSource: legSourceOf(found.source) };
}

function emptyMinima(pointCount: number): Omit<MinimumAltitudes, 'legSource'> {
  const unknown = () => new Float64Array(pointCount).fill(Number.NaN);
  return {
    altitudeM: unknown(),
    source: new Uint8Array(pointCount).fill(codeOf('unknown')),
    terrainM: unknown(),
    terrainSource: new Uint8Array(pointCount).fill(codeOf('unknown')),
    allowanceM: new Float64Array(pointCount),
    overruledM: unknown(),
    overrulingGroundM: unknown(),
  };
}

function keepGround(found: Omit<MinimumAltitudes, 'legSource'>, ground: GroundHere, point: number): void {
  if (ground.source === 'unknown') return;
  found.altitudeM[point] = ground.minimumM;
  found.source[point] = codeOf(ground.source);
  found.allowanceM[point] = ground.allowanceM;
}

function codeOf(source: MinimumSource): number {
  return MINIMUM_SOURCES.indexOf(source);
}

/** Sources are in order of worth. */
function legSourceOf(source: Uint8Array): MinimumAltitudes['legSource'] {
  const poorest = MINIMUM_SOURCES[Math.min(...source)]!;
  const isMixed = poorest === 'unknown' && source.some((code) => code !== codeOf('unknown'));
  return isMixed ? 'partly-unknown' : poorest;
}

function refuseBackward(minimum: EnteredMinimum, index: number): void {
  if (minimum.toM > minimum.fromM) return;
  throw new InvalidRequestError({
    field: `options.minimumAltitudes[${index}].toNm`,
    found: 'an end at or before fromNm',
    expected: 'more than fromNm',
  });
}

interface AppliedMinimum extends EnteredMinimum {
  /** A point that counts as covered although it lies outside: the only one near a short stretch. */
  readonly nearestPoint: number;
}

function withCoveredPoint(route: RoutePoints, minimum: EnteredMinimum): AppliedMinimum {
  const middleM = (minimum.fromM + minimum.toM) / 2;
  let nearestPoint = 0;
  route.distanceM.forEach((distanceM, point) => {
    if (Math.abs(distanceM - middleM) < Math.abs(route.distanceM[nearestPoint]! - middleM))
      nearestPoint = point;
  });
  const isOnRoute = minimum.fromM <= route.distanceM.at(-1)! && minimum.toM >= 0;
  return { ...minimum, nearestPoint: isOnRoute ? nearestPoint : -1 };
}

/** The greatest minimum that touches the point's stretch, if the point itself is covered by one. */
function enteredAtM(
  route: RoutePoints,
  applied: readonly AppliedMinimum[],
  point: number,
): number | undefined {
  const distanceM = route.distanceM[point]!;
  const isCovered = applied.some(
    (minimum) =>
      minimum.nearestPoint === point ||
      (minimum.fromM - ENTERED_TOLERANCE_M <= distanceM && minimum.toM + ENTERED_TOLERANCE_M >= distanceM),
  );
  if (!isCovered) return undefined;
  const fromM = (distanceM + route.distanceM[Math.max(0, point - 1)]!) / 2;
  const toM = (distanceM + route.distanceM[Math.min(route.pointCount - 1, point + 1)]!) / 2;
  const touching = applied.filter(
    (minimum) =>
      minimum.nearestPoint === point ||
      (minimum.fromM <= toM + ENTERED_TOLERANCE_M && minimum.toM >= fromM - ENTERED_TOLERANCE_M),
  );
  return Math.max(...touching.map((minimum) => minimum.altitudeM));
}
