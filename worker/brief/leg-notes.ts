/**
 * What pilots said beside ice that was met, around a leg: no ice met, cloud, temperature. To be read beside the picture:
 * hazards, choice and figures never see any of it.
 */
import type { Point } from 'geojson';
import { besideRoute } from '../flight/beside-route.ts';
import { LONGEST_TOLERANCE_MS, type ReachedLeg, reachedStretches, widestReachM } from '../flight/hazards.ts';
import type { BriefReads } from '../sources/ports.ts';
import type { FoundReports, PilotSaid, StoredReport } from '../sources/reports.ts';
import { stretchEdgesM } from './feature-geometry.ts';
import { boxAround } from './leg-data.ts';
import { pointOf, type ReportWindow } from './leg-hazards.ts';

export interface LegNote {
  readonly id: string;
  readonly reportKind: 'pirep' | 'airep';
  readonly said: PilotSaid;
  readonly issuedMs: number;
  /** null where it is known no better than around a station or in a region. */
  readonly geometry: Point | null;
  /** Least distance of the place from the route, m; undefined without a place. */
  readonly fromRouteM: number | undefined;
  /** The part of the route that the place is abeam of; without a place, that it may be at. */
  readonly fromM: number;
  readonly toM: number;
}

export interface LegNotes {
  readonly notes: readonly LegNote[];
  /** There are more than these, or some do not read back. */
  readonly isPartial: boolean;
}

/** A brief lists so many. */
const MOST_NOTES = 40;

/** For the filed departure alone. */
export function readLegNotes(
  { reports }: Pick<BriefReads, 'reports'>,
  { route, earliestMs, latestMs, operators, corridorHalfWidthM }: Omit<ReportWindow, 'laterByMs'>,
): Promise<FoundReports> {
  return reports.findNotes({
    operators,
    fromMs: Math.min(...earliestMs) - LONGEST_TOLERANCE_MS,
    toMs: Math.max(...latestMs) + LONGEST_TOLERANCE_MS,
    ...boxAround(route, widestReachM(corridorHalfWidthM)),
  });
}

/**
 * What reaches the leg as far and as long as ice that a pilot met does, each report once: the placed ones first, the newest
 * first.
 *
 * @param ofIce  The reports that bear on the leg: one that tells of ice may tell of cloud too.
 * @checked tests/brief/leg-notes.test.ts
 */
export function legNotes(
  { reports, isPartial }: FoundReports,
  ofIce: readonly StoredReport[],
  leg: ReachedLeg,
): LegNotes {
  const told = [...reports, ...ofIce].flatMap((report) => {
    const note = noteOf(report, leg);
    return note === undefined ? [] : [{ note, text: report.text }];
  });
  const inOrder = told.toSorted(
    (a, b) =>
      Number(a.note.geometry === null) - Number(b.note.geometry === null) ||
      b.note.issuedMs - a.note.issuedMs ||
      (a.note.id < b.note.id ? -1 : Number(a.note.id > b.note.id)),
  );
  const notes = saidOnce(inOrder);
  return { notes: notes.slice(0, MOST_NOTES), isPartial: isPartial || notes.length > MOST_NOTES };
}

/** The same text, or the same words of one place and minute, in two bulletins or of two operators is one note. */
function saidOnce(told: readonly { readonly note: LegNote; readonly text: string }[]): LegNote[] {
  const seen = new Set<string>();
  return told.flatMap(({ note, text }) => {
    const { geometry, issuedMs, said } = note;
    const facts = geometry === null ? [] : [JSON.stringify([issuedMs, geometry.coordinates, said])];
    const keys = [JSON.stringify([issuedMs, text]), ...facts];
    const isNew = keys.every((key) => !seen.has(key));
    for (const key of keys) seen.add(key);
    return isNew ? [note] : [];
  });
}

function noteOf(report: StoredReport, leg: ReachedLeg): LegNote | undefined {
  const { said, kind, areas, issuedMs, validFromMs, validToMs, ice } = report;
  if (said === undefined || (kind !== 'pirep' && kind !== 'airep')) return undefined;
  // A report of ice is drawn as such, with its height: its temperature alone adds nothing.
  if (ice.length > 0 && said.clouds.length === 0) return undefined;
  const stretches = reachedStretches({ kind: 'pilot-report', areas, validFromMs, validToMs }, leg);
  if (stretches.length === 0) return undefined;
  const edgesM = stretchEdgesM(leg.route);
  const reached = { fromM: edgesM[stretches[0]![0]]!, toM: edgesM[stretches.at(-1)![1] + 1]! };
  const beside = besideRoute(areas, leg.route);
  const within = (alongM: number) => Math.min(reached.toM, Math.max(reached.fromM, alongM));
  const abeam = beside && { fromM: within(beside.fromM), toM: within(beside.toM) };
  return {
    id: `note-${report.operator}-${report.id}`,
    reportKind: kind,
    said,
    issuedMs,
    geometry: beside === undefined ? null : pointOf(areas[0]!),
    fromRouteM: beside?.distanceM,
    ...(abeam ?? reached),
  };
}
