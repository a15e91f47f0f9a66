/** The parts of the contract that the page names; everything here comes from the one schema. */
export type {
  BandFeature,
  Brief,
  BriefFeature,
  BriefMember,
  Candidate,
  CurtainAnswer,
  DataUsed,
  ExposureAnswer,
  FluidPlanAnswer,
  PartAnswer,
  Problem,
  Reason,
  SpreadAnswer,
  VerdictCode,
} from '../../worker/schema/brief.ts';
export type { BriefOptions, BriefRequest, MinimumAltitude } from '../../worker/schema/request.ts';

import type { Brief, BriefFeature, BriefMember } from '../../worker/schema/brief.ts';

export type WayOut = BriefMember['waysOut'][number];
export type RoutePoint = BriefMember['leg']['points'][number];

type Kind = BriefFeature['properties']['kind'];
export type FeatureOf<K extends Kind> = Extract<BriefFeature, { properties: { kind: K } }>;

export function featuresOf<K extends Kind>(brief: Brief, kind: K): FeatureOf<K>[] {
  return brief.features.filter((feature): feature is FeatureOf<K> => feature.properties.kind === kind);
}
