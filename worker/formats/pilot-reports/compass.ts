/** The sixteen points of the compass, as texts give directions. */

const COMPASS_POINTS = [
  ...['N', 'NNE', 'NE', 'ENE', 'E', 'ESE', 'SE', 'SSE'],
  ...['S', 'SSW', 'SW', 'WSW', 'W', 'WNW', 'NW', 'NNW'],
] as const;
export type CompassPoint = (typeof COMPASS_POINTS)[number];
/** The sixteen points for a pattern, longest first so that none hides another. */
export const COMPASS_PATTERN = [...COMPASS_POINTS].sort((a, b) => b.length - a.length).join('|');

/** Degrees clockwise from north of one of the sixteen points; undefined for another word. */
export function compassDeg(point: string): number | undefined {
  const index = COMPASS_POINTS.indexOf(point as CompassPoint);
  return index === -1 ? undefined : index * 22.5;
}
