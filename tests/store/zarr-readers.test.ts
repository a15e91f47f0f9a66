/** What is stored is a Zarr v3 array: another reader opens it and gives the same numbers; zarr.json has what the standard asks. */
import { beforeAll, describe, expect, test } from 'vitest';
import * as zarr from 'zarrita';
import type { GridColumn } from '../../worker/store/grid-reader.ts';
import { fineHour } from '../support/fine-hour.ts';
import type { MemoryStores } from '../support/memory-stores.ts';
import { columnsOf, hourOf, type StoredHour, storeHour, waveSlices } from '../support/stored-hour.ts';
import { checkArrayMetadata } from '../support/zarr-standard.ts';

/** The other reader's view of the objects, below one key. */
function readableStore({ objectMap }: MemoryStores, prefix: string): zarr.AsyncReadable {
  const at = (key: string) => objectMap.get(prefix + key.slice(1));
  return {
    get: async (key) => at(key),
    getRange: async (key, range) =>
      'suffixLength' in range
        ? at(key)?.slice(-range.suffixLength)
        : at(key)?.slice(range.offset, range.offset + range.length),
  };
}

interface SliceAttributes {
  readonly quantity: string;
  readonly level_pa: number | null;
  readonly scale_factor: number;
  readonly add_offset: number;
  readonly greatest_error: number;
}

async function openOther({ stores, prefix }: StoredHour) {
  const array = await zarr.open.v3(zarr.root(readableStore(stores, prefix)), { kind: 'array' });
  const { data, shape } = await zarr.get(array);
  const { slices } = array.attrs as unknown as { slices: readonly SliceAttributes[] };
  return { array, codes: data as Uint16Array, shape, slices };
}

/** The other reader's value; NaN where it has the fill value. */
const readValue = (code: number, { scale_factor, add_offset }: SliceAttributes) =>
  code === 65_535 ? Number.NaN : code * scale_factor + add_offset;

const metadataOf = ({ stores, prefix }: StoredHour) =>
  JSON.parse(new TextDecoder().decode(stores.objectMap.get(`${prefix}zarr.json`)));

describe('an hour of a fine model, over two by two shards', () => {
  const SIDE = 130;
  let hour: Awaited<ReturnType<typeof fineHour>>;
  let stored: StoredHour;
  beforeAll(async () => {
    hour = await fineHour({ side: SIDE, levels: 3 });
    // Places without a value, here and there and all over one slice.
    const slices = [...hour.slices.values()];
    for (let index = 0; index < SIDE * SIDE; index += 7) slices[4]!.values[index] = Number.NaN;
    slices[5]!.values.fill(Number.NaN);
    stored = await storeHour(hour);
    expect(stored.manifest.shards).toHaveLength(4);
  });

  test('is read by another reader, every value within the stated error of what was stored', async () => {
    const { codes, shape, slices } = await openOther(stored);
    expect(shape).toEqual([hour.slices.size, SIDE, SIDE]);
    const originals = [...hour.slices.values()];
    let compared = 0;
    let missing = 0;
    slices.forEach((slice, at) => {
      const { values } = originals.find(
        (each) => each.quantity === slice.quantity && each.levelPa === slice.level_pa,
      )!;
      let greatest = 0;
      for (let index = 0; index < values.length; index += 1) {
        const read = readValue(codes[at * values.length + index]!, slice);
        if (Number.isNaN(values[index]!)) {
          expect(read).toBeNaN();
          missing += 1;
        } else {
          const difference = Math.abs(read - values[index]!);
          // Doubles scaled in another order.
          if (!(difference <= slice.greatest_error + Math.abs(read) * 1e-15))
            expect.fail(`${slice.quantity}: ${difference}`);
          greatest = Math.max(greatest, difference);
          compared += 1;
        }
      }
      // Stated, not just bounded: some value is as far off as that.
      expect(greatest).toBeGreaterThan(slice.greatest_error * 0.999 - 1e-12);
    });
    expect(missing).toBe(SIDE * SIDE + Math.ceil((SIDE * SIDE) / 7));
    expect(compared + missing).toBe(hour.slices.size * SIDE * SIDE);
  });

  test('has the members and codecs that the standard asks for, and no others', () => {
    expect(checkArrayMetadata(metadataOf(stored))).toEqual([]);
  });

  test('says where the index of a shard lies: the other reader looks at the end whatever is said', () => {
    expect(metadataOf(stored).codecs[0].configuration.index_location).toBe('end');
  });

  test('states the same scales in zarr.json and in the manifest', () => {
    const { slices } = metadataOf(stored).attributes as { slices: readonly SliceAttributes[] };
    expect(
      slices.map((each) => ({
        ...{ quantity: each.quantity, levelPa: each.level_pa, scaleFactor: each.scale_factor },
        ...{ addOffset: each.add_offset, greatestError: each.greatest_error },
      })),
    ).toEqual(stored.manifest.slices);
  });
});

describe('an hour of odd sides', () => {
  const [NX, NY] = [23, 13];
  let stored: StoredHour;
  let columns: GridColumn[];
  beforeAll(async () => {
    stored = await storeHour(hourOf(NX, NY, waveSlices(NX, NY)));
    columns = await columnsOf(stored);
  });

  test('gives the same columns as another reader at every grid point', async () => {
    const { codes, slices } = await openOther(stored);
    const levels = [80_000, 60_000];
    const other = (quantity: string, levelPa: number, point: number) => {
      const at = slices.findIndex((slice) => slice.quantity === quantity && slice.level_pa === levelPa);
      return readValue(codes[at * NX * NY + point]!, slices[at]!);
    };
    columns.forEach((column, point) => {
      if (column.kind === 'unknown') throw new Error(`point ${point} is unknown`);
      const isEdge = point % NX === 0 || point % NX === NX - 1 || point < NX || point >= NX * (NY - 1);
      // On the edge the column stands a hundredth of a step inside.
      const tolerance = isEdge ? 0.6 : 1e-6;
      levels.forEach((levelPa, level) => {
        const expected = other('temperatureK', levelPa, point);
        expect(Math.abs(column.profile.temperatureK[level]! - expected)).toBeLessThan(tolerance);
        const humidity = other('relativeHumidityRatio', levelPa, point);
        expect(Math.abs(column.profile.relativeHumidityRatio[level]! - humidity)).toBeLessThan(
          tolerance / 20,
        );
      });
    });
  });

  test('reads as missing, not as zero, where another reader finds no chunk', async () => {
    const [shard] = stored.manifest.shards;
    const without = new Map(stored.stores.objectMap);
    without.delete(shard!.key);
    const { codes } = await openOther({ ...stored, stores: { ...stored.stores, objectMap: without } });
    expect(codes.every((code) => code === 65_535)).toBe(true);
  });
});

describe('the check of zarr.json', () => {
  test.each([
    ['a member too many', (json: Json) => Object.assign(json, { order: 'C' })],
    ['no fill value', (json: Json) => delete json.fill_value],
    ['a fill value the type has not', (json: Json) => Object.assign(json, { fill_value: 65_536 })],
    ['version 2', (json: Json) => Object.assign(json, { zarr_format: 2 })],
    [
      'names for another number of dimensions',
      (json: Json) => Object.assign(json, { dimension_names: ['slice'] }),
    ],
    ['a type that is none', (json: Json) => Object.assign(json, { data_type: '<u2' })],
    [
      'a codec that is none',
      (json: Json) => Object.assign(json.codecs[0]!.configuration.codecs[1]!, { name: 'gz' }),
    ],
    [
      'a level gzip has not',
      (json: Json) =>
        Object.assign(json.codecs[0]!.configuration.codecs[1]!, { configuration: { level: 10 } }),
    ],
    [
      'chunks that do not divide a shard',
      (json: Json) => json.codecs[0]!.configuration.chunk_shape.splice(1, 1, 13),
    ],
    ['no order of octets', (json: Json) => delete json.codecs[0]!.configuration.codecs[0]!.configuration],
  ])('finds %s', async (_, spoil) => {
    const json = metadataOf(await storeHour(hourOf(3, 3, waveSlices(3, 3)))) as Json;
    expect(checkArrayMetadata(json)).toEqual([]);
    spoil(json);
    expect(checkArrayMetadata(json)).not.toEqual([]);
  });
});

interface Json {
  fill_value?: number;
  codecs: {
    configuration: { chunk_shape: number[]; codecs: { name: string; configuration?: object }[] };
  }[];
}
