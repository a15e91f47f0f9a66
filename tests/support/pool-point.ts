/** Several sources over one route point, for tests of pooling. */
import type { AltitudeAxis, Profile } from '../../worker/science/columns.ts';
import { type DiagnosedSources, diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { type ErrorSpread, NO_ERROR } from '../../worker/science/error-spreads.ts';
import { listPointSources, type SourceAtPoint } from '../../worker/science/point-sources.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { makeSettings } from './make-profile.ts';

export interface SourceOverPoint {
  readonly profile: Profile;
  readonly worth: SourceAtPoint;
}

/** The same weight for humidity and for temperature; exact unless said otherwise. */
export const weighed = (weight: number, errors: ErrorSpread = NO_ERROR): SourceAtPoint => ({
  humidity: weight,
  temperature: weight,
  errors,
});

export function pooledAtPoint(sources: readonly SourceOverPoint[], axis: AltitudeAxis): DiagnosedSources {
  const weather = weatherColumnsFromProfiles(
    sources.map(({ profile }) => profile),
    axis,
  );
  const points = listPointSources(
    { pointCount: 1, sourceCount: sources.length },
    (_, source) => sources[source]!.worth,
  );
  return diagnoseSources(weather, points, makeSettings(axis.cellCount));
}
