/** The picture's two axes: distance along the leg, altitude upwards. */
import { lookOf } from '../../schema/band-look.ts';
import type { Brief } from '../../schema/brief.ts';
import type { Box } from './canvas.ts';

export interface SectionScale {
  readonly plot: Box;
  readonly lowestFt: number;
  readonly highestFt: number;
  readonly x: (distanceNm: number) => number;
  readonly y: (altitudeFt: number) => number;
}

const LEAST_TOP_FT = 5000;
const MOST_TOP_FT = 60_000;
const LEAST_FOOT_FT = -2000;
const OVER_FILED_FT = 3000;
const OVER_ICE_FT = 1000;

/**
 * From sea level to above what is filed, and above the ice as far as the aeroplane may go. On a leg without length no distance
 * has a place, so that all of it stays unknown.
 */
export function sectionScale(brief: Brief, plot: Box): SectionScale {
  const { leg, file, alternatives } = brief.brief;
  const flown = alternatives.filter(({ exposure }) => exposure !== null);
  const reachedFt = greatest((flown.length > 0 ? flown : alternatives).map(({ altitudeFt }) => altitudeFt));
  const groundsFt = brief.features.flatMap(({ properties }) =>
    properties.kind === 'terrain' ? [properties.heightFt] : [],
  );
  const wantedFt = greatest([
    LEAST_TOP_FT,
    file === null ? reachedFt : file.altitudeFt + OVER_FILED_FT,
    Math.min(reachedFt, iceTopFt(brief) + OVER_ICE_FT),
    greatest(groundsFt) + OVER_ICE_FT,
  ]);
  const lowestFt = Math.max(LEAST_FOOT_FT, -greatest(groundsFt.map((feet) => -feet)));
  const highestFt = Math.min(MOST_TOP_FT, Math.ceil(wantedFt / 1000) * 1000);
  const pxPerNm = leg.distanceNm > 0 ? (plot.right - plot.left) / leg.distanceNm : Number.NaN;
  const pxPerFt = (plot.bottom - plot.top) / (highestFt - lowestFt);
  return {
    ...{ plot, lowestFt, highestFt },
    x: (distanceNm) => plot.left + distanceNm * pxPerNm,
    y: (altitudeFt) => plot.bottom - (altitudeFt - lowestFt) * pxPerFt,
  };
}

function iceTopFt({ features }: Brief): number {
  return greatest(
    features.flatMap(({ properties }) =>
      properties.kind === 'icing-band' && lookOf(properties).kind === 'ice' ? [properties.upperFt] : [],
    ),
  );
}

/** 0 at least. */
function greatest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), 0);
}
