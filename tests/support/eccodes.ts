/** GRIB fields as ecCodes reads them, live: an independent decoder to compare with. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface EccodesHeader {
  readonly offset: number;
  readonly edition: number;
  readonly discipline: number;
  readonly parameterCategory: number;
  readonly parameterNumber: number;
  readonly typeOfFirstFixedSurface: number;
  readonly scaleFactorOfFirstFixedSurface: number | null;
  readonly scaledValueOfFirstFixedSurface: number | null;
  readonly typeOfSecondFixedSurface: number;
  /** As numbers: 20110110 and 1200. */
  readonly dataDate: number;
  readonly dataTime: number;
  readonly validityDate: number;
  readonly validityTime: number;
  readonly gridDefinitionTemplateNumber: number;
  readonly productDefinitionTemplateNumber: number;
  readonly dataRepresentationTemplateNumber: number;
  readonly Nx: number | null;
  readonly Ny: number | null;
  readonly numberOfDataPoints: number;
  readonly numberOfMissing: number;
  readonly centre: number;
  readonly generatingProcessIdentifier: number;
  readonly bitsPerValue: number;
  readonly binaryScaleFactor: number;
  readonly decimalScaleFactor: number;
  readonly referenceValue: number;
  /** Number of values that follow. */
  readonly count: number;
  readonly error?: string;
  /** Of the values that are not missing; absent with an error. */
  readonly min?: number;
  readonly max?: number;
  readonly average?: number;
}

export interface EccodesField {
  readonly header: EccodesHeader;
  /** In ecCodes' order, NaN where missing. */
  readonly values: Float64Array;
  /** Empty unless asked for. */
  readonly latDeg: Float64Array;
  readonly lonDeg: Float64Array;
}

/** The interpreter of the Debian package python3-eccodes; another one on the PATH would not find it. */
export const ECCODES_PYTHON = '/usr/bin/python3';
const SCRIPT = new URL('eccodes-fields.py', import.meta.url).pathname;
const MOST_OUTPUT_BYTES = 1024 * 1024 * 1024;

/** @throws Error with one clear line when ecCodes is not installed. */
export function eccodesFields(path: string, options: { places?: boolean } = {}): EccodesField[] {
  const args = [SCRIPT, path, ...(options.places === true ? ['places'] : [])];
  const run = spawnSync(ECCODES_PYTHON, args, { maxBuffer: MOST_OUTPUT_BYTES });
  if (run.status !== 0) {
    const cause = run.error?.message ?? run.stderr.toString().trim().split('\n').at(-1);
    throw new Error(
      `ecCodes for ${ECCODES_PYTHON} (apt-get install python3-eccodes) does not read ${path}: ${cause}`,
    );
  }
  return parseFields(run.stdout, options.places === true);
}

/** The same for bytes made in a test. */
export function eccodesFieldsOf(bytes: Uint8Array, options: { places?: boolean } = {}): EccodesField[] {
  const folder = mkdtempSync(join(tmpdir(), 'rimeway-eccodes-'));
  try {
    const path = join(folder, 'made.grib2');
    writeFileSync(path, bytes);
    return eccodesFields(path, options);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function parseFields(output: Buffer, withPlaces: boolean): EccodesField[] {
  const fields: EccodesField[] = [];
  for (let at = 0; at < output.length; ) {
    const textLength = output.readUInt32LE(at);
    const header = JSON.parse(output.toString('utf8', at + 4, at + 4 + textLength)) as EccodesHeader;
    at += 4 + textLength;
    const next = (count: number) => {
      const array = new Float64Array(count);
      new Uint8Array(array.buffer).set(output.subarray(at, at + array.byteLength));
      at += array.byteLength;
      return array;
    };
    const placed = withPlaces ? header.count : 0;
    fields.push({ header, values: next(header.count), latDeg: next(placed), lonDeg: next(placed) });
  }
  return fields;
}
