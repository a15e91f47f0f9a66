/** Bulletins of pilot reports: PIREP (UA, UUA) and air-reports (ARP, ARS, AIREP), in any mixture. */
import { AIREP_START, readAirep } from './airep.ts';
import { type BulletinLine, bulletinMessages, joined, quoted, type RefusedText } from './bulletin.ts';
import { bulletinTimeMs } from './instants.ts';
import { PIREP_START, type ReportContext, readPirep } from './pirep.ts';
import type { PilotReport } from './report.ts';

/** A single report is far shorter; a longer text has lost its ends. */
const LONGEST_REPORT = 3000;

/**
 * Reads every report of a text, in order. A report ends at an equals sign or where a line begins another; its day is
 * that of the bulletin's heading, whose month and year are the nearest to `context.referenceMs`.
 *
 * Never throws. Every line that is not blank is a heading, part of a report or part of a refusal.
 *
 * @checked tests/formats/pilot-reports/bulletin.test.ts, tests/data/pilot-reports.test.ts
 */
export function* readPilotReports(
  text: string,
  context: ReportContext,
): Generator<PilotReport | RefusedText> {
  for (const { lines, heading } of bulletinMessages(text)) {
    const referenceMs = bulletinTimeMs(heading, context.referenceMs);
    for (const report of reportsIn(lines)) yield readOne(report, { ...context, referenceMs });
  }
}

function readOne(lines: readonly BulletinLine[], context: ReportContext): PilotReport | RefusedText {
  const { line } = lines[0]!;
  const text = joined(lines);
  if (text.length > LONGEST_REPORT) {
    const reason = `report: found ${text.length} characters, expected at most ${LONGEST_REPORT}`;
    return { kind: 'refused', line, text, reason };
  }
  if (PIREP_START.test(text)) return readPirep(text, line, context);
  if (AIREP_START.test(text)) return readAirep(text, line, context);
  const reason = `report: found ${quoted(text)}, expected a station and UA or UUA, or ARP, ARS or AIREP`;
  return { kind: 'refused', line, text, reason };
}

/** A message's lines, parted where a line begins a report: the sign between two is sometimes missing. */
function reportsIn(lines: readonly BulletinLine[]): BulletinLine[][] {
  const reports: BulletinLine[][] = [];
  for (const line of lines) {
    const isStart = PIREP_START.test(line.text) || AIREP_START.test(line.text);
    if (isStart || reports.length === 0) reports.push([line]);
    else reports.at(-1)!.push(line);
  }
  return reports;
}
