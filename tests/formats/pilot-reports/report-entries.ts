/** Entries of a pilot report: a plain one to change, and what composing it gives. */
import {
  composePirep,
  type EntryFault,
  type ReportEntry,
} from '../../../worker/formats/pilot-reports/compose.ts';

const PLAIN: ReportEntry = {
  station: 'ABC',
  place: { kind: 'fix', identifier: 'ABC' },
  timeMs: Date.UTC(2026, 0, 15, 14, 12),
  altitudeFt: 9000,
  phase: undefined,
  aircraftType: 'ZZZZ',
  sky: [],
  visibilitySm: undefined,
  weather: [],
  temperatureC: undefined,
  wind: undefined,
  turbulence: { kind: 'not-reported' },
  icing: { kind: 'not-reported' },
  remarks: '',
  isJudgedHazardous: false,
};

/** ABC UA /OV ABC/TM 1412/FL090/TP ZZZZ, with what is changed. */
export const entryWith = (changed: Partial<ReportEntry> = {}): ReportEntry => ({ ...PLAIN, ...changed });

/** The composed text; throws where there are faults. */
export function composed(entry: ReportEntry): string {
  const report = composePirep(entry);
  if (report.kind === 'faults') throw new Error(JSON.stringify(report.faults));
  return report.text;
}

export function faultsOf(entry: ReportEntry): readonly EntryFault[] {
  const report = composePirep(entry);
  return report.kind === 'faults' ? report.faults : [];
}
