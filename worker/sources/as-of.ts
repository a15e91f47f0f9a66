/**
 * The stores as they were at an instant: without what came since. What was replaced by the same thing loaded again is gone, so a
 * brief made from it may come out otherwise.
 */
import type { BriefReads } from './ports.ts';

export function storesAsOf(deps: BriefReads, instantMs: number): BriefReads {
  const hadCome = ({ ingestedMs }: { readonly ingestedMs: number }) => ingestedMs <= instantMs;
  return {
    ...deps,
    soundings: {
      ...deps.soundings,
      find: async (query) => (await deps.soundings.find(query)).filter(hadCome),
    },
    grids: {
      ...deps.grids,
      find: async (operators, fromMs, toMs) =>
        (await deps.grids.find(operators, fromMs, toMs)).filter(hadCome),
    },
    reports: {
      ...deps.reports,
      find: async (query) => {
        const found = await deps.reports.find(query);
        return { ...found, reports: found.reports.filter(hadCome) };
      },
      findNotes: async (query) => {
        const found = await deps.reports.findNotes(query);
        return { ...found, reports: found.reports.filter(hadCome) };
      },
      ofAerodrome: async (query) => (await deps.reports.ofAerodrome(query)).filter(hadCome),
    },
    holdoverTables: {
      ...deps.holdoverTables,
      list: async (operators) => (await deps.holdoverTables.list(operators)).filter(hadCome),
    },
  };
}
