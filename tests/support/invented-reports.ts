/** Texts of reports read as the service reads them, over two invented aerodromes and a beacon. */
import type { Place } from '../../worker/sources/ports.ts';
import type { NewReport } from '../../worker/sources/report-facts/make-report.ts';
import { readReports } from '../../worker/sources/report-facts/read-reports.ts';

export const NOW_MS = Date.UTC(2026, 0, 14, 12);

const aerodrome = (ident: string, lonDeg: number): Place => ({
  ident,
  name: `Field ${ident}`,
  latDeg: 44.5,
  lonDeg,
  elevationM: 100,
  kind: 'aerodrome',
});

/** AAAA and BBBB are 86 NM apart on one parallel; CCC is a beacon between them, KFAR a field far from both. */
export const INVENTED_PLACES: readonly Place[] = [
  aerodrome('AAAA', -73),
  aerodrome('BBBB', -71),
  { ...aerodrome('CCC', -72), kind: 'fix' },
  { ...aerodrome('KFAR', -100), latDeg: 35 },
];

export const READING = { nearMs: NOW_MS, nowMs: NOW_MS, notAfterMs: NOW_MS + 3 * 3_600_000 };

export function readInvented(text: string) {
  return readReports(text, READING, (ident) => INVENTED_PLACES.find((place) => place.ident === ident));
}

/** The ice of a text on one line each: severity, from and to in hours and minutes, sentence. */
export function iceLines(text: string): string[] {
  const clock = (ms: number) => new Date(ms).toISOString().slice(8, 16).replace('T', ' ');
  return readInvented(text).reports.flatMap(({ ice }) =>
    ice.map(
      ({ severity, fromMs, toMs, sentence }) => `${severity} ${clock(fromMs)}-${clock(toMs)} ${sentence}`,
    ),
  );
}

export function onlyReport(text: string): NewReport {
  const { reports, rejected } = readInvented(text);
  if (reports.length !== 1) throw new Error(`found ${reports.length} reports, ${JSON.stringify(rejected)}`);
  return reports[0]!;
}
