/** A text of reports in any mixture as facts for the store; every piece is one of them, or rejected with its reason. */
import { readAerodromeText } from '../../formats/aerodrome-reports/read-aerodrome-reports.ts';
import { partsOfReports, type ReportKind as TextKind } from '../../formats/mixed-reports.ts';
import { readPilotReports } from '../../formats/pilot-reports/read-pilot-reports.ts';
import { plainText } from '../../formats/plain-text.ts';
import { readWarnings } from '../../formats/warnings/read-warnings.ts';
import type { Place } from '../ports.ts';
import type { FactContext, NewReport } from './make-report.ts';
import { metarFacts } from './metar-facts.ts';
import { pilotFacts } from './pilot-facts.ts';
import { tafFacts } from './taf-facts.ts';
import { warningFacts } from './warning-facts.ts';

export interface RejectedText {
  /** From 1. */
  readonly line: number;
  readonly reason: string;
  /** At most its first 200 characters. */
  readonly text: string;
}

export interface ReadReports {
  readonly reports: readonly NewReport[];
  readonly rejected: readonly RejectedText[];
}

export interface ReadContext {
  /** Epoch ms: month and year of every report are taken near this. */
  readonly nearMs: number;
  readonly nowMs: number;
  /** Observations later than this have a wrong month or clock, epoch ms. */
  readonly notAfterMs: number;
}

type PlaceOf = FactContext['placeOf'];

/** @returns every identifier that the text may need the place of. */
export function identifiersIn(text: string, context: ReadContext): string[] {
  const asked = new Set<string>();
  readReports(text, context, (identifier) => {
    if (/^[A-Z0-9]{2,5}$/.test(identifier)) asked.add(identifier);
    return undefined;
  });
  return [...asked];
}

/** Never throws. @checked tests/sources/read-reports.test.ts */
export function readReports(text: string, context: ReadContext, placeOf: PlaceOf): ReadReports {
  const reports: NewReport[] = [];
  const rejected: RejectedText[] = [];
  const reject = (line: number, reason: string, piece: string) =>
    rejected.push({ line, reason, text: piece.slice(0, 200) });
  const parts = partsOfReports(plainText(text));
  if (parts.size === 0)
    reject(1, 'text: found no report, expected METAR, TAF, SIGMET, AIRMET, UA or ARP', text.trim());
  for (const [kind, part] of parts) {
    for (const item of itemsOf(kind, part, context, placeOf)) {
      if ('reason' in item) reject(item.line, item.reason, item.text);
      else if (isAhead(item, context)) reject(item.line, aheadReason(item, context), item.report.text);
      else reports.push(item.report);
    }
  }
  return { reports, rejected: rejected.sort((a, b) => a.line - b.line) };
}

type Item = { readonly line: number; readonly report: NewReport } | RejectedText;

function* itemsOf(kind: TextKind, text: string, context: ReadContext, placeOf: PlaceOf): Generator<Item> {
  const { nearMs, nowMs } = context;
  const fixes = (identifier: string) => {
    const place = placeOf(identifier);
    return place === undefined ? [] : [place];
  };
  const facts: FactContext = { nowMs, fixes, placeOf };
  if (kind === 'aerodrome-reports') yield* aerodromeItems(text, nearMs, facts);
  else if (kind === 'pilot-reports') {
    for (const item of readPilotReports(text, { referenceMs: nearMs, fixes }))
      yield item.kind === 'refused' ? item : { line: item.line, report: pilotFacts(item, facts) };
  } else {
    for (const item of readWarnings(text, { referenceMs: nearMs, fixes })) {
      const read = item.kind === 'refused' ? item.reason : warningFacts(item, facts);
      if (typeof read === 'string') yield { line: item.line, reason: read, text: item.text };
      else yield { line: item.line, report: read };
    }
  }
}

function* aerodromeItems(text: string, nearMs: number, facts: FactContext): Generator<Item> {
  for (const item of readAerodromeText(text, { nearMs })) {
    const { line } = item.place;
    if (item.kind === 'refused') yield { line, reason: item.reason, text: item.text };
    else if (item.report.kind === 'taf') yield { line, report: tafFacts(item.report, facts) };
    else yield { line, report: metarFacts(item.report, facts) };
  }
}

function isAhead(item: Exclude<Item, RejectedText>, { notAfterMs }: ReadContext): boolean {
  const { hazardKind, issuedMs } = item.report;
  return (hazardKind === 'surface-report' || hazardKind === 'pilot-report') && issuedMs > notAfterMs;
}

function aheadReason({ report }: Exclude<Item, RejectedText>, { notAfterMs }: ReadContext): string {
  const found = new Date(report.issuedMs).toISOString();
  return `time: found ${found}, expected an observation that has been made (before ${new Date(notAfterMs).toISOString()})`;
}

/** A lookup of what was found. */
export function placesBy(found: ReadonlyMap<string, Place>): PlaceOf {
  return (identifier) => found.get(identifier);
}
