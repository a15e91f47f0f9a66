/** Pilots' notes as features of a kind of their own, so that nothing takes one for a hazard or for its absence. */
import type { BriefFeature } from '../schema/brief.ts';
import { cFromK, nmFromM } from '../science/units.ts';
import { rounded, roundedNm } from './feature-geometry.ts';
import type { FeatureParts } from './features.ts';
import type { LegNote } from './leg-notes.ts';
import { roundTo } from './round-to.ts';
import { utc } from './utc.ts';

export function noteFeatures({ notes: { notes, isPartial }, ...parts }: FeatureParts): BriefFeature[] {
  return [...notes.map(noteFeature), ...(isPartial ? [leftOutNotice(parts)] : [])];
}

function noteFeature({ id, reportKind, said, issuedMs, geometry, ...where }: LegNote): BriefFeature {
  return {
    type: 'Feature',
    id,
    geometry: geometry === null ? null : rounded(geometry),
    properties: {
      kind: 'pilot-note',
      reportKind,
      noIce: said.noIce,
      clouds: said.clouds.map(({ base, top }) => ({ base: base ?? null, top: top ?? null })),
      temperatureC: said.temperatureK === undefined ? null : roundTo(cFromK(said.temperatureK), 0.1),
      sentence: said.sentence,
      issuedUtc: utc(issuedMs),
      fromRouteNm: nmOrNull(where.fromRouteM),
      fromNm: roundedNm(where.fromM),
      toNm: roundedNm(where.toM),
      lowerFt: said.lowerFt ?? null,
      upperFt: said.upperFt ?? null,
    },
  };
}

/** Distance of a reported place from the route: half a mile is as good as it is known. */
export const nmOrNull = (distanceM: number | undefined) =>
  distanceM === undefined ? null : roundTo(nmFromM(distanceM), 0.1);

function leftOutNotice({ route, departureMs }: Pick<FeatureParts, 'route' | 'departureMs'>): BriefFeature {
  return {
    type: 'Feature',
    id: 'notes-left-out',
    geometry: null,
    properties: {
      kind: 'pilot-note',
      reportKind: null,
      noIce: false,
      clouds: [],
      temperatureC: null,
      sentence: 'There are more pilot reports than are listed',
      issuedUtc: utc(departureMs),
      fromRouteNm: null,
      fromNm: 0,
      toNm: roundedNm(route.distanceM[route.pointCount - 1]!),
      lowerFt: null,
      upperFt: null,
    },
  };
}
