/**
 * Section 4: what a field is of, on which level, and when.
 *
 * @source  WMO-No. 306, Volume I.2, product definition templates of code table 4.0 that describe a field on a level: all hold
 *          what 4.0 has in octets 12 to 34, some behind octets for a chemical, an aerosol or a wavelength; code table 4.5.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import type { EnsembleMember, Grib2Level, Grib2Parameter } from './field.ts';
import { readForecastMs, readInstantMs } from './times.ts';

export interface ProductDefinition {
  readonly productTemplate: number;
  readonly parameter: Grib2Parameter;
  readonly generatingProcess: number;
  readonly level: Grib2Level;
  readonly secondLevel: Grib2Level | undefined;
  readonly validTimeMs: number;
  readonly member: EnsembleMember | undefined;
}

interface Layout {
  /** Octets by which what stands from octet 12 on in template 4.0 is moved back. */
  readonly shift: number;
  /** Octet where the end of the time interval stands; undefined for an instant. */
  readonly endOctet?: number;
  /** Octets of the forecast time, where there are not 4. */
  readonly forecastOctets?: 2;
}

const LAYOUTS: ReadonlyMap<number, Layout> = new Map<number, Layout>([
  // Analysis or forecast, ensemble member, mean of members; probability, percentile, spatially processed.
  [0, { shift: 0 }],
  [1, { shift: 0 }],
  [2, { shift: 0 }],
  [5, { shift: 0 }],
  [6, { shift: 0 }],
  [15, { shift: 0 }],
  // The same over an interval.
  [8, { shift: 0, endOctet: 35 }],
  [9, { shift: 0, endOctet: 48 }],
  [10, { shift: 0, endOctet: 36 }],
  [11, { shift: 0, endOctet: 38 }],
  [12, { shift: 0, endOctet: 37 }],
  // Of a chemical: two octets say which.
  [40, { shift: 2 }],
  [41, { shift: 2 }],
  [42, { shift: 2, endOctet: 37 }],
  [43, { shift: 2, endOctet: 40 }],
  // Of an aerosol: thirteen octets say which and of what size, eleven more at which wavelength.
  [44, { shift: 13, forecastOctets: 2 }],
  [46, { shift: 13, endOctet: 48 }],
  [48, { shift: 24 }],
  [49, { shift: 24 }],
]);

/** One member of an ensemble: octets 35 and 36 say which. */
const MEMBER_TEMPLATES: ReadonlySet<number> = new Set([1, 11]);
const MEMBER_OCTET = 35;
const NO_SURFACE = 255;
/** Octets of template 4.0; a surface has six. */
const PROCESS_OCTET = 14;
const TIME_UNIT_OCTET = 18;
const FORECAST_OCTETS = 4;
const SURFACE_OCTETS = 6;

/**
 * @throws UnsupportedError for other templates and for units of time of no fixed length; FormatError for an interval
 *   that ends at no real instant.
 */
export function readProductDefinition(
  section4: ByteReader,
  { discipline, referenceTimeMs }: { discipline: number; referenceTimeMs: number },
): ProductDefinition {
  const productTemplate = section4.uint16(8);
  const layout = LAYOUTS.get(productTemplate);
  if (layout === undefined) {
    throw new UnsupportedError({
      feature: 'product definition template',
      table: 'code table 4.0',
      value: String(productTemplate),
    });
  }
  const { shift, endOctet, forecastOctets = FORECAST_OCTETS } = layout;
  const timeOctet = TIME_UNIT_OCTET + shift;
  const surfaceOctet = timeOctet + 1 + forecastOctets;
  const secondLevel = readLevel(section4, surfaceOctet + SURFACE_OCTETS);
  return {
    productTemplate,
    parameter: { discipline, category: section4.uint8(10), number: section4.uint8(11) },
    generatingProcess: section4.uint8(PROCESS_OCTET + shift),
    level: readLevel(section4, surfaceOctet),
    secondLevel: secondLevel.type === NO_SURFACE ? undefined : secondLevel,
    validTimeMs:
      endOctet === undefined
        ? referenceTimeMs + readForecastMs(section4, timeOctet, forecastOctets)
        : readInstantMs(section4, endOctet),
    member: MEMBER_TEMPLATES.has(productTemplate)
      ? { type: section4.uint8(MEMBER_OCTET + shift), number: section4.uint8(MEMBER_OCTET + 1 + shift) }
      : undefined,
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
