/** Reports as the plan view marks them: one mark a place, with the letter of the most serious report there. */
import { type Brief, type FeatureOf, featuresOf } from '../contract.ts';

type Report = FeatureOf<'report'>;
type Severity = Report['properties']['severity'];

export interface ReportMark {
  readonly id: string;
  readonly lonDeg: number;
  readonly latDeg: number;
  /** P by a pilot, R reported at an aerodrome, F forecast for one. */
  readonly letter: 'P' | 'R' | 'F';
  /** Severe ice or large drops: the mark is filled. */
  readonly isSerious: boolean;
}

const RANK: Readonly<Record<Severity, number>> = { unstated: 0, moderate: 1, severe: 2, 'large-drops': 3 };

/** Most serious first, then newest, then in the order of the brief. */
export function worstFirst<
  One extends { readonly properties: Pick<Report['properties'], 'severity' | 'issuedUtc'> },
>(features: readonly One[]): One[] {
  return features.toSorted(
    (a, b) =>
      RANK[b.properties.severity] - RANK[a.properties.severity] ||
      Date.parse(b.properties.issuedUtc) - Date.parse(a.properties.issuedUtc),
  );
}

/** Reports without a place have no mark; the list tells of them. */
export function reportMarks(brief: Brief): ReportMark[] {
  const marks = new Map<string, ReportMark>();
  for (const { id, geometry, properties } of worstFirst(featuresOf(brief, 'report'))) {
    if (geometry === null) continue;
    const [lonDeg, latDeg] = geometry.coordinates as [number, number];
    const place = `${lonDeg} ${latDeg}`;
    if (marks.has(place)) continue;
    const isSerious = RANK[properties.severity] >= RANK.severe;
    marks.set(place, { id, lonDeg, latDeg, letter: letterOf(properties.reportKind), isSerious });
  }
  return [...marks.values()];
}

/** Where pilots said something beside ice: one mark a place, none under that of a report of ice. */
export function noteMarks(
  brief: Brief,
  reports: readonly ReportMark[],
): Omit<ReportMark, 'letter' | 'isSerious'>[] {
  const marked = new Set(reports.map(({ lonDeg, latDeg }) => `${lonDeg} ${latDeg}`));
  return featuresOf(brief, 'pilot-note').flatMap(({ id, geometry }) => {
    const [lonDeg, latDeg] = (geometry?.coordinates ?? []) as [number?, number?];
    const place = `${lonDeg} ${latDeg}`;
    if (lonDeg === undefined || latDeg === undefined || marked.has(place)) return [];
    marked.add(place);
    return [{ id, lonDeg, latDeg }];
  });
}

function letterOf(kind: Report['properties']['reportKind']): ReportMark['letter'] {
  if (kind === 'taf') return 'F';
  return kind === 'pirep' || kind === 'airep' ? 'P' : 'R';
}

/** Areas of warnings, each once: of several stretches of the leg the area is the same. */
export function warningAreas(
  brief: Brief,
): { id: string; geometry: NonNullable<FeatureOf<'warning'>['geometry']> }[] {
  const areas = new Map<string, { id: string; geometry: NonNullable<FeatureOf<'warning'>['geometry']> }>();
  for (const { id, geometry } of featuresOf(brief, 'warning')) {
    if (geometry !== null) areas.set(JSON.stringify(geometry), { id, geometry });
  }
  return [...areas.values()];
}
