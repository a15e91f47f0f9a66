/** Where named fixes are. Identifiers of two to five letters are not unique in the world: a doubtful one has no place. */

import { greatCircleDistanceM, type Position } from '../../science/great-circle.ts';
import { mFromNm } from '../../science/units.ts';

export interface FixPlace extends Position {
  /**
   * Degrees east from true north to the north that the fix's radials count from: for a VOR the variation it was set to,
   * for others that of the place. undefined when not known.
   */
  readonly variationEastDeg?: number | undefined;
}

/** Every place that bears an identifier; none for an unknown one. */
export type FixLookup = (identifier: string) => readonly FixPlace[];

export interface FixContext {
  readonly fixes: FixLookup;
  /** Where the texts are about: no fix outside is taken, and of several the nearest to its middle. Unlimited without. */
  readonly area?: (Position & { readonly radiusM: number }) | undefined;
}

export type FoundFix =
  | { readonly kind: 'found'; readonly fix: FixPlace }
  | { readonly kind: 'unknown'; readonly reason: string };

/** Aids of one name within this distance are one station. */
const SAME_STATION_M = mFromNm(30);

/**
 * The place of an identifier. A four-letter one that is not known is tried without its K, C or P, a three-letter one
 * with a K before it: the same aerodrome or aid in the United States and Canada.
 *
 * @param anchor  a place that the fix is near, as another fix of the same text; undefined for none.
 * @checked       tests/formats/pilot-reports/place.test.ts
 */
export function findFix(identifier: string, context: FixContext, anchor?: Position): FoundFix {
  const { area } = context;
  const named = candidates(identifier, context.fixes);
  const inside = named.filter((fix) => area === undefined || greatCircleDistanceM(area, fix) <= area.radiusM);
  const first = inside[0];
  if (first === undefined) return { kind: 'unknown', reason: unknownReason(identifier, named.length) };
  if (inside.every((fix) => greatCircleDistanceM(first, fix) <= SAME_STATION_M))
    return { kind: 'found', fix: first };
  const from = anchor ?? area;
  if (from === undefined) {
    const reason = `fix: found ${identifier}, which names ${inside.length} places, expected one`;
    return { kind: 'unknown', reason };
  }
  const nearest = inside.reduce((best, fix) =>
    greatCircleDistanceM(from, fix) < greatCircleDistanceM(from, best) ? fix : best,
  );
  return { kind: 'found', fix: nearest };
}

function unknownReason(identifier: string, countOutside: number): string {
  const found = countOutside === 0 ? 'whose place is not known' : 'which is known outside the area only';
  return `fix: found ${identifier}, ${found}, expected a known fix`;
}

function candidates(identifier: string, fixes: FixLookup): readonly FixPlace[] {
  const exact = fixes(identifier);
  if (exact.length > 0) return exact;
  if (/^[KCP][A-Z]{3}$/.test(identifier)) return fixes(identifier.slice(1));
  if (/^[A-Z0-9]{3}$/.test(identifier)) return fixes(`K${identifier}`);
  return [];
}

/** Places of several identifiers of one text: the doubtful ones are those nearest to the ones that are certain. */
export function findFixes(
  identifiers: readonly string[],
  context: FixContext,
): ReadonlyMap<string, FixPlace> | string {
  const found = new Map<string, FixPlace>();
  const { fixes, area } = context;
  for (const identifier of identifiers) {
    const alone = findFix(identifier, { fixes, area: undefined });
    if (
      alone.kind !== 'found' ||
      (area !== undefined && greatCircleDistanceM(area, alone.fix) > area.radiusM)
    )
      continue;
    found.set(identifier, alone.fix);
  }
  const anchor = [...found.values()][0];
  for (const identifier of identifiers) {
    if (found.has(identifier)) continue;
    const result = findFix(identifier, context, anchor);
    if (result.kind === 'unknown') return result.reason;
    found.set(identifier, result.fix);
  }
  return found;
}
