/** Reports of every kind in one text as JSON for people, each read by the reader of its own kind. */
import { inspectAerodromeReports } from './aerodrome-reports/inspect.ts';
import { partsOfReports, type ReportKind } from './mixed-reports.ts';
import { inspectPilotReports } from './pilot-reports/inspect.ts';
import { plainText } from './plain-text.ts';
import { inspectWarnings } from './warnings/inspect.ts';

/**
 * @param nearMs  Epoch ms UTC: month and year are taken near this. Fixes are not looked up.
 * @param kind    of the whole text; undefined to read each line by its own kind.
 * @returns       one object a report or refused text, in the order of their lines.
 */
export function inspectReports(text: string, nearMs: number, kind: ReportKind | undefined): object[] {
  const plain = plainText(text);
  const parts = kind === undefined ? partsOfReports(plain) : new Map([[kind, plain]]);
  const items = [...parts].flatMap(([each, part]) => [...inspectedPart(each, part, nearMs)]);
  return items.sort((a, b) => lineOf(a) - lineOf(b));
}

const lineOf = (item: object) => (item as { readonly line: number }).line;

function inspectedPart(kind: ReportKind, text: string, nearMs: number): Iterable<object> {
  if (kind === 'aerodrome-reports') return inspectAerodromeReports(text, { nearMs });
  const context = { referenceMs: nearMs, fixes: () => [] };
  return kind === 'pilot-reports' ? inspectPilotReports(text, context) : inspectWarnings(text, context);
}
