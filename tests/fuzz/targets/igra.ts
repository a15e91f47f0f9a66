/** IGRA version 2: ascents of real station files and one of our own, columns shifted, fields and records exchanged. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createIgraReader, readIgra } from '../../../worker/formats/igra.ts';
import type { Sounding } from '../../../worker/formats/sounding.ts';
import { CLEAN } from '../../support/sounding-igra-lines.ts';
import { checkSounding } from '../check-sounding.ts';
import type { FuzzTarget, Random } from '../fuzz-target.ts';

const LONGEST_SEED_BYTES = 12_000;
const MOST_SEEDS = 60;
/** Fields that take a reader down another path. */
const FIELDS = [
  '-9999',
  '-8888',
  '99999',
  '    0',
  '     ',
  '-1e99',
  '  NaN',
  '12345',
  '-0001',
  '#',
  'A',
  'B',
  'C',
];

export const target: FuzzTarget = {
  name: 'igra',
  mostMsPerByte: 0.02,
  mostBytesPerByte: 600,
  async seeds(dataFolder) {
    const own = new TextEncoder().encode(`${CLEAN.join('\n')}\n${CLEAN.join('\r\n')}\n`);
    if (dataFolder === undefined) return [own];
    const folder = join(dataFolder, 'soundings/igra2');
    const texts = await Promise.all(
      (await readdir(folder)).toSorted().map((name) => readFile(join(folder, name), 'latin1')),
    );
    const ascents = texts.flatMap((text) => text.split(/^(?=#)/m)).filter(({ length }) => length > 0);
    const step = Math.max(1, Math.floor(ascents.length / MOST_SEEDS));
    const real = ascents.filter((_, index) => index % step === 0);
    return [own, ...real.map((text) => new TextEncoder().encode(text.slice(0, LONGEST_SEED_BYTES)))];
  },
  mutate(seed, random) {
    const lines = Buffer.from(seed).toString('latin1').split('\n');
    for (let count = 1 + random.below(4); count > 0; count -= 1) mutateLines(lines, random);
    return Buffer.from(lines.join('\n'), 'latin1');
  },
  /** Read whole and line by line: the same ascents; and the header's count must be told where it does not hold. */
  read(bytes) {
    const text = Buffer.from(bytes).toString('latin1');
    const whole = readIgra(text);
    const lines = text.split('\n');
    const reader = createIgraReader();
    const streamed = [...lines.map((line) => reader.line(line)), reader.end()].filter(
      (one) => one !== undefined,
    );
    if (namesOf(streamed) !== namesOf(whole.soundings)) throw new Error('lines are read unlike the whole');
    for (const sounding of whole.soundings) checkSounding(sounding, lines.length);
    checkCounts(lines, whole.soundings);
    return whole;
  },
};

function mutateLines(lines: string[], random: Random): void {
  const at = random.below(lines.length);
  const line = lines[at]!;
  const column = random.below(line.length + 1);
  const piece = FIELDS[random.below(FIELDS.length)]!;
  const kinds = [
    () => lines.splice(at, 1),
    () => lines.splice(at, 0, lines[random.below(lines.length)]!),
    () => lines.splice(random.below(lines.length), 0, ...lines.splice(at, 2)),
    () => lines.splice(at, 1, line.slice(0, column) + piece + line.slice(column + piece.length)),
    () => lines.splice(at, 1, line.slice(0, column) + piece + line.slice(column)),
    () => lines.splice(at, 1, line.slice(0, column)),
    () =>
      lines.splice(
        at,
        1,
        line.replace(/\d/g, (digit) => (random.below(8) === 0 ? String(random.below(10)) : digit)),
      ),
  ];
  kinds[random.below(kinds.length)]!();
}

function namesOf(soundings: readonly Sounding[]): string {
  return soundings
    .map(
      ({ stationId, timeMs, levels, rejected }) =>
        `${stationId} ${timeMs} ${levels.levelCount} ${rejected.length}`,
    )
    .join('\n');
}

/** Of an ascent alone in its text: records lost or doubled against the announced count must be told. */
function checkCounts(lines: readonly string[], soundings: readonly Sounding[]): void {
  const [header, ...records] = lines.filter((line) => line.trim() !== '');
  if (soundings.length !== 1 || header?.startsWith('#') !== true) return;
  if (records.some((line) => line.startsWith('#'))) return;
  const announced = Number(header.slice(32, 36));
  const isTold = soundings[0]!.rejected.length > 0;
  if (announced !== records.length && !isTold)
    throw new Error(`${records.length} records of ${announced} announced, and nothing told`);
}
