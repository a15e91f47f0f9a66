/** One GRIB2 file, message by message, into published hours. */
import type { Grib2Item } from '../formats/grib2/decode-message.ts';
import { readGrib2 } from '../formats/grib2/read-grib2.ts';
import { wantedSlices } from '../sources/grid-quantities.ts';
import type { GridManifest } from '../sources/ports.ts';
import { createGridWriter, type GridWriterDeps } from './grid-writer.ts';

/** Of more refusals than this only the number is kept. */
const MOST_REJECTIONS_TOLD = 1000;

export interface IngestedGrid {
  readonly keptFields: number;
  readonly skippedFields: number;
  readonly rejectedCount: number;
  readonly rejected: GridManifest['rejected'];
  readonly hours: readonly { readonly manifest: GridManifest; readonly replaced: boolean }[];
}

export interface IngestOptions {
  readonly nowMs: () => number;
  /** Called before anything is written; what it throws passes through, and nothing is published. */
  readonly mayPublish?: (counts: Pick<IngestedGrid, 'rejectedCount' | 'rejected'>) => void;
}

/** @throws InvalidRequestError when the wanted fields do not fit. Refused messages are told, and the others are read. */
export function ingestGrid(
  chunks: AsyncIterable<Uint8Array>,
  deps: GridWriterDeps,
  nowMs: () => number,
): Promise<IngestedGrid> {
  const items = readGrib2(chunks, { want: (header) => wantedSlices(header).length > 0 });
  return ingestItems(items, deps, { nowMs });
}

/**
 * The values are cropped and done with. A whole field of a fine grid is 8 MB: left to the garbage collector, a dozen of them
 * stand beside the hour before it comes round, and an isolate has 128 MB.
 */
function letGo({ buffer }: Float32Array): void {
  if (buffer instanceof ArrayBuffer) buffer.transfer(0);
}

/** Fields that are read already. @throws as ingestGrid does, and what the items throw. */
export async function ingestItems(
  items: AsyncIterable<Grib2Item>,
  deps: GridWriterDeps,
  { nowMs, mayPublish }: IngestOptions,
): Promise<IngestedGrid> {
  const writer = createGridWriter(deps);
  const rejected: { offsetBytes: number; reason: string }[] = [];
  let rejectedCount = 0;
  let keptFields = 0;
  let skippedFields = 0;
  const refuse = (offsetBytes: number, reason: string) => {
    rejectedCount += 1;
    if (rejected.length < MOST_REJECTIONS_TOLD) rejected.push({ offsetBytes, reason });
  };
  for await (const item of items) {
    if (item.kind === 'rejected') {
      refuse(item.messageOffsetBytes, item.error.message);
      continue;
    }
    const added = item.kind === 'field' ? writer.add(item.field) : ({ kind: 'skipped' } as const);
    if (added.kind === 'skipped') skippedFields += 1;
    else keptFields += 1;
    if (added.kind === 'damaged') refuse(added.offsetBytes, added.reason);
    if (item.kind === 'field') letGo(item.field.values);
  }
  mayPublish?.({ rejectedCount, rejected });
  const { hours, droppedFields } = await writer.publish(rejected, nowMs);
  return {
    keptFields: keptFields - droppedFields,
    skippedFields: skippedFields + droppedFields,
    rejectedCount,
    rejected,
    hours,
  };
}
