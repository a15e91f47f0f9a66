/**
 * Gathers the decoded fields of one file into hours and publishes each hour whole.
 *
 * Fields are cropped to the operating area as they arrive, so memory is the cropped hour, never the file.
 */
import type { Area } from '../env.ts';
import { InvalidRequestError } from '../errors.ts';
import type { Grib2Field } from '../formats/grib2/field.ts';
import { centreName, cloudBasis, humidityBasis } from '../sources/grid-basis.ts';
import { type GridCrop, gridCrop } from '../sources/grid-crop.ts';
import { plausibleRange } from '../sources/grid-plausible.ts';
import { type WantedSlice, wantedSlices } from '../sources/grid-quantities.ts';
import type { GridManifest } from '../sources/ports.ts';
import { SHARD_SIDE, shardPlaces } from './grid-chunks.ts';
import { clampShares, pressureVelocity, settleCondensate, turnWinds } from './grid-conversions.ts';
import { type HourInMemory, type HourSlice, isOutranked, putSlice, sliceKey } from './grid-hour.ts';
import { humidityOverWater } from './grid-humidity.ts';
import { chooseLevels } from './grid-levels.ts';
import { type PublishDeps, publishHour } from './publish-hour.ts';

/** All cropped fields of one upload together may take this much memory, bytes. */
const MOST_BYTES = 80 * 1024 * 1024;

/** Objects an hour may have: a request may call its stores 1000 times. */
const MOST_SHARDS = 900;

export interface GridWriter {
  /** A field that is damaged is kept all the same: its impossible values count as missing. */
  add(field: Grib2Field): AddedField;
  /** An hour of which nothing is left, since its fields say nothing without others, is not published: it would hide a good one. */
  publish(
    rejected: GridManifest['rejected'],
    nowMs: () => number,
  ): Promise<{
    readonly hours: readonly { readonly manifest: GridManifest; readonly replaced: boolean }[];
    /** Fields that were added and are not kept after all. */
    readonly droppedFields: number;
  }>;
}

export type AddedField =
  | { readonly kind: 'kept' | 'skipped' }
  | { readonly kind: 'damaged'; readonly offsetBytes: number; readonly reason: string };

export interface GridWriterDeps extends PublishDeps {
  readonly area: Area | undefined;
}

export function createGridWriter(deps: GridWriterDeps): GridWriter {
  const hours = new Map<string, HourInMemory>();
  let heldBytes = 0;
  return {
    add(field) {
      const wanted = wantedSlices(field);
      const hour = wanted.length === 0 ? undefined : hourOf(hours, field, deps.area);
      if (hour === undefined) return { kind: 'skipped' };
      const reasons: string[] = [];
      let isKept = false;
      for (const each of wanted) {
        if (isOutranked(hour, each)) continue;
        const slice = toSlice(field, hour.crop, each);
        heldBytes += slice.values.byteLength - (hour.slices.get(keyOf(slice))?.values.byteLength ?? 0);
        refuseTooMuch(heldBytes);
        const reason = dropImpossible(slice);
        if (reason !== undefined) reasons.push(reason);
        putSlice(hour, slice);
        isKept = true;
      }
      const [reason] = reasons;
      if (reason === undefined) return { kind: isKept ? 'kept' : 'skipped' };
      return { kind: 'damaged', offsetBytes: field.messageOffsetBytes, reason };
    },

    async publish(rejected, nowMs) {
      const published = [];
      let droppedFields = 0;
      for (const hour of hours.values()) {
        droppedFields += settle(hour, rejected.length > 0);
        if (hour.slices.size > 0) published.push(await publishHour(deps, hour, { rejected, nowMs }));
      }
      return { hours: published, droppedFields };
    },
  };
}

const keyOf = (slice: HourSlice) => sliceKey(slice.quantity, slice);

function refuseTooMuch(heldBytes: number): void {
  if (heldBytes <= MOST_BYTES) return;
  throw new InvalidRequestError({
    field: 'body',
    found: `more than ${MOST_BYTES / 1024 / 1024} MiB of wanted fields after cropping`,
    expected: 'a smaller grid, or a setting OPERATING_AREA that crops it',
  });
}

function hourOf(
  hours: Map<string, HourInMemory>,
  field: Grib2Field,
  area: Area | undefined,
): HourInMemory | undefined {
  const model = `${field.centre}-${field.generatingProcess}-${field.grid.nx}x${field.grid.ny}`;
  const key = `${model} ${field.referenceTimeMs} ${field.validTimeMs} ${field.grid.key}`;
  const known = hours.get(key);
  if (known !== undefined) return known;
  const crop = gridCrop(field.grid, area);
  if (crop === undefined) return undefined;
  if (shardPlaces(crop).length > MOST_SHARDS) {
    throw new InvalidRequestError({
      field: 'body',
      found: `a grid of ${crop.nx} x ${crop.ny} points after cropping`,
      expected: `at most ${MOST_SHARDS} squares of ${SHARD_SIDE} x ${SHARD_SIDE} points: set OPERATING_AREA`,
    });
  }
  const hour: HourInMemory = {
    model,
    attribution: centreName(field.centre),
    runMs: field.referenceTimeMs,
    validMs: field.validTimeMs,
    grid: field.grid,
    crop,
    humidityBasis: humidityBasis(field),
    cloudBasis: cloudBasis(field),
    condensateBasis: 'none',
    slices: new Map(),
  };
  hours.set(key, hour);
  return hour;
}

function toSlice(field: Grib2Field, crop: GridCrop, wanted: WantedSlice): HourSlice {
  const { toSi, ...slice } = wanted;
  const values = new Float32Array(crop.nx * crop.ny);
  for (let row = 0; row < crop.ny; row += 1) {
    const from = (crop.j0 + row) * field.grid.nx;
    let i = crop.i0;
    for (let column = 0; column < crop.nx; column += 1) {
      values[row * crop.nx + column] = toSi(field.values[from + i]!);
      i = i + 1 === field.grid.nx ? 0 : i + 1;
    }
  }
  return { ...slice, values };
}

/** In place: impossible values become missing. @returns what was found and expected, undefined when all are possible. */
function dropImpossible({ quantity, form, values }: HourSlice): string | undefined {
  const [low, high] = plausibleRange(quantity, form);
  let count = 0;
  let example = Number.NaN;
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index]!;
    if (Number.isNaN(value) || (value >= low && value <= high)) continue;
    count += 1;
    example = value;
    values[index] = Number.NaN;
  }
  if (count === 0) return undefined;
  const name = form === 'as-named' ? quantity : `${quantity} as ${form}`;
  return `${name}: found ${count} values such as ${example}, expected ${low} to ${high}; they count as missing`;
}

/** Everything that needs the whole hour, in the order in which one needs the other. @returns how many fields went. */
function settle(hour: HourInMemory, mayLackLevels: boolean): number {
  const before = hour.slices.size;
  const madeUp = chooseLevels(hour, { mayLackLevels });
  pressureVelocity(hour);
  humidityOverWater(hour);
  settleCondensate(hour);
  clampShares(hour);
  turnWinds(hour);
  return before + madeUp - hour.slices.size;
}
