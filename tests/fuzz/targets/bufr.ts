/**
 * BUFR files: descriptors exchanged, put in and taken out with the lengths mended, counts of subsets and replications, the flag of
 * compression, data cut and lengthened; and what must hold of an ascent whatever the bytes were.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { AppBug } from '../../../worker/errors.ts';
import { type BufrItem, createBufrReader, readBufr } from '../../../worker/formats/bufr/read-bufr.ts';
import { MOST_KEPT_LEVELS } from '../../../worker/formats/thin/thin-levels.ts';
import { thinnedSounding } from '../../../worker/formats/thin/thin-sounding.ts';
import { handMadeBufr } from '../../support/bufr-seeds.ts';
import type { FuzzTarget, Random } from '../fuzz-target.ts';
import { mutateBytes } from '../mutate-bytes.ts';

/** Of real messages only short ones: a million inputs of a hundred thousand bytes would take days. */
const LONGEST_SEED_BYTES = 2500;
const REAL_SEEDS = 40;

export const target: FuzzTarget = {
  name: 'bufr',
  async seeds(dataFolder) {
    const real = dataFolder === undefined ? [] : shortMessages(dataFolder);
    const seeds = [...handMadeBufr(), ...real];
    for (const seed of seeds) {
      const items = [...readBufr(seed)];
      if (!items.some(({ kind }) => kind === 'ascent')) throw new Error('a seed without an ascent');
    }
    return seeds;
  },
  mutate,
  read(bytes) {
    const whole = [...readBufr(bytes)];
    if (whole.length === 0) throw new AppBug('nothing was told of the file');
    for (const item of whole) checkItem(item);
    // The pieces in which a file comes must not matter.
    if (bytes.length % 8 === 0 && whole.length !== countInPieces(bytes))
      throw new AppBug('pieces read otherwise');
  },
  mostMsPerByte: 0.05,
  mostBytesPerByte: 512,
};

function shortMessages(dataFolder: string): Uint8Array[] {
  const file = readFileSync(join(dataFolder, 'soundings/bufr/temp-global-2008120812.bufr'));
  const messages: Uint8Array[] = [];
  for (let at = 0; at < file.length && messages.length < REAL_SEEDS; ) {
    const length = file.readUIntBE(at + 4, 3);
    if (length <= LONGEST_SEED_BYTES) messages.push(new Uint8Array(file.subarray(at, at + length)));
    at += length;
  }
  return messages;
}

function countInPieces(bytes: Uint8Array): number {
  const reader = createBufrReader();
  let count = 0;
  for (let from = 0; from < bytes.length; from += 100) {
    for (const _ of reader.push(bytes.subarray(from, from + 100))) count += 1;
  }
  for (const _ of reader.end()) count += 1;
  return count;
}

/** What must hold of any ascent. */
function checkItem(item: BufrItem): void {
  if (item.kind === 'rejected') {
    if (item.error.message.includes('undefined')) throw new AppBug(item.error.message);
    return;
  }
  const { sounding } = item;
  const { levels } = sounding;
  if (!(Math.abs(sounding.latDeg) <= 90 && sounding.lonDeg >= -180 && sounding.lonDeg < 180)) {
    throw new AppBug(`a place of ${sounding.latDeg} ${sounding.lonDeg}`);
  }
  if (sounding.stationId === '') throw new AppBug('an empty station');
  for (let level = 0; level < levels.levelCount; level += 1) {
    const pressurePa = levels.pressurePa[level]!;
    const belowPa = level === 0 ? 110_001 : levels.pressurePa[level - 1]!;
    if (!(pressurePa >= 100 && pressurePa < belowPa))
      throw new AppBug(`a pressure of ${pressurePa} over ${belowPa}`);
    const isPossible =
      within(levels.temperatureK[level]!, 173, 334) &&
      within(levels.dewPointK[level]!, 123, 334) &&
      within(levels.windSpeedMps[level]!, 0, 150) &&
      within(levels.windDirectionDeg[level]!, 0, 360) &&
      within(levels.geopotentialHeightM[level]!, -500, 50_000);
    if (!isPossible) throw new AppBug(`an impossible value at level ${level}`);
  }
  const thinned = thinnedSounding(sounding);
  if (thinned.kind === 'kept' && thinned.sounding.levels.levelCount > MOST_KEPT_LEVELS) {
    throw new AppBug('more levels kept than the limit');
  }
}

/** NaN, a missing value, is within. */
const within = (value: number, least: number, most: number) => !(value < least || value > most);

/** Descriptors worth meeting where they do not belong, FXXYYY as 16 bits. */
const DESCRIPTORS = [
  ...[
    '1 01 000',
    '1 02 000',
    '1 01 255',
    '1 63 002',
    '0 31 000',
    '0 31 001',
    '0 31 002',
    '0 31 011',
    '0 31 012',
  ],
  ...[
    '2 01 000',
    '2 01 001',
    '2 01 255',
    '2 02 001',
    '2 03 032',
    '2 03 255',
    '2 04 001',
    '2 04 255',
    '2 05 255',
  ],
  ...[
    '2 06 255',
    '2 07 010',
    '2 08 255',
    '2 21 255',
    '2 22 000',
    '2 23 000',
    '2 23 255',
    '2 24 255',
    '2 25 000',
  ],
  ...[
    '2 25 255',
    '2 32 255',
    '2 35 000',
    '2 36 000',
    '2 37 000',
    '2 37 255',
    '0 31 031',
    '0 31 021',
    '0 33 007',
  ],
  ...['0 07 004', '0 12 101', '0 01 011', '0 48 001', '3 09 052', '3 09 057', '3 03 054', '3 63 255'],
].map((text) => {
  const [f = 0, x = 0, y = 0] = text.split(' ').map(Number);
  return [(f << 6) + x, y] as const;
});

/** One message taken apart: what stands before section 3, its descriptors, the data. */
interface Parts {
  readonly start: number[];
  readonly counts: number[];
  readonly descriptors: number[];
  readonly data: number[];
}

function mutate(seed: Uint8Array, random: Random): Uint8Array {
  const parts = partsOf(seed);
  if (parts === undefined) return mutateBytes(seed, seed, random);
  for (let times = 1 + random.below(3); times > 0; times -= 1) mutateParts(parts, random);
  return whole(parts);
}

function partsOf(message: Uint8Array): Parts | undefined {
  const uint24 = (at: number) => (message[at]! << 16) + (message[at + 1]! << 8) + message[at + 2]!;
  if (message[0] !== 0x42 || (message[7] !== 3 && message[7] !== 4)) return undefined;
  const section3 = 8 + uint24(8);
  const section4 = section3 + uint24(section3);
  const end = section4 + uint24(section4);
  if (!(section4 < message.length && end <= message.length)) return undefined;
  return {
    start: [...message.subarray(0, section3)],
    counts: [...message.subarray(section3 + 3, section3 + 7)],
    descriptors: [...message.subarray(section3 + 7, section4)],
    data: [...message.subarray(section4 + 4, end)],
  };
}

function mutateParts({ start, counts, descriptors, data }: Parts, random: Random): void {
  const pair = 2 * random.below(Math.max(1, descriptors.length >> 1));
  const other = DESCRIPTORS[random.below(DESCRIPTORS.length)]!;
  const at = random.below(data.length);
  switch (random.below(10)) {
    case 0:
      descriptors.splice(pair, 2, ...other);
      break;
    case 1:
      descriptors.splice(pair, 0, ...other);
      break;
    case 2:
      descriptors.splice(pair, 2);
      break;
    case 3:
      descriptors.splice(pair, 0, ...descriptors.slice(pair, pair + 2 * (1 + random.below(6))));
      break;
    case 4:
      counts[3]! ^= 0x40; // compressed or not
      break;
    case 5:
      counts.splice(1, 2, random.below(256), random.below(256)); // subsets
      break;
    case 6:
      data.splice(at);
      break;
    case 7:
      data.splice(at, 0, ...Array.from({ length: random.below(40) }, () => random.below(256)));
      break;
    case 8:
      data.fill(random.below(2) * 255, at, at + 1 + random.below(8));
      break;
    default:
      data[at]! ^= 1 << random.below(8);
      start[8 + random.below(start.length - 8)]! ^= random.below(4) === 0 ? 1 << random.below(8) : 0;
  }
}

/** Put together again with the lengths mended. */
function whole({ start, counts, descriptors, data }: Parts): Uint8Array {
  const uint24 = (value: number) => [value >> 16, (value >> 8) & 255, value & 255];
  const section3 = [...uint24(7 + descriptors.length), ...counts, ...descriptors];
  const section4 = [...uint24(4 + data.length), 0, ...data];
  const bytes = Uint8Array.from([...start, ...section3, ...section4, 0x37, 0x37, 0x37, 0x37]);
  bytes.set(uint24(bytes.length), 4);
  return bytes;
}
