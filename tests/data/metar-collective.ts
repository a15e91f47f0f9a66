/** The collective of 2020-01-06 00 UTC, read once a test file. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  type AerodromeItem,
  createAerodromeReader,
} from '../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { MetarReport } from '../../worker/formats/aerodrome-reports/report.ts';

const directory = process.env.RIMEWAY_DATA_DIR;
if (directory === undefined) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');
const FILE = join(directory, 'reports/metar/collective-2020010600.wmo');
const CHUNK_BYTES = 65_536;

export const CONTEXT = { nearMs: Date.UTC(2020, 0, 6) };

export interface Collective {
  /** One character a byte. */
  readonly file: string;
  readonly items: readonly AerodromeItem[];
  readonly reports: readonly MetarReport[];
  /** Reports of different text: many come in several bulletins. */
  readonly unique: readonly MetarReport[];
}

export function readCollective(): Collective {
  const bytes = readFileSync(FILE);
  const reader = createAerodromeReader(CONTEXT);
  const items: AerodromeItem[] = [];
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) {
    items.push(...reader.push(bytes.subarray(at, at + CHUNK_BYTES)));
  }
  items.push(...reader.end());
  const reports = items.flatMap((item) => (item.kind === 'report' ? [item.report as MetarReport] : []));
  const unique = [...new Map(reports.map((each) => [each.text, each])).values()];
  return { file: bytes.toString('latin1'), items, reports, unique };
}

export const say = (line: string) => process.stdout.write(`${line}\n`);
