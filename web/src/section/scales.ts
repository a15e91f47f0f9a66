/** The sheet's two axes: altitude upwards, distance along. Section, table and strips all take their places from here. */
import { scaleLinear } from 'd3-scale';
import type { Brief, BriefMember, Candidate } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { ceilTo, floorTo } from '../numbers.ts';

export interface AltitudeRange {
  readonly lowestFt: number;
  readonly highestFt: number;
  /** Least distance between two candidate altitudes: what one table row stands for. */
  readonly stepFt: number;
}

export interface Sheet {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly plot: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  readonly range: AltitudeRange;
  readonly lengthNm: number;
  readonly rowPx: number;
  readonly textScale: number;
  readonly x: (distanceNm: number) => number;
  readonly y: (altitudeFt: number) => number;
  readonly nmAt: (px: number) => number;
  readonly ftAt: (px: number) => number;
}

const DEFAULT_STEP_FT = 1000;
const LEAST_STEP_FT = 250;
/** Room above the highest candidate, in rows, so that its own row is whole. */
const ROWS_ABOVE = 0.75;

/** Room over the tops of cloud that no altitude flown reaches. */
const OVER_TOPS_FT = 1000;
/** Cloud further above all that can be flown does not stretch the axis. */
const OVER_FLOWN_FT = 3000;

/**
 * From the ground (or sea level) to just above the highest altitude that can be flown, or above cloud that is a little
 * higher. Candidates above that cannot be flown have no place on the axis.
 */
export function altitudeRange(brief: Brief): AltitudeRange {
  const altitudesFt = brief.brief.alternatives.map((candidate) => candidate.altitudeFt);
  const stepFt = smallestStepFt(altitudesFt);
  const groundsFt = featuresOf(brief, 'terrain').map((feature) => feature.properties.heightFt);
  const lowestWantedFt = Math.min(
    0,
    ...groundsFt,
    ...altitudesFt.map((altitudeFt) => altitudeFt - stepFt / 2),
  );
  const highestWantedFt = Math.max(5000, ...groundsFt, topCandidateFt(brief)) + ROWS_ABOVE * stepFt;
  return { lowestFt: floorTo(lowestWantedFt, 500), highestFt: ceilTo(highestWantedFt, 250), stepFt };
}

function topCandidateFt(brief: Brief): number {
  const { alternatives } = brief.brief;
  const flown = alternatives.filter((candidate) => candidate.exposure !== null);
  const highestFt = (list: readonly Candidate[]) => Math.max(0, ...list.map((one) => one.altitudeFt));
  if (flown.length === 0) return highestFt(alternatives);
  const topsFt = featuresOf(brief, 'cloud-band').map((feature) => feature.properties.upperFt + OVER_TOPS_FT);
  const flownFt = highestFt(flown);
  const overCloudFt = Math.min(flownFt + OVER_FLOWN_FT, Math.max(0, ...topsFt));
  return Math.max(flownFt, Math.min(highestFt(alternatives), overCloudFt));
}

/** Candidates that have a place on the axis. */
export function shownCandidates(
  { alternatives }: Pick<BriefMember, 'alternatives'>,
  range: AltitudeRange,
): Candidate[] {
  return alternatives.filter(({ altitudeFt }) => altitudeFt <= range.highestFt);
}

function smallestStepFt(altitudesFt: readonly number[]): number {
  const sorted = [...altitudesFt].sort((a, b) => a - b);
  let smallest = DEFAULT_STEP_FT;
  for (let index = 1; index < sorted.length; index += 1) {
    const step = sorted[index]! - sorted[index - 1]!;
    if (step > 0) smallest = Math.min(smallest, step);
  }
  return Math.max(smallest, LEAST_STEP_FT);
}

export interface SheetInput {
  readonly widthPx: number;
  readonly rowPx: number;
  readonly textScale?: number;
  readonly range: AltitudeRange;
  readonly lengthNm: number;
  readonly margins: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
}

export function makeSheet({ widthPx, rowPx, textScale = 1, range, lengthNm, margins }: SheetInput): Sheet {
  const plotHeightPx = Math.round(((range.highestFt - range.lowestFt) / range.stepFt) * rowPx);
  const plot = {
    left: margins.left,
    right: Math.max(widthPx - margins.right, margins.left + 1),
    top: margins.top,
    bottom: margins.top + plotHeightPx,
  };
  const across = scaleLinear([0, lengthNm], [plot.left, plot.right]);
  const up = scaleLinear([range.lowestFt, range.highestFt], [plot.bottom, plot.top]);
  return {
    widthPx,
    heightPx: plot.bottom + margins.bottom,
    plot,
    range,
    lengthNm,
    rowPx,
    textScale,
    x: (distanceNm) => across(distanceNm),
    y: (altitudeFt) => up(altitudeFt),
    nmAt: (px) => Math.min(lengthNm, Math.max(0, across.invert(px))),
    ftAt: (px) => Math.min(range.highestFt, Math.max(range.lowestFt, up.invert(px))),
  };
}

/** Round distances for the axis, about one every `wantedPx`. */
export function distanceTicksNm(sheet: Sheet, wantedPx: number): number[] {
  const count = Math.max(2, Math.round((sheet.plot.right - sheet.plot.left) / wantedPx));
  return scaleLinear([0, sheet.lengthNm], [0, 1]).ticks(count);
}

/** Whole thousands of feet inside the range, every one that has `leastPx` of room. */
export function altitudeTicksFt(sheet: Sheet, leastPx: number): number[] {
  const pxPerFt = (sheet.plot.bottom - sheet.plot.top) / (sheet.range.highestFt - sheet.range.lowestFt);
  const stepFt = [1000, 2000, 5000, 10000].find((step) => step * pxPerFt >= leastPx) ?? 10000;
  const ticks: number[] = [];
  for (let feet = ceilTo(sheet.range.lowestFt, stepFt); feet <= sheet.range.highestFt; feet += stepFt) {
    ticks.push(feet);
  }
  return ticks;
}

/** The candidate nearest to an altitude; without candidates the nearest 500 ft. */
export function snapAltitudeFt(candidatesFt: readonly number[], altitudeFt: number): number {
  const first = candidatesFt[0];
  if (first === undefined) return Math.round(altitudeFt / 500) * 500;
  return candidatesFt.reduce(
    (best, one) => (Math.abs(one - altitudeFt) < Math.abs(best - altitudeFt) ? one : best),
    first,
  );
}
