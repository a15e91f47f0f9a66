/** JPEG 2000 codestreams that ecCodes wrote, for the tests that look at their parts or damage them. */
import { ByteReader } from '../../worker/formats/byte-reader.ts';
import { type Codestream, readCodestream } from '../../worker/formats/grib2/jpeg2000-codestream.ts';
import { packedByEccodes } from './eccodes-pack.ts';
import { payloadOf } from './grib2-packings.ts';

export interface SampleForm {
  readonly columns: number;
  readonly rows: number;
  readonly bits: number;
}

/** Waves, with the least and the largest number in the first two places, so that the width is what it says. */
export function wavesOf({ columns, rows, bits }: SampleForm): number[] {
  const largest = 2 ** bits - 1;
  return Array.from({ length: columns * rows }, (_, n) => {
    if (n < 2) return n * largest;
    return Math.floor(((Math.sin(n / 30) + Math.cos(n / columns / 3) + 2) / 4) * largest);
  });
}

/** Messages in which every integer is a value: R, E and D are 0. */
export function jpeg2000Messages(forms: readonly SampleForm[]): Uint8Array[] {
  return packedByEccodes(
    forms.map((form) => ({
      ...form,
      values: wavesOf(form),
      keys: { packingType: 'grid_jpeg', decimalScaleFactor: 0, bitsPerValue: form.bits },
    })),
  );
}

export function codestreamsOf(forms: readonly SampleForm[]): Uint8Array[] {
  return jpeg2000Messages(forms).map(payloadOf);
}

export function parsed(codestream: Uint8Array, points: number): Codestream {
  return readCodestream(
    new ByteReader(codestream, { format: 'GRIB2', name: 'codestream', offsetBytes: 1000 }),
    points,
  );
}
