/** Whether a decoded field is what the inventory said of its place; a field that is not is never used. */
import { FormatError } from '../errors.ts';
import type { Grib2FieldHeader } from '../formats/grib2/field.ts';
import type { InventoryEntry } from '../formats/inventory-line.ts';
import type { WantedEntry } from './inventory-fields.ts';
import { instantHour, isNamed } from './inventory-names.ts';

/**
 * `used`: as one of the wanted entries at its place says; `unasked`: an entry there that is not wanted may name it; else the
 * index disagrees with the file.
 */
export type Judged =
  | { readonly kind: 'used' | 'unasked' }
  | { readonly kind: 'disagrees'; readonly error: FormatError };

export interface IndexCheck {
  /** @param offsetBytes  Of the message in the remote file. */
  judge(header: Grib2FieldHeader, offsetBytes: number): Judged;
  /**
   * Wanted entries whose field has not been met; asked once all is read.
   *
   * @param rejectedOffsets  Of messages that have been rejected for another reason: theirs is told already.
   */
  unmet(rejectedOffsets: ReadonlySet<number>): FormatError[];
}

interface Place {
  readonly wanted: WantedEntry[];
  /** Fields of the message that the inventory names, wanted or not. */
  namedCount: number;
  readonly found: string[];
}

const HOUR_MS = 3_600_000;

/** @param all  Every entry of the inventory. */
export function createIndexCheck(wanted: readonly WantedEntry[], all: readonly InventoryEntry[]): IndexCheck {
  const places = placesOf(wanted, all);
  const met = new Set<WantedEntry>();
  return {
    judge(header, offsetBytes) {
      const place = places.get(offsetBytes);
      const entry = place?.wanted.find((each) => !met.has(each) && agrees(each, header));
      if (entry !== undefined) {
        met.add(entry);
        return { kind: 'used' };
      }
      place?.found.push(describe(header));
      if (place !== undefined && place.namedCount > place.wanted.length) return { kind: 'unasked' };
      const promised = place?.wanted.map((each) => promise(each.entry)).join('; ') ?? 'no message here';
      return { kind: 'disagrees', error: disagreement(offsetBytes, describe(header), promised) };
    },
    unmet: (rejectedOffsets) =>
      wanted
        .filter((each) => !met.has(each) && !rejectedOffsets.has(each.entry.offsetBytes))
        .map(({ entry }) => {
          const found = places.get(entry.offsetBytes)?.found.join('; ') ?? '';
          return disagreement(entry.offsetBytes, found === '' ? 'no such field' : found, promise(entry));
        }),
  };
}

function placesOf(wanted: readonly WantedEntry[], all: readonly InventoryEntry[]): Map<number, Place> {
  const places = new Map<number, Place>();
  for (const each of wanted) {
    const { offsetBytes } = each.entry;
    const place = places.get(offsetBytes);
    if (place !== undefined) place.wanted.push(each);
    else places.set(offsetBytes, { wanted: [each], namedCount: 0, found: [] });
  }
  for (const { offsetBytes } of all) {
    const place = places.get(offsetBytes);
    if (place !== undefined) place.namedCount += 1;
  }
  return places;
}

/** Parameter, surface, run and instant; a statistic over an interval is never an instant. */
function agrees({ entry, named }: WantedEntry, header: Grib2FieldHeader): boolean {
  const hour = instantHour(entry.forecast) ?? Number.NaN;
  const isInstant = header.productTemplate === 0 || header.productTemplate === 1;
  return (
    isInstant &&
    isNamed(named, header) &&
    header.referenceTimeMs === entry.referenceTimeMs &&
    header.validTimeMs === entry.referenceTimeMs + hour * HOUR_MS
  );
}

function describe({ parameter, level, secondLevel, ...header }: Grib2FieldHeader): string {
  const { discipline, category, number } = parameter;
  const second = secondLevel === undefined ? '' : ` to ${secondLevel.type}:${secondLevel.value}`;
  const run = instant(header.referenceTimeMs);
  return `${discipline}.${category}.${number} on ${level.type}:${level.value}${second}, run ${run}, valid ${instant(header.validTimeMs)}, template 4.${header.productTemplate}`;
}

function promise({ parameter, level, referenceTimeMs, forecast, line }: InventoryEntry): string {
  return `${parameter} ${level}, run ${instant(referenceTimeMs)}, ${forecast} (line ${line})`;
}

const instant = (ms: number) => (Number.isFinite(ms) ? new Date(ms).toISOString() : String(ms));

function disagreement(offsetBytes: number, found: string, expected: string): FormatError {
  const place = { unit: 'byte', offsetBytes } as const;
  return new FormatError({
    format: 'GRIB2',
    place,
    what: 'field against the index of the file',
    found,
    expected,
  });
}
