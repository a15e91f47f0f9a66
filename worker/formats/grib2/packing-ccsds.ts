/**
 * Data representation template 5.42 with data template 7.42: grid point data, CCSDS recommended lossless compression.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.42, data template 7.42; CCSDS 121.0-B-3, section 4
 *          (unit-delay predictor and prediction error mapper).
 */
import type { ByteReader } from '../byte-reader.ts';
import { CcsdsBlocks, type CcsdsForm, CodedBitsError } from './ccsds-blocks.ts';
import {
  checkRange,
  checkRest,
  PAYLOAD_OCTET,
  readScale,
  readWidth,
  type Scale,
  type Unpacked,
} from './data-representation.ts';

/** Octet 22. How a decoder would lay out the samples in memory (0x02 in 3 octets, 0x04 first octet first) is not ours. */
const FLAGS = { signed: 0x01, predicted: 0x08, restricted: 0x10, padded: 0x20 } as const;
const LAYOUT_FLAGS = 0x06;
/** Lets an encoder use other block sizes than those of the standard: those are refused whether it is set or not. */
const NOT_ENFORCED_FLAG = 0x40;
const KNOWN_FLAGS =
  FLAGS.signed | FLAGS.predicted | FLAGS.restricted | FLAGS.padded | LAYOUT_FLAGS | NOT_ENFORCED_FLAG;
const BLOCK_SIZES = [8, 16, 32, 64];
const MOST_INTERVAL_BLOCKS = 4096;
const MOST_SHORT_BITS = 30;

interface Samples extends CcsdsForm {
  /** Smallest and largest number that a sample can be. */
  readonly least: number;
  readonly most: number;
}

/**
 * @param count  Number of packed values, already checked against the grid or its bitmap.
 * @returns      the values in file order; a width of no bits makes every value R / 10^D.
 * @throws FormatError when the options are none of the standard's, when the coded data end too early or late, or when a
 *   sample is negative: packed integers are not, and what decoders make of one differs.
 */
export function unpackCcsds(section5: ByteReader, section7: ByteReader, count: number): Unpacked {
  const scale = readScale(section5);
  const bits = readWidth(section5);
  const values = new Float32Array(count);
  if (bits === 0) {
    checkRest(section7, 0);
    return { values: values.fill(scale.offset), missingCount: 0 };
  }
  const samples = readForm(section5, bits);
  checkRange(section5, scale, Math.max(samples.most, -samples.least));
  const predicted = bits <= MOST_SHORT_BITS ? addUpShort : addUp;
  const unpack = samples.hasReference ? predicted : scaleAlone;
  try {
    const blocks = new CcsdsBlocks(section7.from(PAYLOAD_OCTET), samples, count);
    const intervalSamples = samples.blockSize * samples.intervalBlocks;
    for (let at = 0; at < count; at += intervalSamples) {
      const part = values.subarray(at, at + intervalSamples);
      blocks.next(part.length);
      const lowest = unpack(part, blocks.errors, samples, scale);
      if (lowest < 0) throw new CodedBitsError(`a sample of ${lowest}`);
    }
    checkRest(section7, blocks.usedOctets);
  } catch (error) {
    if (error instanceof CodedBitsError) throw badBits(section7, error);
    throw error;
  }
  return { values, missingCount: 0 };
}

function badBits(section7: ByteReader, error: CodedBitsError) {
  return section7.error(PAYLOAD_OCTET, {
    what: 'coded samples',
    found: error.message,
    expected: 'what the options and counts of section 5 say',
  });
}

function readForm(section5: ByteReader, bits: number): Samples {
  const flags = section5.uint8(22);
  const blockSize = section5.uint8(23);
  const intervalBlocks = section5.uint16(24);
  const has = (flag: number) => (flags & flag) !== 0;
  if ((flags & ~KNOWN_FLAGS) !== 0) {
    throw section5.error(22, {
      what: 'compression options',
      found: `0x${flags.toString(16)}`,
      expected: `flags of 0x${KNOWN_FLAGS.toString(16)}`,
    });
  }
  if (!BLOCK_SIZES.includes(blockSize)) {
    throw section5.error(23, {
      what: 'block size',
      found: String(blockSize),
      expected: BLOCK_SIZES.join(', '),
    });
  }
  if (intervalBlocks === 0 || intervalBlocks > MOST_INTERVAL_BLOCKS) {
    throw section5.error(24, {
      what: 'reference sample interval',
      found: `${intervalBlocks} blocks`,
      expected: `1 to ${MOST_INTERVAL_BLOCKS}`,
    });
  }
  const isSigned = has(FLAGS.signed);
  return {
    ...{ bits, blockSize, intervalBlocks },
    isRestricted: has(FLAGS.restricted),
    hasReference: has(FLAGS.predicted),
    isPadded: has(FLAGS.padded),
    least: isSigned ? -(2 ** (bits - 1)) : 0,
    most: isSigned ? 2 ** (bits - 1) - 1 : 2 ** bits - 1,
  };
}

type Unpack = (values: Float32Array, errors: Uint32Array, samples: Samples, scale: Scale) => number;

/**
 * Each sample is the one before and an error; the mapper numbers errors from the small to the large, both signs in turn.
 * Returns the lowest sample, or 0 when none is negative.
 */
const addUp: Unpack = (values, errors, { least, most }, scale) => {
  const { offset, step } = scale;
  let x = errors[0]! > most ? errors[0]! - (most - least + 1) : errors[0]!;
  let lowest = Math.min(x, 0);
  values[0] = offset + step * x;
  for (let n = 1; n < values.length; n += 1) {
    const error = errors[n]!;
    const size = (error >>> 1) + (error & 1);
    const below = x - least;
    const above = most - x;
    if (size <= below && size <= above) x += (error & 1) === 0 ? size : -size;
    else x = below <= above ? least + error : most - error;
    if (x < lowest) lowest = x;
    values[n] = offset + step * x;
  }
  return lowest;
};

/** The same in 32-bit integers, which are half as long in the making: of samples that leave room for their sums. */
const addUpShort: Unpack = (values, errors, samples, { offset, step }) => {
  const least = samples.least | 0;
  const most = samples.most | 0;
  const patterns = new Int32Array(errors.buffer);
  let x = patterns[0]! > most ? (patterns[0]! - (most - least + 1)) | 0 : patterns[0]!;
  let lowest = Math.min(x, 0);
  values[0] = offset + step * x;
  for (let n = 1; n < values.length; n += 1) {
    const error = patterns[n]!;
    const below = (x - least) | 0;
    const above = (most - x) | 0;
    const isNearer = below <= above;
    if ((error + 1) >> 1 <= (isNearer ? below : above)) x = (x + ((error >> 1) ^ -(error & 1))) | 0;
    else x = isNearer ? (least + error) | 0 : (most - error) | 0;
    if (x < lowest) lowest = x;
    values[n] = offset + step * x;
  }
  return lowest;
};

/** Samples that were not predicted from each other. */
const scaleAlone: Unpack = (values, errors, { least, most }, scale) => {
  const { offset, step } = scale;
  let lowest = 0;
  for (let n = 0; n < values.length; n += 1) {
    const raw = errors[n]!;
    const x = raw > most ? raw - (most - least + 1) : raw;
    if (x < lowest) lowest = x;
    values[n] = offset + step * x;
  }
  return lowest;
};
