/** Every GRIB file of the folder of real files: read and equal to ecCodes, or refused by number; none is lost. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Grib2Item } from '../../worker/formats/grib2/decode-message.ts';
import type { Grib2Field } from '../../worker/formats/grib2/field.ts';
import { inspectGrib2Field } from '../../worker/formats/grib2/inspect.ts';
import { type EccodesField, type EccodesHeader, eccodesFields } from '../support/eccodes.ts';
import { differences, isEndMarkerReadAsData, readAll } from '../support/grib2-compare.ts';

const dataFolder = process.env.RIMEWAY_DATA_DIR;
if (!dataFolder) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');
const folder = join(dataFolder, 'grib2');
const files = readdirSync(folder).filter((name) => /\.grib2?$/.test(name));
const sound = files.filter((name) => !name.startsWith('refuse-'));

/** Fields compared and refused in the files that must be there; further files are held to the same rules, uncounted. */
const FIELDS: Readonly<Record<string, { readonly compared?: number; readonly refused?: number }>> = {
  'cmc-global-ps30km-2020012512-jpeg2000.grib2': { compared: 17 },
  'cmc-hrdps-2026021900-cape-rotated-jpeg2000.grib2': { compared: 1 },
  'constant-zero-bits.grib2': { compared: 1 },
  'ecmwf-ifs-2024010100-pl-first10-ccsds.grib2': { compared: 10 },
  'eta-awip211-2004120812-f024-simple.grib2': { compared: 181 },
  'gfs-0p25-2022021000-hgt-jpeg2000.grib2': { compared: 1 },
  'gfs-0p25-2022021000-hgt-png.grib2': { compared: 1 },
  'gfs-0p25-2026060512-f023-pv-tmp-missing.grib2': { compared: 1 },
  'gfs-0p25-f186-rh-constant.grib2': { compared: 1 },
  'gfs-10p0-2021091806-f010-ieee.grib2': { compared: 6 },
  'gfs-1p0-2012031906-wind500.grib2': { compared: 2 },
  'gfs-1p0-2019010612-5.0-simple.grib2': { compared: 2 },
  'gfs-1p0-2019010612-5.2-complex.grib2': { compared: 2 },
  'gfs-1p0-2019010612-5.3-spatialdiff.grib2': { compared: 2 },
  'gfs-1p00-2026072400-f000-first20.grib2': { compared: 20 },
  'gfs-2p5-2011011012-f120.grib2': { compared: 343 },
  'gfs-2p5-2011100800-f072.grib2': { compared: 344 },
  'gfs-flux-gaussian-2004022912-jpeg2000.grib2': { compared: 4 },
  'hrrr-2023072206-f01-cfrzr-constant.grib2': { compared: 1 },
  'hrrr-2026021912-f00-tmp700.grib2': { compared: 1 },
  'hrrr-2026030100-f00-sparse.grib2': { compared: 1 },
  'jma-meps-2019060500-pl-first20.grib2': { compared: 20 },
  'lambert-tiny.grib2': { compared: 1 },
  'nam-awip211-2007012400-f012-jpeg2000.grib2': { compared: 181 },
  'polar-stereographic-tiny.grib2': { compared: 1 },
  'rap-native-2020122000-gdt32769.grib2': { refused: 1 },
  'scanning-mode-bitmap.grib2': { compared: 1 },
  'scanning-mode.grib2': { compared: 1 },
  'spatialdiff-order1.grib2': { compared: 1 },
  'two-fields-one-message-bitmap-reuse.grib2': { compared: 2 },
};

const PRODUCTS = [0, 1, 2, 8, 11, 12];
const GRIDS = [0, 1, 10, 12, 20, 30, 40];
const PACKINGS = [0, 2, 3, 4, 40, 41, 42];

/** Table and number by which a field must be refused, undefined when it must be read; products are looked at first. */
function refusalOf(header: EccodesHeader): string | undefined {
  const { gridDefinitionTemplateNumber: grid, dataRepresentationTemplateNumber: packing } = header;
  const product = header.productDefinitionTemplateNumber;
  if (!PRODUCTS.includes(product)) return `code table 4.0 ${product}`;
  if (!GRIDS.includes(grid)) return `code table 3.1 ${grid}`;
  return PACKINGS.includes(packing) ? undefined : `code table 5.0 ${packing}`;
}

/** What `npm run inspect` says of a field beside what ecCodes says; each value may be rounded to a single. */
function statisticsDifferences(field: Grib2Field, { header, values }: EccodesField): string[] {
  if (isEndMarkerReadAsData(values)) return [];
  const { min, max, mean, count, missing } = inspectGrib2Field(field);
  const size = Math.max(Math.abs(header.min ?? 0), Math.abs(header.max ?? 0));
  const isNear = (ours: number | null, theirs: number | undefined) =>
    ours !== null && theirs !== undefined && Math.abs(ours - theirs) <= size * 2 ** -24;
  const isEqual = isNear(min, header.min) && isNear(max, header.max) && isNear(mean, header.average);
  const hasCounts = count === header.count && missing === header.numberOfMissing;
  if ((isEqual || missing === count) && hasCounts) return [];
  const theirs = [header.min, header.max, header.average, header.count, header.numberOfMissing].join(' ');
  return [`field ${field.index}: found ${[min, max, mean, count, missing].join(' ')}, ecCodes has ${theirs}`];
}

function refusedBy(item: Grib2Item | undefined): string {
  if (item?.kind !== 'rejected') return item?.kind ?? 'lost';
  return item.error.kind === 'unsupported' ? `${item.error.table} ${item.error.value}` : item.error.message;
}

it('the folder holds the files whose fields are counted', () => {
  expect(Object.keys(FIELDS).filter((name) => !sound.includes(name))).toEqual([]);
});

describe('every field is read as ecCodes reads it, or refused by table and number', () => {
  it.each(sound)('%s', async (name) => {
    const items = await readAll(readFileSync(join(folder, name)), { chunkBytes: 65_536 });
    const truth = eccodesFields(join(folder, name));
    const wrong: string[] = [];
    let compared = 0;
    for (const [n, each] of truth.entries()) {
      const item = items[n];
      const refusal = refusalOf(each.header);
      if (refusal !== undefined) {
        if (refusedBy(item) !== refusal) wrong.push(`field ${n}: ${refusedBy(item)}, expected ${refusal}`);
      } else if (item?.kind === 'field') {
        wrong.push(...differences(item.field, each), ...statisticsDifferences(item.field, each));
        compared += 1;
      } else wrong.push(`field ${n}: ${refusedBy(item)}`);
    }
    expect(wrong).toEqual([]);
    const beyond = items.slice(truth.length);
    expect(beyond.filter((item) => item.kind !== 'rejected')).toEqual([]);
    const expected = FIELDS[name] ?? { compared, refused: truth.length - compared };
    expect([compared, truth.length - compared]).toEqual([expected.compared ?? 0, expected.refused ?? 0]);
    expect(truth.length).toBeGreaterThan(0);
  });

  it('heights of terrain in the folder of places', async () => {
    const path = join(folder, '../places/elevation-1deg.grib2');
    const [item, ...more] = await readAll(readFileSync(path));
    if (item?.kind !== 'field') throw new Error('expected a field');
    expect([differences(item.field, eccodesFields(path)[0]!), more]).toEqual([[], []]);
  });
});

describe('what is meant to be refused gives no field', () => {
  it('edition 1, by number', async () => {
    const items = await readAll(readFileSync(join(folder, 'refuse-edition1.grib')));
    expect(items.map(refusedBy)).toEqual(['octet 8 of section 0 1']);
  });

  it('a truncated message, by its length', async () => {
    const items = await readAll(readFileSync(join(folder, 'refuse-truncated.grib2')));
    expect(items.map((item) => item.kind === 'rejected' && item.error.kind)).toEqual(['format']);
    expect(refusedBy(items[0])).toContain('section 0 length at offset 8');
  });
});

async function fieldsOf(name: string): Promise<(Grib2Field | undefined)[]> {
  const items = await readAll(readFileSync(join(folder, name)), { chunkBytes: 65_536 });
  return items.map((item) => (item.kind === 'field' ? item.field : undefined));
}

describe('the same field in several packings', () => {
  it('5.0, 5.2 and 5.3 give the same winds within a step of the coarsest', async () => {
    const names = ['5.0-simple', '5.2-complex', '5.3-spatialdiff'];
    const files = await Promise.all(names.map((name) => fieldsOf(`gfs-1p0-2019010612-${name}.grib2`)));
    let compared = 0;
    for (const n of [0, 1]) {
      const [a, b, c] = files.map((fields) => fields[n]!.values);
      for (let at = 0; at < a!.length; at += 1) {
        const spread = Math.max(a![at]!, b![at]!, c![at]!) - Math.min(a![at]!, b![at]!, c![at]!);
        if (spread > 0.01) throw new Error(`field ${n} point ${at} differs by ${spread} m/s`);
        compared += 1;
      }
    }
    expect(compared).toBe(2 * 65_160);
  });

  it('5.40 and 5.41 give the same heights to the last bit', async () => {
    const [jpeg2000] = await fieldsOf('gfs-0p25-2022021000-hgt-jpeg2000.grib2');
    const [png] = await fieldsOf('gfs-0p25-2022021000-hgt-png.grib2');
    expect([jpeg2000?.packing, png?.packing, png?.values.length]).toEqual([40, 41, 1_038_240]);
    expect(jpeg2000?.values.findIndex((value, n) => value !== png?.values[n])).toBe(-1);
    /** As PROVENANCE.md has them. */
    const { max, mean } = inspectGrib2Field(png!);
    expect([max?.toFixed(2), mean?.toFixed(2)]).toEqual(['5950.23', '5507.54']);
  });
});
