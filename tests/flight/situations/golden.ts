/** Every situation whose decision was argued by hand before any rule for it was coded. */
import { GOLDEN_DECKS } from './golden-decks.ts';
import { GOLDEN_FLUID } from './golden-fluid.ts';
import { GOLDEN_LIMITS } from './golden-limits.ts';
import { GOLDEN_REPORTS } from './golden-reports.ts';
import { GOLDEN_ROUTE } from './golden-route.ts';
import type { Situation } from './situation.ts';

export const GOLDEN: readonly Situation[] = [
  ...GOLDEN_DECKS,
  ...GOLDEN_ROUTE,
  ...GOLDEN_FLUID,
  ...GOLDEN_LIMITS,
  ...GOLDEN_REPORTS,
];
