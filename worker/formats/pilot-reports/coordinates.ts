/** Latitude and longitude as reports write them: hemisphere before (`N5230 W02015`) or after (`5230N02015W`). */
import type { Position } from '../../science/great-circle.ts';

const BEFORE = /([NS])(\d{2}|\d{4}|\d{6})(?!\d)[ ,/]?([EW])(\d{2,7})(?!\d)/y;
const AFTER = /(\d{2}(?:\.\d{1,4})?|\d{4}|\d{6})([NS])[ ,/]?(\d{2,3}\.\d{1,4}|\d{2,7})([EW])(?![A-Z])/y;

export interface FoundCoordinates extends Position {
  /** Where the text goes on. */
  readonly end: number;
}

/**
 * Reads coordinates that start at an offset. Figures are degrees, degrees and minutes, or those and seconds; longitude
 * has two or three figures of degrees.
 *
 * @returns  degrees; undefined when none start there, or minutes or seconds pass 59, latitude 90 or longitude 180.
 * @source   ICAO Annex 3 table A6-1A, Doc 4444 appendix 1 (from memory).
 * @checked  tests/formats/pilot-reports/coordinates.test.ts
 */
export function coordinatesAt(text: string, offset: number): FoundCoordinates | undefined {
  BEFORE.lastIndex = offset;
  const before = BEFORE.exec(text);
  if (before !== null) {
    const figures = { latSide: before[1]!, lat: before[2]!, lonSide: before[3]!, lon: before[4]! };
    return checked(figures, BEFORE.lastIndex);
  }
  AFTER.lastIndex = offset;
  const after = AFTER.exec(text);
  if (after === null) return undefined;
  const figures = { lat: after[1]!, latSide: after[2]!, lon: after[3]!, lonSide: after[4]! };
  return checked(figures, AFTER.lastIndex);
}

/** Coordinates that are the whole text. */
export function readCoordinates(text: string): Position | undefined {
  const found = coordinatesAt(text, 0);
  return found?.end === text.length ? { latDeg: found.latDeg, lonDeg: found.lonDeg } : undefined;
}

function checked(
  figures: { readonly lat: string; readonly latSide: string; readonly lon: string; readonly lonSide: string },
  end: number,
): FoundCoordinates | undefined {
  const lat = degreesOf(figures.lat);
  const lon = degreesOf(figures.lon);
  if (lat === undefined || lon === undefined || lat > 90 || lon > 180) return undefined;
  return {
    latDeg: figures.latSide === 'S' ? 0 - lat : lat,
    lonDeg: figures.lonSide === 'W' ? 0 - lon : lon,
    end,
  };
}

/** One half of a pair: `N54` or `54N`, `E01530` or `01530E`. */
export function readHalf(text: string): { readonly axis: 'lat' | 'lon'; readonly deg: number } | undefined {
  const match = /^(?:([NSEW])(\d{2,7})|(\d{2,7})([NSEW]))$/.exec(text);
  if (match === null) return undefined;
  const side = match[1] ?? match[4]!;
  const deg = degreesOf(match[2] ?? match[3]!);
  const axis = side === 'N' || side === 'S' ? 'lat' : 'lon';
  if (deg === undefined || deg > (axis === 'lat' ? 90 : 180)) return undefined;
  return { axis, deg: side === 'S' || side === 'W' ? 0 - deg : deg };
}

/** dd, ddd, ddmm, dddmm, ddmmss, dddmmss, or degrees with a decimal point. */
function degreesOf(figures: string): number | undefined {
  if (figures.includes('.')) return Number(figures);
  const degreeFigures = figures.length % 2 === 0 ? 2 : 3;
  const degrees = Number(figures.slice(0, degreeFigures));
  const minutes = Number(figures.slice(degreeFigures, degreeFigures + 2) || 0);
  const seconds = Number(figures.slice(degreeFigures + 2) || 0);
  if (minutes > 59 || seconds > 59) return undefined;
  return degrees + minutes / 60 + seconds / 3600;
}
