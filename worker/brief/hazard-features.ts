/** Reports and warnings as features: what the plan view marks and the data section lists. */
import type { BriefFeature } from '../schema/brief.ts';
import { ftFromM } from '../science/units.ts';
import { rounded, roundedNm, stretchEdgesM } from './feature-geometry.ts';
import type { FeatureParts } from './features.ts';
import type { LegHazard } from './leg-hazards.ts';
import { nmOrNull } from './note-features.ts';
import { utc } from './utc.ts';

export function hazardFeatures(parts: FeatureParts): BriefFeature[] {
  const edgesM = stretchEdgesM(parts.route);
  return parts.hazards.map((each) => hazardFeature(each, parts, edgesM));
}

function hazardFeature(
  { hazard, reportKind, geometry, fromRouteM }: LegHazard,
  { indicatedMinusPressureM }: FeatureParts,
  edgesM: Float64Array,
): BriefFeature {
  const feetOrNull = (altitudeM: number) =>
    Number.isFinite(altitudeM) ? Math.round(ftFromM(altitudeM + indicatedMinusPressureM)) : null;
  const properties = {
    reportKind: reportKind ?? null,
    severity: hazard.severity,
    sentence: hazard.sentence,
    validFromUtc: utc(hazard.validFromMs),
    validToUtc: utc(hazard.validToMs),
    issuedUtc: utc(hazard.issuedMs),
    fromNm: roundedNm(edgesM[hazard.firstPoint]!),
    toNm: roundedNm(edgesM[hazard.lastPoint + 1]!),
    lowerFt: feetOrNull(hazard.lowerM),
    upperFt: feetOrNull(hazard.upperM),
  };
  const common = { type: 'Feature', id: hazard.id } as const;
  if (geometry?.type === 'Point' || hazard.kind !== 'warning') {
    const place = geometry?.type === 'Point' ? rounded(geometry) : null;
    const report = { kind: 'report', ...properties, fromRouteNm: nmOrNull(fromRouteM) } as const;
    return { ...common, geometry: place, properties: report };
  }
  const area = geometry === null ? null : rounded(geometry);
  return { ...common, geometry: area, properties: { kind: 'warning', ...properties } };
}
