/** Inventories: stretches of real ones and lines of JSON of our own, mutated by bytes and by columns. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readInventory } from '../../../worker/formats/inventory.ts';
import type { FuzzTarget } from '../fuzz-target.ts';

const FILES = ['gfs-0p25-2026072400-f000.inv', 'rrfs-prslev-2024020118.inv'];
const LINES_A_SEED = 25;
const OWN = [
  '1:0:d=2024020118:PRES:1 hybrid level:4 hour fcst:\n2.1:101:d=2024020118:UGRD:850 mb:4 hour fcst:\n2.2:101:d=2024020118:VGRD:850 mb:4 hour fcst:\n3:250:d=2024020118:TMP:850 mb:anl:ENS=+1\n',
  '{"date":"20240201","time":"0000","step":"6","levtype":"pl","levelist":"850","param":"t","_offset":0,"_length":100}\n{"date":20240201,"time":1800,"step":"0-6","levtype":"sfc","param":"tp","_offset":100,"_length":7}\n',
];
const PIECES =
  '0 -1 -0 -2147483648 4294967295 4294967296 9007199254740991 9007199254740993 1e3 1.5 +1 0x1 : :: { } " , null [] {} 12.1 12.2 d=2024023000 d=2024020124 anl'.split(
    ' ',
  );

export const target: FuzzTarget = {
  name: 'inventory',
  mostMsPerByte: 0.02,
  mostBytesPerByte: 2000,
  async seeds(dataFolder) {
    const own = OWN.map((text) => new TextEncoder().encode(text));
    if (dataFolder === undefined) return own;
    const texts = await Promise.all(
      FILES.map((name) => readFile(join(dataFolder, 'grib2/idx', name), 'utf8')),
    );
    const seeds = texts.flatMap((text) => {
      const lines = text.split('\n');
      const starts = Array.from(
        { length: Math.floor(lines.length / LINES_A_SEED) },
        (_, i) => i * LINES_A_SEED,
      );
      return starts.map((from) => lines.slice(from, from + LINES_A_SEED).join('\n'));
    });
    return [...own, ...seeds.map((text) => new TextEncoder().encode(text))];
  },
  mutate(seed, random) {
    const parts = new TextDecoder().decode(seed).split(/(?<=[:\n,])/);
    for (let count = 1 + random.below(5); count > 0; count -= 1) {
      const at = random.below(parts.length + 1);
      const piece = PIECES[random.below(PIECES.length)]!;
      const end = parts[at]?.at(-1) ?? '';
      if (random.below(4) === 0) parts.splice(at, 1 + random.below(4));
      else parts.splice(at, 1, `${piece}${random.below(2) === 0 ? end : ''}`);
    }
    return new TextEncoder().encode(parts.join(''));
  },
  read(bytes) {
    const text = new TextDecoder().decode(bytes);
    const inventory = readInventory(text);
    checkInventory(text, inventory);
    return inventory;
  },
};

/** Every line once, read or refused; ranges of bytes that a file can have, which share nothing but a whole message. */
function checkInventory(text: string, { entries, rejected }: ReturnType<typeof readInventory>): void {
  const lines = text.split(/\r\n|\n/).filter((line) => line.trim() !== '').length;
  const seen = new Set([...entries, ...rejected].map(({ line }) => line));
  if (entries.length + rejected.length !== lines || seen.size !== lines) {
    throw new Error(`${entries.length} read and ${rejected.length} refused of ${lines} lines`);
  }
  const written = text.split(/\r\n|\n/);
  const isJson = ({ line }: { line: number }) => written[line - 1]!.replace(/^\ufeff/, '').startsWith('{');
  for (const kind of [entries.filter(isJson), entries.filter((each) => !isJson(each))]) checkRanges(kind);
  for (const { referenceTimeMs, parameter, level, forecast } of entries) {
    if (!Number.isFinite(referenceTimeMs)) throw new Error('no reference time');
    if (parameter === '' || level === '' || forecast === '') throw new Error('an empty name');
  }
}

function checkRanges(entries: ReturnType<typeof readInventory>['entries']): void {
  let before = { offsetBytes: -1, end: 0 };
  for (const { offsetBytes, lengthBytes } of entries.toSorted((a, b) => a.offsetBytes - b.offsetBytes)) {
    const end = lengthBytes === undefined ? Number.POSITIVE_INFINITY : offsetBytes + lengthBytes;
    if (!Number.isSafeInteger(offsetBytes) || offsetBytes < 0 || !(end > offsetBytes))
      throw new Error(`range ${offsetBytes} to ${end}`);
    const isSame = offsetBytes === before.offsetBytes && end === before.end;
    if (!isSame && offsetBytes < before.end)
      throw new Error(`${offsetBytes} lies before the end ${before.end}`);
    before = { offsetBytes, end };
  }
}
