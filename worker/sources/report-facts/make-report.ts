/** What the kinds of report have in common on their way into the store. */
import type { HazardArea } from '../../flight/hazard-areas.ts';
import type { FixLookup } from '../../formats/pilot-reports/fix-places.ts';
import type { Place } from '../ports.ts';
import { regionBox } from '../region-boxes.ts';
import type { Report, ReportedIce } from '../reports.ts';

/** A report before it has its identifier, which is made of all of it. */
export type NewReport = Omit<Report, 'id'>;

/** What the texts do not say themselves. */
export interface FactContext {
  /** Epoch ms: what bears no time is taken to be of this instant, and to hold from then on. */
  readonly nowMs: number;
  readonly fixes: FixLookup;
  /** A place of that very identifier, with its elevation. */
  readonly placeOf: (identifier: string) => Place | undefined;
}

export const MS_PER_HOUR = 3_600_000;

/** "11:53 UTC". */
export function clockWords(instantMs: number): string {
  return `${new Date(instantMs).toISOString().slice(11, 16)} UTC`;
}

export const OPEN = { kind: 'open' } as const;

/** Somewhere in the region of an indicator, or anywhere. */
export function somewhereIn(indicator: string | undefined): HazardArea {
  return { kind: 'unknown', box: regionBox(indicator) };
}

/**
 * What a report from one place says when nobody knows the place: most likely it is elsewhere, so it counts all along a leg
 * but never as more than unstated. A warning, which speaks for wide areas, keeps its severity.
 */
export function fromUnknownPlace(ice: readonly ReportedIce[]): ReportedIce[] {
  return ice.map((each) => ({
    ...each,
    severity: 'unstated',
    sentence: `${each.sentence}, place not known`,
  }));
}
