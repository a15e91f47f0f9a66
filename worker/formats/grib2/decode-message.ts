/** The fields of one GRIB2 message, decoded one at a time. */
import { FormatError, UnsupportedError } from '../../errors.ts';
import { readBitmap, spread } from './bitmap.ts';
import { packedCountOf, packingOf, type Unpacked } from './data-representation.ts';
import type { Grib2Field, Grib2FieldHeader } from './field.ts';
import { gridTemplateOf, readGridDefinition } from './grid-definition.ts';
import { unpackCcsds } from './packing-ccsds.ts';
import { unpackComplex } from './packing-complex.ts';
import { unpackIeee } from './packing-ieee.ts';
import { unpackJpeg2000 } from './packing-jpeg2000.ts';
import { unpackPng } from './packing-png.ts';
import { unpackSimple } from './packing-simple.ts';
import { unpackSpatialDifference } from './packing-spatial-difference.ts';
import { readProductDefinition } from './product-definition.ts';
import { fileOrderOf, toRowMajor } from './scanning.ts';
import type { FieldSections, MessageSections } from './sections.ts';
import { readReferenceTimeMs } from './times.ts';

/** What became of one field, or of bytes that should have held some. */
export type Grib2Item =
  | { readonly kind: 'field'; readonly field: Grib2Field }
  | { readonly kind: 'skipped'; readonly header: Grib2FieldHeader }
  | {
      readonly kind: 'rejected';
      readonly messageOffsetBytes: number;
      readonly error: FormatError | UnsupportedError;
    };

export interface DecodeOptions {
  /** Called before the values are decoded; a field it does not want is skipped. Default: every field. */
  readonly want?: (header: Grib2FieldHeader) => boolean;
  /** A field of more grid points is refused before anything is allocated. Default: 2^24, 64 MiB of values. */
  readonly mostPoints?: number;
}

const MOST_POINTS = 2 ** 24;

/**
 * @param message     Sections from walkSections, whose bytes must stay as they are until the last item is taken.
 * @param firstIndex  Index of the message's first field in the file.
 * @returns           one item a field, in order. A field that cannot be read is rejected alone.
 * @throws never for what the bytes hold; what `want` throws passes through.
 */
export function* decodeMessage(
  message: MessageSections,
  firstIndex: number,
  options: DecodeOptions = {},
): Generator<Grib2Item> {
  for (const [place, sections] of message.fields.entries()) {
    yield decodeOne(() => readHeader(message, sections, firstIndex + place), sections, {
      ...options,
      messageOffsetBytes: message.offsetBytes,
    });
  }
}

function decodeOne(
  header: () => Grib2FieldHeader,
  sections: FieldSections,
  { want, mostPoints, messageOffsetBytes }: DecodeOptions & { messageOffsetBytes: number },
): Grib2Item {
  const read = orRejected(header);
  if ('error' in read) return { kind: 'rejected', messageOffsetBytes, error: read.error };
  if (want?.(read.value) === false) return { kind: 'skipped', header: read.value };
  const decoded = orRejected(() => decodeField(read.value, sections, mostPoints ?? MOST_POINTS));
  if ('error' in decoded) return { kind: 'rejected', messageOffsetBytes, error: decoded.error };
  return { kind: 'field', field: decoded.value };
}

function readHeader(message: MessageSections, sections: FieldSections, index: number): Grib2FieldHeader {
  const { discipline, identification, offsetBytes: messageOffsetBytes } = message;
  const referenceTimeMs = readReferenceTimeMs(identification);
  return {
    index,
    messageOffsetBytes,
    centre: identification.uint16(6),
    referenceTimeMs,
    ...readProductDefinition(sections.product, { discipline, referenceTimeMs }),
    gridTemplate: gridTemplateOf(sections.grid),
    packing: packingOf(sections.representation),
  };
}

function decodeField(header: Grib2FieldHeader, sections: FieldSections, mostPoints: number): Grib2Field {
  const { gridTemplate, ...described } = header;
  const { grid, scanning } = readGridDefinition(sections.grid, mostPoints);
  const decoded = decodeValues(sections, header.packing, grid.nx * grid.ny);
  let fileOrder: Uint32Array | undefined;
  return {
    ...described,
    grid,
    values: toRowMajor(decoded.values, scanning, grid.nx),
    missingCount: decoded.missingCount,
    /** Worked out when it is asked for: few who use the values want it. */
    get fileOrder() {
      fileOrder ??= fileOrderOf(scanning, grid.nx, grid.ny);
      return fileOrder;
    },
  };
}

function decodeValues(sections: FieldSections, packing: number, points: number): Unpacked {
  const { representation, data } = sections;
  const unpack = UNPACKERS.get(packing);
  if (unpack === undefined) {
    throw new UnsupportedError({
      feature: 'data representation template',
      table: 'code table 5.0',
      value: String(packing),
    });
  }
  const bitmap = readBitmap(sections, points);
  const expected = bitmap?.presentCount ?? points;
  const packedCount = packedCountOf(representation);
  if (packedCount !== expected) {
    throw representation.error(6, {
      what: 'number of packed values',
      found: String(packedCount),
      expected: `${expected}, the number of ${bitmap === undefined ? 'grid points' : 'points in the bitmap'}`,
    });
  }
  const packed = unpack(representation, data, packedCount);
  if (bitmap === undefined) return packed;
  return {
    values: spread(packed.values, bitmap, points),
    missingCount: packed.missingCount + points - packedCount,
  };
}

/** Code table 5.0. */
const UNPACKERS = new Map([
  [0, unpackSimple],
  [2, unpackComplex],
  [3, unpackSpatialDifference],
  [4, unpackIeee],
  [40, unpackJpeg2000],
  [41, unpackPng],
  [42, unpackCcsds],
]);

/** Errors of the bytes become values; any other error is ours and passes on. */
function orRejected<T>(read: () => T): { value: T } | { error: FormatError | UnsupportedError } {
  try {
    return { value: read() };
  } catch (error) {
    if (error instanceof FormatError || error instanceof UnsupportedError) return { error };
    throw error;
  }
}
