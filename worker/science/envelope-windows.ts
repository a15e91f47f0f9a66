/** Liquid water along the path against the certification envelope, whose limit falls with the extent of the cloud. */
import { extentFactor } from './certified-envelope.ts';

/** Lengths of all windows of whole stretches of a route, and the factor on the limit of each. */
export interface EnvelopeWindows {
  readonly pointCount: number;
  /** Length of each point's stretch, m. */
  readonly stretchM: Float64Array;
  /** [first point][last point]: one over the extent factor. */
  readonly inverseFactor: Float64Array;
}

/**
 * @param distanceM  Of each point along the route, m, ascending.
 * @returns          Every window from one point's stretch to another's.
 * @throws           never.
 */
export function makeEnvelopeWindows(distanceM: Float64Array): EnvelopeWindows {
  const pointCount = distanceM.length;
  const edgeM = (point: number): number => {
    const before = distanceM[Math.max(0, point - 1)]!;
    return (before + distanceM[Math.min(point, pointCount - 1)]!) / 2;
  };
  const stretchM = new Float64Array(pointCount);
  const inverseFactor = new Float64Array(pointCount * pointCount);
  for (let first = 0; first < pointCount; first += 1) {
    stretchM[first] = edgeM(first + 1) - edgeM(first);
    for (let last = first; last < pointCount; last += 1) {
      inverseFactor[first * pointCount + last] = 1 / extentFactor(edgeM(last + 1) - edgeM(first));
    }
  }
  return { pointCount, stretchM, inverseFactor };
}

/**
 * Greatest, over all windows, of the mean ratio in the window over its extent factor.
 *
 * @param meanRatio  Mean ratio to the limit of the standard extent over each point's stretch; NaN, unknown, ends a window.
 * @returns          Ratio; 0 without water.
 * @throws           never.
 * @source           14 CFR 25 Appendix C: the limit of an extent is that of 17.4 NM times the factor of figure 3, window by
 *                   window.
 * @checked          tests/published/certified-envelope.test.ts
 */
export function greatestWindowRatio(windows: EnvelopeWindows, meanRatio: Float64Array): number {
  const { pointCount, stretchM, inverseFactor } = windows;
  let greatest = 0;
  for (let first = 0; first < pointCount; first += 1) {
    if (!(meanRatio[first]! > 0)) continue;
    let waterM = 0;
    let lengthM = 0;
    for (let last = first; last < pointCount && !Number.isNaN(meanRatio[last]!); last += 1) {
      waterM += meanRatio[last]! * stretchM[last]!;
      lengthM += stretchM[last]!;
      const ratio = (waterM / lengthM) * inverseFactor[first * pointCount + last]!;
      if (ratio > greatest) greatest = ratio;
    }
  }
  return greatest;
}
