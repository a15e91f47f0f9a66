/** A route flown through several sources' profiles: the pooled curtain and its draws, for tests of the physics alone. */
import type { AltitudeAxis, Profile } from '../../worker/science/columns.ts';
import { type DiagnosedSources, diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { drawIcing } from '../../worker/science/draw-icing.ts';
import type { DrawnIcing } from '../../worker/science/drawn-icing.ts';
import { type ErrorSpread, NO_ERROR } from '../../worker/science/error-spreads.ts';
import { listPointSources, type PointSources } from '../../worker/science/point-sources.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { makeSettings } from './make-profile.ts';

export interface Along {
  readonly axis: AltitudeAxis;
  readonly pointCount: number;
  readonly spacingM: number;
  /** What each source says over each point. */
  readonly sources: readonly SourceAlong[];
}

export interface SourceAlong {
  readonly profileAt: (point: number) => Profile;
  /** Default 1. */
  readonly weight?: number;
  /** Default none. */
  readonly errors?: ErrorSpread;
}

export interface DrawnAlong extends DiagnosedSources {
  readonly sources: PointSources;
  readonly drawn: DrawnIcing;
}

/** Every source has a column of its own over every point, as a grid has. */
export function drawAlong({ axis, pointCount, spacingM, sources: given }: Along): DrawnAlong {
  const points = Array.from({ length: pointCount }, (_, point) => point);
  const weather = weatherColumnsFromProfiles(
    given.flatMap(({ profileAt }) => points.map(profileAt)),
    axis,
  );
  const sources = listPointSources({ pointCount, sourceCount: weather.columnCount }, (point, column) => {
    if (column % pointCount !== point) return undefined;
    const { weight = 1, errors = NO_ERROR } = given[Math.floor(column / pointCount)]!;
    return { humidity: weight, temperature: weight, errors };
  });
  const settings = makeSettings(axis.cellCount);
  const diagnosed = diagnoseSources(weather, sources, settings);
  const drawn = drawIcing({
    columns: { weather, evidence: diagnosed.evidence },
    sources,
    pooled: diagnosed,
    settings,
    distanceM: Float64Array.from(points, (point) => point * spacingM),
  });
  return { ...diagnosed, sources, drawn };
}

/** In how many of the draws' cells (all points and draws of one cell of the axis) a mark is set, as a share. */
export function shareMarked(
  { drawCount, columnCount, axis, marks }: DrawnIcing,
  cell: number,
  mark: number,
): number {
  let count = 0;
  for (let point = 0; point < columnCount; point += 1) {
    const first = (point * axis.cellCount + cell) * drawCount;
    for (let draw = 0; draw < drawCount; draw += 1) if ((marks[first + draw]! & mark) !== 0) count += 1;
  }
  return count / (columnCount * drawCount);
}

/** At how many points each draw has the mark in one cell of the axis, in order of size. */
export function pointsMarked(
  { drawCount, columnCount, axis, marks }: DrawnIcing,
  cell: number,
  mark: number,
): number[] {
  return Array.from({ length: drawCount }, (_, draw) => {
    let count = 0;
    for (let point = 0; point < columnCount; point += 1) {
      if ((marks[(point * axis.cellCount + cell) * drawCount + draw]! & mark) !== 0) count += 1;
    }
    return count;
  }).sort((a, b) => a - b);
}
