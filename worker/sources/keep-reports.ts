/** Texts of reports into the store: places looked up once, each report under an identifier made of all of it. */
import type { PlaceRepository } from './ports.ts';
import type { NewReport } from './report-facts/make-report.ts';
import {
  identifiersIn,
  placesBy,
  type ReadContext,
  type RejectedText,
  readReports,
} from './report-facts/read-reports.ts';
import type { Report, ReportRepository } from './reports.ts';
import { sha256Hex } from './sha256-hex.ts';

export interface KeptReports {
  readonly reports: readonly Report[];
  readonly rejected: readonly RejectedText[];
}

/** Fixes are those of the operator and the bundled aerodromes: nobody else's may move a warning to another place. */
export async function keepReports(
  stores: { readonly reports: ReportRepository; readonly places: PlaceRepository },
  operator: string,
  text: string,
  context: ReadContext,
): Promise<KeptReports> {
  const found = await stores.places.byIdents([operator], identifiersIn(text, context));
  const { reports, rejected } = readReports(text, context, placesBy(found));
  const identified = await Promise.all(reports.map(withId));
  await stores.reports.put(operator, identified, context.nowMs);
  return { reports: identified, rejected };
}

/** Hex digits of a SHA-256; 80 bits. */
const ID_LENGTH = 20;

async function withId(report: NewReport): Promise<Report> {
  const { kind, series, issuedMs, text } = report;
  const digits = await sha256Hex(JSON.stringify([kind, series, issuedMs, text]));
  return { ...report, id: digits.slice(0, ID_LENGTH) };
}
