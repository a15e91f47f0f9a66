/** A few invented fixes, a reference time, and a reader of exactly one report. */
import type { FixPlace } from '../../../worker/formats/pilot-reports/fix-places.ts';
import type { ReportContext } from '../../../worker/formats/pilot-reports/pirep.ts';
import { readPilotReports } from '../../../worker/formats/pilot-reports/read-pilot-reports.ts';
import type { PilotReport } from '../../../worker/formats/pilot-reports/report.ts';

/** On the equator and a meridian, so that 60 NM are a degree of arc within 0.1 %. */
export const FIXES: Readonly<Record<string, readonly FixPlace[]>> = {
  ABC: [{ latDeg: 0, lonDeg: -90, variationEastDeg: 10 }],
  DEF: [{ latDeg: 2, lonDeg: -90 }],
  KGHI: [{ latDeg: 45, lonDeg: -75, variationEastDeg: -14 }],
  TWO: [
    { latDeg: 1, lonDeg: -89 },
    { latDeg: -30, lonDeg: 150 },
  ],
};

/** 2026-01-15 14:30 UTC. */
export const REFERENCE_MS = Date.UTC(2026, 0, 15, 14, 30);

export const CONTEXT: ReportContext = {
  referenceMs: REFERENCE_MS,
  fixes: (identifier) => FIXES[identifier] ?? [],
};

/** The one report of a text; throws when it holds another count, or a refusal. */
export function readOne(text: string, context: ReportContext = CONTEXT): PilotReport {
  const [item, ...more] = readPilotReports(text, context);
  if (item === undefined || more.length > 0) throw new Error(`${more.length + 1} reports, expected one`);
  if (item.kind === 'refused') throw new Error(item.reason);
  return item;
}
