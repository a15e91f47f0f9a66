/** One report from its text; anything else than exactly one fails the test. */
import { expect } from 'vitest';
import {
  type AerodromeItem,
  readAerodromeText,
} from '../../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { MetarReport, TafReport } from '../../../worker/formats/aerodrome-reports/report.ts';
import type { UnreadText } from '../../../worker/formats/pilot-reports/report.ts';

/** 2026-01-15 15 UTC. */
export const NEAR_MS = Date.UTC(2026, 0, 15, 15);

export const read = (text: string, nearMs = NEAR_MS): AerodromeItem[] => readAerodromeText(text, { nearMs });

export function metar(text: string, nearMs = NEAR_MS): MetarReport {
  const item = only(text, nearMs);
  if (item.kind !== 'report' || item.report.kind === 'taf')
    throw new Error(`no METAR: ${JSON.stringify(item)}`);
  return item.report;
}

export function taf(text: string, nearMs = NEAR_MS): TafReport {
  const item = only(text, nearMs);
  if (item.kind !== 'report' || item.report.kind !== 'taf')
    throw new Error(`no TAF: ${JSON.stringify(item)}`);
  return item.report;
}

/** Groups that were not understood, without their reasons. */
export const textsOf = (unread: readonly UnreadText[]): string[] => unread.map(({ text }) => text);

/** The reason for which the only report of a text is refused. */
export function refusal(text: string): string {
  const item = only(text, NEAR_MS);
  if (item.kind !== 'refused') throw new Error(`not refused: ${JSON.stringify(item)}`);
  return item.reason;
}

/** A METAR with these groups after station and time. */
export const body = (groups: string): MetarReport => metar(`METAR KZZZ 151453Z ${groups}=`);

/** The remarks of a METAR; NEAR_MS is 7 minutes after its time. */
export function remarksOf(groups: string): NonNullable<MetarReport['remarks']> {
  const { remarks } = body(`00000KT 10SM CLR 00/M01 A2992 RMK ${groups}`);
  if (remarks === null) throw new Error('no remarks');
  return remarks;
}

function only(text: string, nearMs: number): AerodromeItem {
  const items = read(text, nearMs);
  expect(items).toHaveLength(1);
  return items[0]!;
}
