/** GRIB2 messages of one constant field each, and what becomes of a file of them: stored, and read back as a column. */

import type { GridManifest } from '../../worker/sources/ports.ts';
import { type GridColumn, readGridColumns, readManifest } from '../../worker/store/grid-reader.ts';
import { type IngestedGrid, ingestGrid } from '../../worker/store/ingest-grid.ts';
import {
  concat,
  data,
  f32,
  identification,
  latLon,
  MISSING_32,
  message,
  noBitmap,
  product,
  section,
  u8,
  u16,
  u32,
} from './grib2-builder.ts';
import { createMemoryStores, type MemoryStores } from './memory-stores.ts';

export interface FieldSpec {
  /** `discipline.category.number`. */
  readonly parameter: string;
  readonly value: number;
  /** Default 100: isobaric. */
  readonly levelType?: number;
  readonly level?: number;
  /** Of the second surface, of the same type; none by default. */
  readonly secondLevel?: number;
}

export interface SourceSpec {
  readonly centre?: number;
  readonly process?: number;
  /** Year, month, day of the run, at 12 UTC. */
  readonly date?: readonly [number, number, number];
  /** Section 3; default 4 x 4 points 1 degree apart from 50 N 10 E southward. */
  readonly grid?: Uint8Array;
}

const DEFAULT_GRID = latLon({ nx: 4, ny: 4 });

/** A field that has one value everywhere, in no bits. */
export function fieldMessage(field: FieldSpec, source: SourceSpec = {}): Uint8Array {
  const [discipline = 0, category = 0, number = 0] = field.parameter.split('.').map(Number);
  const { centre = 255, process = 96, date = [2024, 1, 15], grid = DEFAULT_GRID } = source;
  const { levelType = 100, level, secondLevel } = field;
  const points = new DataView(grid.buffer, grid.byteOffset).getUint32(6);
  return message(
    [
      identification({ 6: u16(centre), 13: u16(date[0]), 15: u8(date[1]), 16: u8(date[2]) }),
      grid,
      product({
        ...{ 10: u8(category), 11: u8(number), 14: u8(process), 23: u8(levelType) },
        ...(level === undefined ? { 24: u8(255), 25: MISSING_32 } : { 25: u32(level) }),
        ...(secondLevel === undefined ? {} : { 29: u8(levelType), 30: u8(0), 31: u32(secondLevel) }),
      }),
      section(5, 21, { 6: u32(points), 12: f32(field.value) }),
      noBitmap(),
      data(new Uint8Array(0)),
    ],
    discipline,
  );
}

export interface StoredFile {
  readonly ingested: IngestedGrid;
  /** As it was written. */
  readonly manifest: GridManifest;
  /** As it is read back. */
  readonly readBack: GridManifest | undefined;
  readonly stores: MemoryStores;
  readonly columnAt: (latDeg: number, lonDeg: number) => Promise<GridColumn>;
}

export async function storeFields(
  fields: readonly FieldSpec[],
  source: SourceSpec = {},
  extra: readonly Uint8Array[] = [],
): Promise<StoredFile> {
  const stores = createMemoryStores();
  const bytes = concat([...fields.map((field) => fieldMessage(field, source)), ...extra]);
  const chunks = (async function* () {
    yield bytes;
  })();
  const ingested = await ingestGrid(chunks, { ...stores, operator: 'demo', area: undefined }, () => 0);
  const manifest = ingested.hours[0]?.manifest;
  if (manifest === undefined) throw new Error(`nothing was stored: ${JSON.stringify(ingested)}`);
  const key = [...stores.objectMap.keys()].find((each) => each.endsWith('manifest.json'))!;
  const readBack = await readManifest(stores.objects, key);
  return {
    ...{ ingested, manifest, readBack, stores },
    columnAt: async (latDeg, lonDeg) => {
      if (readBack === undefined) throw new Error('the manifest does not read back');
      const places = { latDeg: Float64Array.of(latDeg), lonDeg: Float64Array.of(lonDeg) };
      const [column] = await readGridColumns(stores.objects, readBack, places);
      return column!;
    },
  };
}

/** The column between grid points, which must be known. */
export async function profileOf(stored: StoredFile, latDeg = 48.4, lonDeg = 11.3) {
  const column = await stored.columnAt(latDeg, lonDeg);
  if (column.kind === 'unknown') throw new Error(`the column is unknown: ${column.state}`);
  return column;
}

/** A message that is refused by its product template. */
export function refusedMessage(): Uint8Array {
  return message([
    identification(),
    DEFAULT_GRID,
    product({ 8: u16(65_000) }),
    section(5, 21, { 6: u32(16) }),
    noBitmap(),
    data(new Uint8Array(0)),
  ]);
}
