/** Whatever an index says of a file, no field comes out of it that the file does not hold there. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InvalidRequestError, SourceError } from '../../worker/errors.ts';
import {
  DEFAULT_OPEN_MODEL_SETTINGS,
  openModelFile,
  openModelItems,
} from '../../worker/sources/open-model-file.ts';
import { OPEN_MODELS } from '../../worker/sources/open-models.ts';
import type { RangedHttp } from '../../worker/sources/ranged-http.ts';
import { concat } from '../support/grib2-builder.ts';
import { fieldMessage } from '../support/grid-fields.ts';

const NAMES = [
  ['0.0.0', 'TMP', 260],
  ['0.1.1', 'RH', 80],
  ['0.3.5', 'HGT', 3000],
] as const;
const LEVELS = [925, 850, 700];
/** Every value tells which field it is of. */
const FIELDS = NAMES.flatMap(([parameter, name, value]) =>
  LEVELS.map((hPa) => ({ parameter, name, hPa, value: value + hPa / 1000 })),
);
const MESSAGES = FIELDS.map(({ parameter, hPa, value }) =>
  fieldMessage({ parameter, value, level: hPa * 100 }),
);
const FILE = concat(MESSAGES);
const OFFSETS = MESSAGES.map((_, at) => MESSAGES.slice(0, at).reduce((sum, { length }) => sum + length, 0));

/** A bucket without a network: a range that the file does not have is refused as a real one is. */
function memoryHttp(index: string): RangedHttp {
  return {
    text: async () => index,
    bytes: async () => new TextEncoder().encode(index),
    range: async (_url, { firstByte, lastByte, isEndOpen }) => {
      const isThere = firstByte < FILE.length && (isEndOpen || lastByte < FILE.length);
      if (!isThere) {
        const fields = { what: 'range', found: 'its end', expected: 'the range' };
        throw new SourceError({ host: 'h', fault: 'range', ...fields });
      }
      const bytes = FILE.slice(firstByte, lastByte + 1);
      return { bytes, version: { etag: undefined, totalBytes: FILE.length } };
    },
  };
}

/** A line that is perhaps true: name, level, offset, run and hour each from what other lines have, or a little off. */
const someLine = fc.record({
  name: fc.constantFrom('TMP', 'RH', 'HGT', 'SPFH', 'XYZ'),
  level: fc.constantFrom('925 mb', '850 mb', '700 mb', '2 m above ground', 'surface'),
  offset: fc.oneof(fc.constantFrom(...OFFSETS), fc.nat(FILE.length + 50)),
  run: fc.constantFrom('2024011512', '2024011512', '2024011512', '2024011506'),
  forecast: fc.constantFrom('6 hour fcst', '6 hour fcst', '6 hour fcst', '12 hour fcst', '0-6 hour ave fcst'),
});
type Line = typeof someLine extends fc.Arbitrary<infer T> ? T : never;

/** The true index with some lines dropped, exchanged or written otherwise. */
const someIndex = fc
  .record({
    fates: fc.array(fc.constantFrom('true', 'true', 'true', 'dropped', 'other'), {
      minLength: FIELDS.length,
      maxLength: FIELDS.length,
    }),
    others: fc.array(someLine, { minLength: FIELDS.length, maxLength: FIELDS.length }),
    isSorted: fc.boolean(),
  })
  .map(({ fates, others, isSorted }) => {
    const lines: Line[] = FIELDS.flatMap(({ name, hPa }, at) => {
      const trueLine = {
        name,
        level: `${hPa} mb`,
        offset: OFFSETS[at]!,
        run: '2024011512',
        forecast: '6 hour fcst',
      };
      if (fates[at] === 'dropped') return [];
      return [fates[at] === 'true' ? trueLine : others[at]!] as Line[];
    });
    if (isSorted) lines.sort((a, b) => a.offset - b.offset);
    return lines
      .map(
        ({ name, level, offset, run, forecast }, at) =>
          `${at + 1}:${offset}:d=${run}:${name}:${level}:${forecast}:`,
      )
      .join('\n');
  });

const settings = {
  ...DEFAULT_OPEN_MODEL_SETTINGS,
  plan: { ...DEFAULT_OPEN_MODEL_SETTINGS.plan, joinGapBytes: 200, greatestRangeBytes: 700 },
};

async function fieldsOf(index: string): Promise<{ name: string; value: number; offsetBytes: number }[]> {
  const http = memoryHttp(index);
  const hour = { runMs: Date.UTC(2024, 0, 15, 12), forecastHour: 6 };
  const fields = [];
  const file = await openModelFile(http, { model: OPEN_MODELS['gfs-0p25'], ...hour }, settings);
  for await (const item of openModelItems(http, file, settings)) {
    if (item.kind !== 'field') continue;
    const { parameter, level, values, messageOffsetBytes } = item.field;
    const name = `${parameter.discipline}.${parameter.category}.${parameter.number}@${level.value / 100}`;
    fields.push({ name, value: values[0]!, offsetBytes: messageOffsetBytes });
  }
  return fields;
}

/** What a line must say for the field to be used. */
function lineOf(name: string, offsetBytes: number): string {
  const [parameter, hPa] = name.split('@');
  const shortName = NAMES.find(([triple]) => triple === parameter)?.[1];
  return `:${offsetBytes}:d=2024011512:${shortName}:${hPa} mb:6 hour fcst:`;
}

describe('any index', () => {
  test('gives only fields that the file holds and a line names, each once at its place, or is refused', async () => {
    const truth = FIELDS.map(({ parameter, hPa, value }, at) => ({
      name: `${parameter}@${hPa}`,
      value: Math.fround(value),
      offsetBytes: OFFSETS[at]!,
    }));
    let given = 0;
    await fc.assert(
      fc.asyncProperty(someIndex, async (index) => {
        try {
          const fields = await fieldsOf(index);
          expect(truth).toEqual(expect.arrayContaining(fields));
          const told = fields.filter(({ name, offsetBytes }) => index.includes(lineOf(name, offsetBytes)));
          expect(told).toEqual(fields);
          expect(new Set(fields.map(({ name }) => name)).size).toBe(fields.length);
          given += fields.length;
        } catch (error) {
          if (!(error instanceof SourceError) && !(error instanceof InvalidRequestError)) throw error;
        }
      }),
      { numRuns: 1500, seed: 20_260_114 },
    );
    expect(given).toBeGreaterThan(5000);
  });
});
