/** The wanted fields of one run and forecast hour out of an open bucket: index, plan, ranges, fields that agree with the index. */
import { FormatError, SourceError, type UnsupportedError } from '../errors.ts';
import type { Grib2Item } from '../formats/grib2/decode-message.ts';
import type { Grib2FieldHeader } from '../formats/grib2/field.ts';
import { readGrib2 } from '../formats/grib2/read-grib2.ts';
import { type Inventory, readInventory } from '../formats/inventory.ts';
import { createIndexCheck, type IndexCheck } from './index-check.ts';
import { type LeftOut, type WantedEntry, wantedEntries } from './inventory-fields.ts';
import { lostFields } from './inventory-levels.ts';
import { cutMessages, type MessageCutter } from './message-cutter.ts';
import { type ModelHour, modelUrls, type OpenModel } from './open-models.ts';
import { DEFAULT_PLAN_LIMITS, type PlanLimits, planRanges, type RangePlan } from './range-plan.ts';
import type { RangedHttp } from './ranged-http.ts';
import { rangesInOrder } from './ranges-in-order.ts';

export interface OpenModelRequest extends ModelHour {
  readonly model: OpenModel;
  /** In the place of the bucket: a mirror or a rehearsal; ends with a slash. */
  readonly baseUrl?: string | undefined;
}

export interface OpenModelSettings {
  readonly plan: PlanLimits;
  /** Ranges under way at once: with `plan.greatestRangeBytes` this bounds the memory. */
  readonly rangesAhead: number;
  readonly mostInventoryBytes: number;
}

/** Four ranges of 6 MiB in memory at most; an index of a thousand fields has 60 kB. */
export const DEFAULT_OPEN_MODEL_SETTINGS: OpenModelSettings = {
  plan: DEFAULT_PLAN_LIMITS,
  rangesAhead: 3,
  mostInventoryBytes: 4 * 2 ** 20,
};

/** A file that is ready to be read: its index is there, and what to fetch of it is decided. */
export interface OpenModelFile {
  readonly dataUrl: string;
  readonly inventory: Inventory;
  readonly wanted: readonly WantedEntry[];
  /** Fields that every hour has and the index does not name, for people: it may have been cut while it was written. */
  readonly lost: readonly string[];
  readonly leftOut: Readonly<Record<LeftOut, number>>;
  readonly plan: RangePlan;
}

/**
 * Fetches the index of a file and decides what to fetch of the file.
 *
 * @throws InvalidRequestError when the model has no such file, or when a limit of the plan is passed; SourceError
 *   `not-there-yet` while the index is not in the bucket, `index` when it names nothing that is wanted, or what the fetch says.
 */
export async function openModelFile(
  http: RangedHttp,
  { model, baseUrl, ...hour }: OpenModelRequest,
  settings: OpenModelSettings,
): Promise<OpenModelFile> {
  const { dataUrl, inventoryUrl } = modelUrls(model, hour, baseUrl);
  const text = await http.text(inventoryUrl, { mostBytes: settings.mostInventoryBytes });
  const inventory = readInventory(text);
  const { wanted, leftOut } = wantedEntries(inventory.entries, model.origin, hour);
  if (wanted.length === 0) throw nothingWanted(inventoryUrl, inventory, leftOut);
  const entries = wanted.map(({ entry }) => entry);
  const plan = planRanges(entries, inventory.entries, settings.plan);
  return { dataUrl, inventory, wanted, lost: lostFields(wanted), leftOut, plan };
}

function nothingWanted(
  url: string,
  { entries, rejected }: Inventory,
  leftOut: Readonly<Record<LeftOut, number>>,
): SourceError {
  const counts = Object.entries(leftOut).filter(([, count]) => count > 0);
  const why = counts.map(([reason, count]) => `${count} ${reason}`).join(', ');
  return new SourceError({
    host: new URL(url).host,
    fault: 'index',
    what: 'index',
    found: `no wanted field in ${entries.length} lines (${why}) and ${rejected.length} refused ones`,
    expected: 'fields of this run and forecast hour',
  });
}

/**
 * The wanted fields, as readGrib2 gives them; offsets are those of the remote file.
 *
 * A field that is not what the index said of its place is rejected before its values are decoded, and so is every wanted
 * entry whose field did not come. Lines of the index that could not be read are one rejection: a wanted field may be lost in them.
 *
 * @throws SourceError when a range cannot be had: what came before it is then a part of an hour, and must not be kept as one.
 */
export async function* openModelItems(
  http: RangedHttp,
  { dataUrl, inventory, wanted, plan }: OpenModelFile,
  { rangesAhead }: Pick<OpenModelSettings, 'rangesAhead'>,
): AsyncGenerator<Grib2Item> {
  if (inventory.rejected.length > 0) yield refusedLines(inventory);
  const cut = cutMessages(rangesInOrder(http, dataUrl, plan, rangesAhead));
  const check = createIndexCheck(wanted, inventory.entries);
  const rejectedOffsets = new Set<number>();
  for await (const item of agreeingItems(cut, check)) {
    if (item.kind === 'rejected') rejectedOffsets.add(item.messageOffsetBytes);
    yield item;
  }
  for (const error of check.unmet(rejectedOffsets)) yield rejectedAt(error);
}

async function* agreeingItems(cut: MessageCutter, check: IndexCheck): AsyncGenerator<Grib2Item> {
  const judge = createJudge(cut, check);
  for await (const item of readGrib2(cut.chunks, { want: judge.want })) {
    for (const error of cut.takeRefusals()) yield rejectedAt(error);
    // Nothing but refused messages: readGrib2 would call that an empty file.
    if (cut.hasPassed) yield judge.judged(item);
  }
  for (const error of cut.takeRefusals()) yield rejectedAt(error);
}

/** Judges each header once, before its values are decoded, and keeps the verdict for the item that follows. */
function createJudge(cut: MessageCutter, check: IndexCheck) {
  let disagrees: FormatError | undefined;
  return {
    want(header: Grib2FieldHeader): boolean {
      const judged = check.judge(header, cut.remoteOffset(header.messageOffsetBytes));
      disagrees = judged.kind === 'disagrees' ? judged.error : undefined;
      return judged.kind === 'used';
    },
    judged(item: Grib2Item): Grib2Item {
      if (item.kind === 'skipped' && disagrees !== undefined) return rejectedAt(disagrees);
      return inRemoteFile(item, cut);
    },
  };
}

function inRemoteFile(item: Grib2Item, cut: MessageCutter): Grib2Item {
  if (item.kind === 'skipped') {
    const messageOffsetBytes = cut.remoteOffset(item.header.messageOffsetBytes);
    return { kind: 'skipped', header: { ...item.header, messageOffsetBytes } };
  }
  if (item.kind === 'field') {
    const messageOffsetBytes = cut.remoteOffset(item.field.messageOffsetBytes);
    // The getter of fileOrder stays one.
    const moved = Object.defineProperties({}, Object.getOwnPropertyDescriptors(item.field));
    return { kind: 'field', field: Object.assign(moved, { messageOffsetBytes }) as typeof item.field };
  }
  const messageOffsetBytes = cut.remoteOffset(item.messageOffsetBytes);
  return { kind: 'rejected', messageOffsetBytes, error: movedError(item.error, cut) };
}

function movedError(error: FormatError | UnsupportedError, cut: MessageCutter) {
  if (error.kind !== 'format' || error.place.unit !== 'byte') return error;
  const { format, what, found, expected } = error;
  const offsetBytes = cut.remoteOffset(error.place.offsetBytes);
  const place = { unit: 'byte', offsetBytes } as const;
  return new FormatError({ format, what, found, expected, place }, { cause: error });
}

function rejectedAt(error: FormatError): Grib2Item {
  const messageOffsetBytes = error.place.unit === 'byte' ? error.place.offsetBytes : 0;
  return { kind: 'rejected', messageOffsetBytes, error };
}

/** The same for a whole hour: each quantity of which the index names less than every hour has is a rejection before them. */
export async function* hourItems(
  http: RangedHttp,
  file: OpenModelFile,
  settings: Pick<OpenModelSettings, 'rangesAhead'>,
): AsyncGenerator<Grib2Item> {
  for (const found of file.lost) yield lostField(found);
  yield* openModelItems(http, file, settings);
}

function lostField(lost: string): Grib2Item {
  const place = { unit: 'byte', offsetBytes: 0 } as const;
  const what = 'index of the file';
  return rejectedAt(
    new FormatError({
      format: 'GRIB2',
      place,
      what,
      found: `no ${lost}`,
      expected: 'fields that every hour has',
    }),
  );
}

function refusedLines({ rejected }: Inventory): Grib2Item {
  const [first] = rejected;
  return rejectedAt(
    new FormatError({
      format: 'index of GRIB2',
      place: { unit: 'line', line: first!.line },
      what: 'lines',
      found: `${rejected.length} that cannot be used, the first: ${first!.reason}`,
      expected: 'none',
    }),
  );
}
