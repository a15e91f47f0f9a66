/**
 * Section 4: what a field is of, on which level, and when.
 *
 * @source  WMO-No. 306, Volume I.2, product definition templates 4.0, 4.1, 4.2, 4.8, 4.11 and 4.12, which share their
 *          octets 10 to 34; code tables 4.0 and 4.5.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import type { Grib2Level, Grib2Parameter } from './field.ts';
import { readForecastMs, readInstantMs } from './times.ts';

export interface ProductDefinition {
  readonly productTemplate: number;
  readonly parameter: Grib2Parameter;
  readonly generatingProcess: number;
  readonly level: Grib2Level;
  readonly secondLevel: Grib2Level | undefined;
  readonly validTimeMs: number;
}

/** Template number to the octet where the end of its time interval stands; undefined for an instant. */
const INTERVAL_END_OCTET: ReadonlyMap<number, number | undefined> = new Map([
  [0, undefined],
  [1, undefined],
  [2, undefined],
  [8, 35],
  [11, 38],
  [12, 37],
]);

const NO_SURFACE = 255;
const FIRST_SURFACE_OCTET = 23;
const SECOND_SURFACE_OCTET = 29;

/**
 * @throws UnsupportedError for other templates and for units of time of no fixed length; FormatError for an interval
 *   that ends at no real instant.
 */
export function readProductDefinition(
  section4: ByteReader,
  { discipline, referenceTimeMs }: { discipline: number; referenceTimeMs: number },
): ProductDefinition {
  const productTemplate = section4.uint16(8);
  if (!INTERVAL_END_OCTET.has(productTemplate)) {
    throw new UnsupportedError({
      feature: 'product definition template',
      table: 'code table 4.0',
      value: String(productTemplate),
    });
  }
  const endOctet = INTERVAL_END_OCTET.get(productTemplate);
  const secondLevel = readLevel(section4, SECOND_SURFACE_OCTET);
  return {
    productTemplate,
    parameter: { discipline, category: section4.uint8(10), number: section4.uint8(11) },
    generatingProcess: section4.uint8(14),
    level: readLevel(section4, FIRST_SURFACE_OCTET),
    secondLevel: secondLevel.type === NO_SURFACE ? undefined : secondLevel,
    validTimeMs:
      endOctet === undefined ? referenceTimeMs + readForecastMs(section4) : readInstantMs(section4, endOctet),
  };
}

/** Type, scale factor (1 octet) and scaled value (4 octets), both signed; the value is scaled / 10^factor. */
function readLevel(section4: ByteReader, octet: number): Grib2Level {
  const type = section4.uint8(octet);
  const hasValue = !section4.isMissing(octet + 1, 1) && !section4.isMissing(octet + 2, 4);
  if (!hasValue) return { type, value: Number.NaN };
  const scaled = section4.signed32(octet + 2);
  const factor = section4.signed8(octet + 1);
  return { type, value: factor < 0 ? scaled * 10 ** -factor : scaled / 10 ** factor };
}
