/** When newer data is due, so that a brief can say from when on it should be asked again. */
import type { UsedSource } from './gather-weather.ts';

/** Ascents are made every 12 h and are there about an hour and a half after their hour (common practice). */
const NEXT_SOUNDING_MS = 13.5 * 3_600_000;
/** Global models run every 6 h and their files are there about five hours after the run (common practice). */
const NEXT_RUN_MS = 11 * 3_600_000;

/** @returns the earliest instant at which one kind of source in use is due to be replaced; undefined without sources. */
export function staleAtMs(used: readonly UsedSource[]): number | undefined {
  const newest = (kind: UsedSource['kind'], timeOf: (source: UsedSource) => number) =>
    Math.max(...used.filter((source) => source.kind === kind).map(timeOf));
  const due = Math.min(
    ...[
      newest('sounding', (source) => source.validMs) + NEXT_SOUNDING_MS,
      newest('grid', (source) => source.runMs ?? source.validMs) + NEXT_RUN_MS,
    ].filter(Number.isFinite),
  );
  return Number.isFinite(due) ? due : undefined;
}
