/**
 * The zarr.json of an hour, so that any reader of Zarr v3 opens what is stored.
 *
 * @source  Zarr v3 core specification, "Array metadata"; sharding codec 1.0; gzip and crc32c codecs 1.0.
 */
import type { GridManifest } from '../sources/ports.ts';
import { CHUNK_SIDE, SHARD_SIDE } from './grid-chunks.ts';
import { MISSING_CODE } from './grid-packing.ts';

/** What CompressionStream compresses with; a reader has no use for it, but the codec must state one. */
const GZIP_LEVEL = 6;

const LITTLE_ENDIAN = { name: 'bytes', configuration: { endian: 'little' } } as const;

/** Names of scale, offset and missing value are those of the CF conventions: value = code * scale_factor + add_offset. */
export function zarrMetadata(manifest: Omit<GridManifest, 'shards' | 'rejected'>) {
  const { slices, crop, model, attribution, definition } = manifest;
  return {
    zarr_format: 3,
    node_type: 'array',
    shape: [slices.length, crop.ny, crop.nx],
    data_type: 'uint16',
    chunk_grid: {
      name: 'regular',
      configuration: { chunk_shape: [slices.length, SHARD_SIDE, SHARD_SIDE] },
    },
    chunk_key_encoding: { name: 'default', configuration: { separator: '/' } },
    fill_value: MISSING_CODE,
    codecs: [
      {
        name: 'sharding_indexed',
        configuration: {
          chunk_shape: [slices.length, CHUNK_SIDE, CHUNK_SIDE],
          codecs: [LITTLE_ENDIAN, { name: 'gzip', configuration: { level: GZIP_LEVEL } }],
          index_codecs: [LITTLE_ENDIAN, { name: 'crc32c' }],
          index_location: 'end',
        },
      },
    ],
    dimension_names: ['slice', 'row', 'column'],
    attributes: {
      ...{ model, attribution, grid: definition, crop },
      run_utc: new Date(manifest.runMs).toISOString(),
      valid_utc: new Date(manifest.validMs).toISOString(),
      missing_value: MISSING_CODE,
      slices: slices.map(({ quantity, levelPa, scaleFactor, addOffset, greatestError }) => ({
        ...{ quantity, level_pa: levelPa, scale_factor: scaleFactor, add_offset: addOffset },
        greatest_error: greatestError,
      })),
    },
  };
}

/** Key of a shard below the array's own: chunk key encoding "default". */
export const shardKey = (shard: { readonly row: number; readonly column: number }) =>
  `c/0/${shard.row}/${shard.column}`;
