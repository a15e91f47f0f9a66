import { afterAll, beforeAll, expect, it } from 'vitest';
import { packedByEccodes } from '../support/eccodes-pack.ts';
import { concat } from '../support/grib2-builder.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

/** A level each, so that every message is kept: JPEG 2000 by OpenJPEG and by our own decoder, PNG, CCSDS, IEEE, simple. */
const PACKINGS: readonly Readonly<Record<string, number | string>>[] = [
  { packingType: 'grid_jpeg', decimalScaleFactor: 1, bitsPerValue: 12 },
  { packingType: 'grid_jpeg', decimalScaleFactor: 4, bitsPerValue: 20 },
  { packingType: 'grid_png', bitsPerValue: 16 },
  { packingType: 'grid_ccsds', bitsPerValue: 12 },
  { packingType: 'grid_ieee', precision: 1 },
  { packingType: 'grid_simple', bitsPerValue: 12 },
];
const COLUMNS = 40;
const ROWS = 30;

let instance: TestInstance;

beforeAll(async () => {
  instance = await startLocalInstance({ demo: false });
});
afterAll(() => instance.stop());

const post = (body: Uint8Array<ArrayBuffer>) =>
  fetch(`${instance.baseUrl}/api/grids`, {
    method: 'POST',
    body,
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });

it('POST /api/grids stores temperatures of every packing, and refuses an image that is cut', async () => {
  const values = Array.from({ length: COLUMNS * ROWS }, (_, n) => 255 + 20 * Math.sin(n / 99));
  const messages = packedByEccodes(
    PACKINGS.map((keys, n) => ({
      columns: COLUMNS,
      rows: ROWS,
      values,
      keys: { shortName: 't', typeOfLevel: 'isobaricInhPa', level: 500 + 50 * n, ...keys },
    })),
  );
  const cut = Uint8Array.from(messages[0]!);
  cut.fill(0, cut.length - 60, cut.length - 4);
  const response = await post(Uint8Array.from(concat([...messages, cut])));
  const stored = (await response.json()) as {
    keptFields: number;
    rejectedCount: number;
    rejected: { reason: string }[];
    hours: { levelsByQuantity: Record<string, number> }[];
  };
  expect([response.status, stored.keptFields, stored.rejectedCount]).toEqual([201, PACKINGS.length, 1]);
  expect(stored.rejected[0]?.reason).toContain('codestream');
  expect(stored.hours[0]?.levelsByQuantity).toEqual({ temperatureK: PACKINGS.length });
});
