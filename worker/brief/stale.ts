/** When newer data is due, so that a brief can say from when on it should be asked again. */
import type { UsedSource } from './gather-weather.ts';
import { utc } from './utc.ts';

/** Ascents are made every 12 h and are there about an hour and a half after their hour (common practice). */
const NEXT_SOUNDING_MS = 13.5 * 3_600_000;
/** Global models run every 6 h and their files are there about five hours after the run (common practice). */
const NEXT_RUN_MS = 11 * 3_600_000;

/**
 * @param usedByAir  The sources of each air in use; none makes another fresh.
 * @returns the earliest instant at which the ascents in use, or any one of the models, are due to be replaced, to the
 *   second; null without sources. A model's newest run counts; a newer one of another model does not make it fresh.
 */
export function staleAtUtc(usedByAir: readonly (readonly UsedSource[])[]): string | null {
  const staleMs = usedByAir.flatMap((used) => staleAtMs(used) ?? []);
  return staleMs.length === 0 ? null : utc(Math.min(...staleMs));
}

function staleAtMs(used: readonly UsedSource[]): number | undefined {
  const newestMs = new Map<string, number>();
  for (const source of used) {
    const isGrid = source.kind === 'grid';
    const key = isGrid ? `grid ${source.name}` : 'ascents';
    const dueMs = isGrid ? (source.runMs ?? source.validMs) + NEXT_RUN_MS : source.validMs + NEXT_SOUNDING_MS;
    newestMs.set(key, Math.max(dueMs, newestMs.get(key) ?? dueMs));
  }
  return newestMs.size === 0 ? undefined : Math.min(...newestMs.values());
}
