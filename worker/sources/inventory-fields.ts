/** Which entries of an inventory an hour wants: those that wantedSlices keeps, and of two that say the same only the better. */
import type { InventoryEntry } from '../formats/inventory-line.ts';
import type { SourceIdentity } from './grid-basis.ts';
import { type SliceForm, type WantedSlice, wantedSlices } from './grid-quantities.ts';
import { instantHour, type NamedField, namedField } from './inventory-names.ts';
import type { ModelHour } from './open-models.ts';

export interface WantedEntry {
  readonly entry: InventoryEntry;
  readonly named: NamedField;
  /** What its field fills. */
  readonly slices: readonly WantedSlice[];
}

export interface WantedEntries {
  /** In the order of the inventory. */
  readonly wanted: readonly WantedEntry[];
  /** Entries left out, counted by why. */
  readonly leftOut: Readonly<Record<LeftOut, number>>;
}

/**
 * `not-kept`: a name or level that no hour keeps; `no-instant`: an average, accumulation, extreme or member; `other-time`: of another
 * run or forecast hour than the file asked for; `outranked`: another entry says it better; `repeated`: an earlier entry says the same.
 */
export type LeftOut = 'not-kept' | 'no-instant' | 'other-time' | 'outranked' | 'repeated';

/** The best form first: the order in which a grid hour trusts them (tests hold it to the store's own). */
const BEST_FIRST: readonly SliceForm[] = [
  'specific-humidity',
  'dew-point',
  'dew-point-depression',
  'as-named',
  'geometric-velocity',
  'total-condensate',
];

/** @param origin  Of the model; a local parameter means something only for its own centre. */
export function wantedEntries(
  entries: readonly InventoryEntry[],
  origin: Pick<SourceIdentity, 'centre' | 'generatingProcess'>,
  hour: ModelHour,
): WantedEntries {
  const leftOut: Record<LeftOut, number> = {
    'not-kept': 0,
    'no-instant': 0,
    'other-time': 0,
    outranked: 0,
    repeated: 0,
  };
  const candidates: WantedEntry[] = [];
  for (const entry of entries) {
    const judged = judge(entry, origin, hour);
    if (typeof judged === 'string') leftOut[judged] += 1;
    else candidates.push(judged);
  }
  return { wanted: bestOf(candidates, leftOut), leftOut };
}

function judge(
  entry: InventoryEntry,
  origin: Pick<SourceIdentity, 'centre' | 'generatingProcess'>,
  { runMs, forecastHour }: ModelHour,
): WantedEntry | LeftOut {
  const named = namedField(entry);
  if (named === undefined) return 'not-kept';
  const at = instantHour(entry.forecast);
  if (at === undefined) return 'no-instant';
  const field = {
    ...origin,
    level: named.level,
    secondLevel: undefined,
    member: undefined,
    productTemplate: 0,
    referenceTimeMs: entry.referenceTimeMs,
  };
  const slices =
    named.parameters
      .map((parameter) => wantedSlices({ ...field, parameter }))
      .find((each) => each.length > 0) ?? [];
  if (slices.length === 0) return 'not-kept';
  if (entry.referenceTimeMs !== runMs || at !== forecastHour) return 'other-time';
  return { entry, named, slices };
}

/** Keeps an entry when it is the first of the best form for one of its slices. */
function bestOf(candidates: readonly WantedEntry[], leftOut: Record<LeftOut, number>): WantedEntry[] {
  const hasSurfacePressure = candidates.some(({ slices }) =>
    slices.some(({ quantity }) => quantity === 'surfacePressurePa'),
  );
  const best = new Map<string, { readonly rank: number; readonly candidate: WantedEntry }>();
  for (const candidate of candidates) {
    for (const slice of candidate.slices) {
      const rank = rankOf(slice, hasSurfacePressure);
      const held = best.get(keyOf(slice));
      if (held === undefined || rank < held.rank) best.set(keyOf(slice), { rank, candidate });
    }
  }
  return candidates.filter((candidate) => {
    const bests = candidate.slices.map((slice) => best.get(keyOf(slice))!);
    if (bests.some((each) => each.candidate === candidate)) return true;
    const isTie = candidate.slices.some((slice, at) => bests[at]!.rank === rankOf(slice, hasSurfacePressure));
    leftOut[isTie ? 'repeated' : 'outranked'] += 1;
    return false;
  });
}

/** Specific humidity at the screen says nothing without the pressure there: then any other form is better. */
function rankOf({ form, quantity }: WantedSlice, hasSurfacePressure: boolean): number {
  const lacksPressure =
    form === 'specific-humidity' && quantity === 'screenRelativeHumidityRatio' && !hasSurfacePressure;
  return lacksPressure ? BEST_FIRST.length : BEST_FIRST.indexOf(form);
}

const keyOf = ({ quantity, levelPa }: WantedSlice) => `${quantity}@${levelPa}`;
