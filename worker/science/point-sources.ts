/** Which sources speak at each route point, how much each counts there, and how wrong it may be. */
import {
  type ErrorSpread,
  makeSourceErrors,
  NO_ERROR,
  type SourceErrors,
  setErrors,
} from './error-spreads.ts';

/** What one source is worth at one point; weights at least 0, one of them above 0. */
export interface SourceAtPoint {
  /** Weighs humidity, cloud and icing. */
  readonly humidity: number;
  /** Weighs temperature, height and wind. */
  readonly temperature: number;
  readonly errors: ErrorSpread;
}

/** One entry a source with weight at a point, points in order, sources in order within a point. */
export interface PointSources {
  readonly pointCount: number;
  readonly sourceCount: number;
  /** First entry of each point; one more than points, the last being the number of entries. */
  readonly firstEntry: Int32Array;
  /** [entry]. */
  readonly source: Int32Array;
  readonly humidity: Float64Array;
  readonly temperature: Float64Array;
  readonly errors: SourceErrors;
}

/**
 * Lists the sources of every point.
 *
 * @param counts  Numbers of points and sources.
 * @param at      What a source is worth at a point; undefined where it does not count.
 * @returns       New arrays.
 * @throws        What `at` throws.
 */
export function listPointSources(
  counts: { readonly pointCount: number; readonly sourceCount: number },
  at: (point: number, source: number) => SourceAtPoint | undefined,
): PointSources {
  const firstEntry = new Int32Array(counts.pointCount + 1);
  const source: number[] = [];
  const found: SourceAtPoint[] = [];
  for (let point = 0; point < counts.pointCount; point += 1) {
    for (let each = 0; each < counts.sourceCount; each += 1) {
      const worth = at(point, each);
      if (worth === undefined || !(worth.humidity > 0 || worth.temperature > 0)) continue;
      source.push(each);
      found.push(worth);
    }
    firstEntry[point + 1] = source.length;
  }
  const errors = makeSourceErrors(found.length);
  found.forEach((worth, entry) => {
    setErrors(errors, entry, worth.errors);
  });
  return {
    ...counts,
    firstEntry,
    source: Int32Array.from(source),
    humidity: Float64Array.from(found, (worth) => worth.humidity),
    temperature: Float64Array.from(found, (worth) => worth.temperature),
    errors,
  };
}

/** Each source is a point of its own, and exact: for the diagnosis of columns by themselves. */
export function ownSources(count: number): PointSources {
  return {
    pointCount: count,
    sourceCount: count,
    firstEntry: Int32Array.from({ length: count + 1 }, (_, point) => point),
    source: Int32Array.from({ length: count }, (_, source) => source),
    humidity: new Float64Array(count).fill(1),
    temperature: new Float64Array(count).fill(1),
    errors: makeSourceErrors(count),
  };
}

export const EXACT: SourceAtPoint = { humidity: 1, temperature: 1, errors: NO_ERROR };
