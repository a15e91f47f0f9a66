/** Groups VVVV, VVVVNDV, VNVNVNVNDv (regulation 15.6) and statute miles as North America codes them. */
import type { Bound, Compass, Visibility } from './conditions.ts';

const METERS = /^([MP])?(\d{4})(NDV|M|[NS]?[EW]|[NS])?$/;
const KILOMETERS = /^(\d{1,2})KM$/;
const MILES = /^([MP])?(?:(\d{1,3})|(\d{1,2})\/(\d{1,2}))SM$/;
const WHOLE_MILES = /^\d{1,2}$/;
const FRACTION_OF_MILES = /^\d{1,2}\/\d{1,2}SM$/;

export const M_PER_STATUTE_MILE = 1609.344;
/** 9999 and CAVOK: 10 km or more. */
const TEN_KM: Visibility = visibilityOf(10_000, 'above');
/** 0000: less than 50 m. */
const BELOW_FIFTY_M: Visibility = visibilityOf(50, 'below');

export const VISIBILITY_OF_CAVOK = TEN_KM;
export const VISIBILITY_NOT_OBSERVED = visibilityOf(null, 'exact');

/**
 * Reads one visibility, or adds a further one to those read before.
 *
 * @param before  what was read so far; null for nothing.
 * @returns       the visibility and how many groups it took; undefined when the groups are none, or repeat one.
 */
export function readVisibility(
  groups: readonly string[],
  index: number,
  before: Visibility | null,
): { readonly visibility: Visibility; readonly taken: number } | undefined {
  const meters = METERS.exec(groups[index]!);
  if (meters !== null) {
    const isNext = METERS.test(groups[index - 1] ?? '');
    const visibility = inMeters(meters, before, isNext);
    return visibility && { visibility, taken: 1 };
  }
  if (before !== null) return undefined;
  const kilometers = KILOMETERS.exec(groups[index]!);
  if (kilometers !== null) {
    const km = Number(kilometers[1]);
    return {
      visibility: km >= 10 ? { ...TEN_KM, visibilityM: km * 1000 } : visibilityOf(km * 1000),
      taken: 1,
    };
  }
  return inMiles(groups, index);
}

function inMeters(
  match: RegExpExecArray,
  before: Visibility | null,
  isNext: boolean,
): Visibility | undefined {
  const visibilityM = Number(match[2]);
  const [, sign, , tail] = match;
  if (tail !== undefined && tail !== 'NDV' && tail !== 'M') {
    if (sign !== undefined) return undefined;
    const directed = { visibilityM, direction: tail as Compass };
    const base = before ?? visibilityOf(null);
    return { ...base, directions: [...base.directions, directed] };
  }
  if (before !== null && before.visibilityM !== null)
    return isNext ? withMinimum(before, visibilityM, sign ?? tail) : undefined;
  const directions = before?.directions ?? [];
  return { ...ofFigures(visibilityM, sign), directions, isWithoutDirections: tail === 'NDV' };
}

/** A second value without a direction right after the first, as some services give the lowest. */
function withMinimum(
  before: Visibility,
  minimumM: number,
  extra: string | undefined,
): Visibility | undefined {
  if (before.minimumM !== null || extra !== undefined) return undefined;
  return { ...before, minimumM };
}

function ofFigures(visibilityM: number, sign: string | undefined): Visibility {
  if (sign !== undefined) return visibilityOf(visibilityM, sign === 'P' ? 'above' : 'below');
  if (visibilityM === 9999) return TEN_KM;
  return visibilityM === 0 ? BELOW_FIFTY_M : visibilityOf(visibilityM);
}

/** One group, or whole miles and a fraction in two: `1 1/2SM`. */
function inMiles(
  groups: readonly string[],
  index: number,
): { readonly visibility: Visibility; readonly taken: number } | undefined {
  const next = groups[index + 1] ?? '';
  if (WHOLE_MILES.test(groups[index]!) && FRACTION_OF_MILES.test(next)) {
    const miles = Number(groups[index]) + milesOf(MILES.exec(next)!);
    return finite({ visibility: visibilityOf(miles * M_PER_STATUTE_MILE), taken: 2 });
  }
  const match = MILES.exec(groups[index]!);
  if (match === null) return undefined;
  const bounds: Readonly<Record<string, Bound>> = { P: 'above', M: 'below' };
  const bound = bounds[match[1] ?? ''] ?? 'exact';
  return finite({ visibility: visibilityOf(milesOf(match) * M_PER_STATUTE_MILE, bound), taken: 1 });
}

function milesOf(match: RegExpExecArray): number {
  return match[2] !== undefined ? Number(match[2]) : Number(match[3]) / Number(match[4]);
}

/** A fraction over nought is no length. */
function finite<Read extends { readonly visibility: Visibility }>(read: Read): Read | undefined {
  return Number.isFinite(read.visibility.visibilityM) ? read : undefined;
}

function visibilityOf(visibilityM: number | null, bound: Bound = 'exact'): Visibility {
  return { visibilityM, bound, minimumM: null, directions: [], isWithoutDirections: false };
}
