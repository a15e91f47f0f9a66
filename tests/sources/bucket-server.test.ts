/** The rehearsal must behave as a bucket does, else what passes here fails there. */
import { afterEach, expect, test } from 'vitest';
import { readInventory } from '../../worker/formats/inventory.ts';
import { jsonIndex } from '../support/bucket-index.ts';
import { type BucketServer, startBucketServer } from '../support/bucket-server.ts';
import { concat } from '../support/grib2-builder.ts';
import { fieldMessage } from '../support/grid-fields.ts';

let server: BucketServer;
afterEach(() => server.close());

const open = async (nowMs = 0) => {
  server = await startBucketServer({
    files: { a: { bytes: '0123456789' }, later: { bytes: 'x', availableFromMs: 10 } },
    nowMs: () => nowMs,
  });
  return (path: string, range?: string) =>
    fetch(server.baseUrl + path, range === undefined ? {} : { headers: { range } });
};

test.each([
  ['bytes=2-4', '234', 'bytes 2-4/10'],
  ['bytes=7-', '789', 'bytes 7-9/10'],
  ['bytes=-2', '89', 'bytes 8-9/10'],
  ['bytes=-20', '0123456789', 'bytes 0-9/10'],
  ['bytes=8-99', '89', 'bytes 8-9/10'],
])('a range of %s is %s', async (range, body, contentRange) => {
  const response = await (await open())('a', range);
  expect(response.status).toBe(206);
  expect(response.headers.get('content-range')).toBe(contentRange);
  expect(await response.text()).toBe(body);
});

test('a range behind the end is 416, other units are the whole file', async () => {
  const get = await open();
  expect((await get('a', 'bytes=10-')).status).toBe(416);
  expect(await (await get('a', 'lines=1-2')).text()).toBe('0123456789');
});

test('a file is not there before its time', async () => {
  expect((await (await open(9))('later')).status).toBe(404);
  await server.close();
  expect((await (await open(10))('later')).status).toBe(200);
  expect((await fetch(`${server.baseUrl}never`)).status).toBe(404);
});

test('the JSON index of a file names its messages in the form of ECMWF', async () => {
  const file = concat([
    fieldMessage({ parameter: '0.0.0', value: 270, level: 85_000 }),
    fieldMessage({ parameter: '0.0.0', value: 271, levelType: 103, level: 2 }),
  ]);
  const { entries, rejected } = readInventory(await jsonIndex(file));
  expect(rejected).toEqual([]);
  expect(entries.map(({ parameter, level, forecast }) => `${parameter} ${level} ${forecast}`)).toEqual([
    't 850 pl 6',
    '2t sfc 6',
  ]);
  expect(entries.at(-1)!.offsetBytes + entries.at(-1)!.lengthBytes!).toBe(file.length);
});
