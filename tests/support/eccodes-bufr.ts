/**
 * BUFR messages as ecCodes reads them, live: every value in the order of the data. `bufr_dump -jf` tells how each is coded and
 * serves for messages made in tests; `bufr_dump -p`, which is short and attaches quality to values, for whole files.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ECCODES_PYTHON } from './eccodes.ts';

/** One value, printed to six figures. */
export interface DumpedValue {
  /** Name of the element. */
  readonly key: string;
  /** null where missing. */
  readonly value: number | string | null;
  /** FXXYYY in six figures; operators have theirs, values in place of a marker 2 XX 255 none. */
  readonly code?: string;
  readonly units?: string;
  readonly scale?: number;
  readonly reference?: number;
  readonly width?: number;
}

/** As the dump lists it: in compressed data a list of one value a subset, or one value that all share. */
type DumpedEntry = Omit<DumpedValue, 'value'> & {
  readonly value: DumpedValue['value'] | readonly DumpedValue['value'][];
};

const PLACES_SCRIPT = new URL('eccodes-bufr-places.py', import.meta.url).pathname;
const MOST_OUTPUT_BYTES = 512 * 1024 * 1024;

function dumpOf(path: string, option: '-jf' | '-p'): string {
  const run = spawnSync('bufr_dump', [option, path], { maxBuffer: MOST_OUTPUT_BYTES });
  if (run.status !== 0) {
    const cause = run.error?.message ?? run.stderr.toString().trim().split('\n').at(-1);
    throw new Error(`bufr_dump (apt-get install libeccodes-tools) does not read ${path}: ${cause}`);
  }
  return run.stdout.toString('latin1');
}

/**
 * The values of each subset of one message made in a test.
 *
 * @throws Error with one clear line when the tool is not installed or refuses the bytes.
 */
export function bufrDumpOf(bytes: Uint8Array, subsetCount: number): DumpedValue[][] {
  const { messages } = JSON.parse(inFile(bytes, (path) => dumpOf(path, '-jf'))) as {
    messages: DumpedEntry[];
  };
  const isCompressed = messages[0]?.key !== 'subsetNumber';
  return isCompressed ? subsetsOfLists(messages, subsetCount) : subsetsInTurn(messages);
}

function inFile<T>(bytes: Uint8Array, read: (path: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'rimeway-bufr-'));
  try {
    const path = join(folder, 'made.bufr');
    writeFileSync(path, bytes);
    return read(path);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The dump is one list, in which each subset begins with its number. */
function subsetsInTurn(entries: readonly DumpedEntry[]): DumpedValue[][] {
  const subsets: DumpedValue[][] = [];
  for (const entry of entries) {
    if (entry.key === 'subsetNumber') subsets.push([]);
    else subsets.at(-1)?.push(entry as DumpedValue);
  }
  return subsets;
}

function subsetsOfLists(entries: readonly DumpedEntry[], subsetCount: number): DumpedValue[][] {
  return Array.from({ length: subsetCount }, (_, subset) =>
    entries.map((entry) => {
      const { value } = entry;
      return { ...entry, value: Array.isArray(value) ? value[subset] : value } as DumpedValue;
    }),
  );
}

/** A value of a message of one subset, and what the message says of it. */
export interface PlainValue {
  readonly key: string;
  /** undefined where missing. */
  value: number | string | undefined;
  /** Such as percentConfidence and substitutedValue. */
  readonly attributes: Map<string, number>;
}

/**
 * The messages of a file, each with its values but those that count or flag others: factors, bitmaps, quality.
 *
 * @throws Error with one clear line when the tool is not installed or refuses the file.
 */
export function bufrDumpPlain(path: string): PlainValue[][] {
  return plainMessages(dumpOf(path, '-p'));
}

/** The same for a message made in a test. */
export function bufrDumpPlainOf(bytes: Uint8Array): PlainValue[] {
  return plainMessages(inFile(bytes, (path) => dumpOf(path, '-p')))[0]!;
}

function plainMessages(dump: string): PlainValue[][] {
  const messages: PlainValue[][] = [];
  let state: 'header' | 'descriptors' | 'data' = 'data';
  for (const line of dump.split('\n')) {
    if (/^(\w+= \{|edition=)/.test(line) && state === 'data') state = 'header';
    if (line.startsWith('unexpandedDescriptors=')) {
      state = line.endsWith('{') ? 'descriptors' : 'data';
      messages.push([]);
      continue;
    }
    if (state === 'data') addPlainLine(messages.at(-1)!, line);
    if (state === 'descriptors' && line.includes('}')) state = 'data';
  }
  return messages;
}

function addPlainLine(values: PlainValue[], line: string): void {
  const attribute = /^(?:#\d+#)?(\w+)->(\w+) = (.+)$/.exec(line);
  if (attribute !== null) {
    const [, key, name, text] = attribute;
    const last = values.at(-1);
    if (last?.key === key) last!.attributes.set(name!, Number(text));
    return;
  }
  const value = /^(?:#\d+#)?(\w+)=(.*)$/.exec(line);
  if (value !== null) values.push({ key: value[1]!, value: plainValue(value[2]!), attributes: new Map() });
}

function plainValue(text: string): number | string | undefined {
  if (text === 'MISSING') return undefined;
  return text.startsWith('"') ? text.slice(1, -1).trim() : Number(text);
}

/** Latitude, longitude and time (ISO 8601) of the launch of each message of a file, latitude and longitude in full. */
export function eccodesPlaces(path: string): [latDeg: number, lonDeg: number, time: string][] {
  const run = spawnSync(ECCODES_PYTHON, [PLACES_SCRIPT, path]);
  if (run.status !== 0) throw new Error(`ecCodes does not read ${path}: ${run.stderr.toString().trim()}`);
  return JSON.parse(run.stdout.toString()) as [number, number, string][];
}
