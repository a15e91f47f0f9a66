/** The cross-section's own features, cut at what is considered: what the plan view paints. */
import { levelAtFt } from '../considered.ts';
import type { BandFeature, Candidate, RoutePoint } from '../contract.ts';
import { type Stretch, stripAlong } from './along-leg.ts';

export interface Level extends Stretch {
  readonly altitudeFt: number;
}

/** The levels of a candidate over the leg; without one, the one altitude all along. */
export function levelsAlong(
  candidate: Pick<Candidate, 'profile' | 'altitudeFt'> | undefined,
  altitudeFt: number,
  lengthNm: number,
): Level[] {
  if (candidate === undefined) return [{ fromNm: 0, toNm: lengthNm, altitudeFt }];
  const changesNm = candidate.profile.map(({ fromNm }) => fromNm).filter((nm) => nm > 0 && nm < lengthNm);
  return [0, ...changesNm].map((fromNm, index) => ({
    fromNm,
    toNm: changesNm[index] ?? lengthNm,
    altitudeFt: levelAtFt(candidate, fromNm),
  }));
}

export function bandsAt(bands: readonly BandFeature[], altitudeFt: number): BandFeature[] {
  return bands.filter(
    ({ properties }) => properties.lowerFt <= altitudeFt && altitudeFt < properties.upperFt,
  );
}

/** What a level has of a band: the band itself where it lies on one level, else its part there. */
export interface BandPiece extends Stretch {
  readonly band: BandFeature;
  readonly geometry: BandFeature['geometry'];
}

interface Corridor {
  readonly points: readonly RoutePoint[];
  readonly halfWidthNm: number;
}

export function bandPieces(
  bands: readonly BandFeature[],
  levels: readonly Level[],
  { points, halfWidthNm }: Corridor,
): BandPiece[] {
  return levels.flatMap((level) =>
    bandsAt(bands, level.altitudeFt).flatMap((band) => {
      const fromNm = Math.max(level.fromNm, band.properties.fromNm);
      const toNm = Math.min(level.toNm, band.properties.toNm);
      const isWhole = levels.length === 1 || toNm - fromNm >= band.properties.toNm - band.properties.fromNm;
      if (isWhole) return [{ band, fromNm, toNm, geometry: band.geometry }];
      if (toNm <= fromNm) return [];
      return [{ band, fromNm, toNm, geometry: stripAlong(points, { fromNm, toNm }, halfWidthNm) }];
    }),
  );
}
