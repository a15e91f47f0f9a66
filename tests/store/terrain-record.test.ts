import { describe, expect, test } from 'vitest';
import { NO_HEIGHT_M } from '../../worker/formats/terrarium.ts';
import { readTerrainRecord, writeTerrainRecord } from '../../worker/store/terrain-record.ts';

const BLOCKS = {
  highestM: Int16Array.from({ length: 256 }, (_, block) => (block === 3 ? NO_HEIGHT_M : block * 30)),
  lowestM: Int16Array.from({ length: 256 }, (_, block) => (block === 3 ? NO_HEIGHT_M : -block)),
};
const RECORD = writeTerrainRecord(BLOCKS);
const read = (bytes: Uint8Array) => readTerrainRecord(Uint8Array.from(bytes).buffer);

describe('a kept tile', () => {
  test('takes 1,032 octets and reads back as it was', () => {
    expect(RECORD).toHaveLength(1032);
    expect(read(RECORD)).toEqual(BLOCKS);
  });

  test('with any octet turned is none', () => {
    for (let at = 0; at < RECORD.length; at += 1) {
      const turned = Uint8Array.from(RECORD);
      turned[at]! ^= 1;
      expect(read(turned), `octet ${at}`).toBeUndefined();
    }
  });

  test('of another length is none', () => {
    for (const length of [0, 4, 1031]) expect(read(RECORD.subarray(0, length))).toBeUndefined();
    expect(read(new Uint8Array(1033))).toBeUndefined();
  });
});
