/**
 * A reduced elevation tile as it is kept: four octets of a mark, the highest and then the lowest ground of every block as
 * big-endian 16-bit integers in m, and a check value. 1,032 octets.
 */
import { BLOCKS_PER_TILE, type TerrainBlocks } from '../formats/terrarium.ts';
import { crc32c } from './crc32c.ts';

/** Grows with every change of what stands in a record. */
const MARK = 0x54_45_52_31;
const MARK_BYTES = 4;
const HEIGHT_BYTES = 2;
const CHECK_BYTES = 4;
const RECORD_BYTES = MARK_BYTES + 2 * BLOCKS_PER_TILE * HEIGHT_BYTES + CHECK_BYTES;

export function writeTerrainRecord({ highestM, lowestM }: TerrainBlocks): Uint8Array {
  const bytes = new Uint8Array(RECORD_BYTES);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, MARK);
  [...highestM, ...lowestM].forEach((heightM, index) => {
    view.setInt16(MARK_BYTES + index * HEIGHT_BYTES, heightM);
  });
  const checkedBytes = RECORD_BYTES - CHECK_BYTES;
  view.setUint32(checkedBytes, crc32c(bytes.subarray(0, checkedBytes)));
  return bytes;
}

/** undefined for anything that is not a whole sound record of this kind. */
export function readTerrainRecord(bytes: ArrayBuffer): TerrainBlocks | undefined {
  if (bytes.byteLength !== RECORD_BYTES) return undefined;
  const view = new DataView(bytes);
  const checkedBytes = RECORD_BYTES - CHECK_BYTES;
  const isSound = view.getUint32(checkedBytes) === crc32c(new Uint8Array(bytes, 0, checkedBytes));
  if (!isSound || view.getUint32(0) !== MARK) return undefined;
  const heights = (first: number) =>
    Int16Array.from({ length: BLOCKS_PER_TILE }, (_, block) =>
      view.getInt16(MARK_BYTES + (first + block) * HEIGHT_BYTES),
    );
  return { highestM: heights(0), lowestM: heights(BLOCKS_PER_TILE) };
}
