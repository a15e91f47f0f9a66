/** The filing advice as short sentences. */
import type { BriefMember, CurtainAnswer, RoutePoint, WayOut } from '../contract.ts';
import { isColumnKnown, nearestPointIndex } from '../curtain.ts';
import { feetText } from '../numbers.ts';
import { WAY_WORDS } from '../words.ts';

type Advice = NonNullable<BriefMember['file']>;

export interface RefusedRange {
  readonly lowerFt: number;
  readonly upperFt: number;
  readonly reason: string;
}

/**
 * Neighboring refused altitudes with one reason are said once, unless what may be accepted lies between them. Order of the
 * altitudes: highest first.
 */
export function refusedRanges({ refuse, acceptFt }: Pick<Advice, 'refuse' | 'acceptFt'>): RefusedRange[] {
  const ranges: RefusedRange[] = [];
  for (const { altitudeFt, reason } of [...refuse].sort((a, b) => b.altitudeFt - a.altitudeFt)) {
    const last = ranges.at(-1);
    const isBetween = last !== undefined && altitudeFt < acceptFt.lowerFt && acceptFt.upperFt < last.lowerFt;
    if (last !== undefined && last.reason === reason && !isBetween) {
      ranges[ranges.length - 1] = { ...last, lowerFt: altitudeFt };
    } else {
      ranges.push({ lowerFt: altitudeFt, upperFt: altitudeFt, reason });
    }
  }
  return ranges;
}

/** "9,000" or "9,000 to 11,000". */
export function rangeText({
  lowerFt,
  upperFt,
}: {
  readonly lowerFt: number;
  readonly upperFt: number;
}): string {
  return lowerFt === upperFt ? feetText(lowerFt) : `${feetText(lowerFt)} to ${feetText(upperFt)}`;
}

export interface WayStretch {
  readonly fromNm: number;
  readonly toNm: number;
  readonly way: WayOut['way'];
  /** The farthest that any of its points needs; no two of them differ by more than a step. */
  readonly toAltitudeFt: number | null;
  readonly aerodrome: string | null;
  /** The longest of its points, and the most ice gathered until out. */
  readonly minutes: number | null;
  readonly builtMm: number | null;
}

/** One way up or down is told for points whose own differ by so much at most, ft. */
const TARGETS_WITHIN_FT = 500;

/** Points with the same way out, joined; each point stands for the stretch to half-way to its neighbors. */
export function wayStretches(ways: readonly WayOut[]): WayStretch[] {
  const stretches: WayStretch[] = [];
  let nearestFt: number | null = null;
  for (const [index, point] of ways.entries()) {
    const { distanceNm, way, toAltitudeFt, aerodrome, minutes, builtMm } = point;
    const nextNm = ways[index + 1]?.distanceNm ?? distanceNm;
    const toNm = (distanceNm + nextNm) / 2;
    const last = stretches.at(-1);
    const isSame = last?.way === way && last.aerodrome === aerodrome;
    if (last !== undefined && isSame && isWithin(nearestFt, last.toAltitudeFt, toAltitudeFt)) {
      nearestFt = nearerFt(way, nearestFt, toAltitudeFt);
      stretches[stretches.length - 1] = {
        ...last,
        toNm,
        toAltitudeFt: fartherFt(way, last.toAltitudeFt, toAltitudeFt),
        minutes: most(last.minutes, minutes),
        builtMm: most(last.builtMm, builtMm),
      };
    } else {
      const fromNm = last?.toNm ?? distanceNm;
      nearestFt = toAltitudeFt;
      stretches.push({ fromNm, toNm, way, toAltitudeFt, aerodrome, minutes, builtMm });
    }
  }
  return stretches;
}

/** Of a stretch the nearest and the farthest target so far, and one more. */
function isWithin(nearestFt: number | null, farthestFt: number | null, ft: number | null): boolean {
  if (nearestFt === null || farthestFt === null || ft === null) return nearestFt === ft;
  return Math.max(nearestFt, farthestFt, ft) - Math.min(nearestFt, farthestFt, ft) <= TARGETS_WITHIN_FT;
}

function nearerFt(way: WayOut['way'], a: number | null, b: number | null): number | null {
  if (a === null || b === null) return a ?? b;
  return way === 'down' ? Math.max(a, b) : Math.min(a, b);
}

function most(a: number | null, b: number | null): number | null {
  if (a === null || b === null) return a ?? b;
  return Math.max(a, b);
}

function fartherFt(way: WayOut['way'], a: number | null, b: number | null): number | null {
  if (a === null || b === null) return a ?? b;
  return way === 'down' ? Math.min(a, b) : Math.max(a, b);
}

/** What to do, in words that no one reads as a range. */
const WAY_ORDERS: Readonly<Record<WayOut['way'], string>> = {
  ...WAY_WORDS,
  stay: 'stay level',
  up: 'climb',
  down: 'descend',
  back: 'turn back',
};

/** The target of one way out: "climb to 11,000 ft", "land at KBTV". */
export function wayOrder({ way, toAltitudeFt, aerodrome }: Omit<WayStretch, 'fromNm' | 'toNm'>): string {
  if (way === 'aerodrome' && aerodrome !== null) return `land at ${aerodrome}`;
  return toAltitudeFt === null ? WAY_ORDERS[way] : `${WAY_ORDERS[way]} to ${feetText(toAltitudeFt)} ft`;
}

/** What tells whether a way is unknown only for want of a minimum altitude. */
export interface WayAir {
  readonly points: readonly RoutePoint[];
  readonly curtain?: CurtainAnswer | undefined;
}

/** Without a minimum altitude nobody can say how far down is allowed; where the air is unknown too, that is the cause. */
export function isMinimumMissing(
  { fromNm, toNm }: Pick<WayStretch, 'fromNm' | 'toNm'>,
  { points, curtain }: WayAir,
): boolean {
  if (curtain === undefined) return false;
  const inside = points.filter(({ distanceNm }) => distanceNm >= fromNm && distanceNm <= toNm);
  return (
    inside.some((point) => point.minimumAltitudeFt === null) &&
    inside.every(({ distanceNm }) =>
      isColumnKnown(curtain, nearestPointIndex(curtain.distanceNm, distanceNm)),
    )
  );
}

export function missingMinimumWords(stretch: WayStretch, air: WayAir): string {
  return isMinimumMissing(stretch, air) ? ' for want of a minimum altitude' : '';
}
