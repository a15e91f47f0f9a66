/**
 * JPEG 2000 images of one component whose samples are deeper, or whose sides are longer, than OpenJPEG's interface
 * carries: whole numbers all the way, as encoders of gridded data write them, and none of the variations that they do not
 * use.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), annexes B, D and F.
 */
import { UnsupportedError } from '../../errors.ts';
import { joinBytes } from '../join-bytes.ts';
import { decodeBlock } from './jpeg2000-block.ts';
import type { Codestream } from './jpeg2000-codestream.ts';
import { ImageFault, readPackets } from './jpeg2000-packets.ts';
import { layOut, type Resolution, type Subband } from './jpeg2000-subbands.ts';
import { synthesize } from './jpeg2000-wavelet.ts';

/** With what the transformation adds, and halves, coefficients fit 32 bits. */
const MOST_SAMPLE_BITS = 26;
const MOST_PLANES = 30;
const PRECINCTS_FLAG = 1;

/**
 * Whether the packet headers account for every octet of the image, as far as they are of a kind that is read here.
 *
 * @throws ImageFault when they do not.
 */
export function checkPackets(codestream: Codestream): void {
  if (variationOf(codestream) === undefined) blocksOf(codestream);
}

/**
 * @returns the samples row by row.
 * @throws ImageFault when packets or blocks contradict the headers; UnsupportedError for what is not written in practice.
 */
export function decodeDeepImage(codestream: Codestream): Int32Array {
  refuseVariations(codestream);
  const { width, height, bits } = codestream;
  const resolutions = blocksOf(codestream);
  const samples = new Int32Array(width * height);
  for (const { precincts } of resolutions) {
    for (const band of precincts.flat()) decodeBand(band, samples, width);
  }
  halve(samples);
  synthesize(samples, width, resolutions);
  raise(samples, 2 ** (bits - 1));
  return samples;
}

/*
 * The loops over samples are functions of their own: one after another in one function, V8 compiles it anew for each and
 * throws the code away behind it.
 */

function decodeBand(band: Subband, samples: Int32Array, stride: number): void {
  for (const block of band.blocks) {
    if (block.passes === 0) continue;
    if (band.planes - block.zeroPlanes > MOST_PLANES) throw new ImageFault(`${band.planes} bit planes`);
    decodeBlock(block, band, samples, stride);
  }
}

/** Towards zero. */
function halve(samples: Int32Array): void {
  for (let n = 0; n < samples.length; n += 1) samples[n] = (samples[n]! / 2) | 0;
}

/** Samples are coded around 0, and are not negative. */
function raise(samples: Int32Array, middle: number): void {
  for (let n = 0; n < samples.length; n += 1) {
    samples[n] = Math.min(Math.max(samples[n]! + middle, 0), 2 * middle - 1);
  }
}

function blocksOf(codestream: Codestream): Resolution[] {
  const resolutions = layOut(codestream);
  const tile = joinBytes(codestream.parts.map(({ data }) => data));
  readPackets(tile, resolutions, codestream.coding);
  return resolutions;
}

/** What of a codestream is not read here, in a word. */
function variationOf({ coding, quantization }: Codestream): string | undefined {
  if (!coding.isReversible || quantization.style !== 0) return 'quantization';
  if (coding.precincts.some((size, n) => n > 0 && Math.min(...size) === 0)) return 'precincts';
  if ((coding.flags & ~PRECINCTS_FLAG) !== 0) return 'marks between packets';
  return coding.blockStyle === 0 ? undefined : 'code block style';
}

function refuseVariations(codestream: Codestream): void {
  const { width, height, bits } = codestream;
  const value = bits > MOST_SAMPLE_BITS ? 'depth' : variationOf(codestream);
  if (value === undefined) return;
  const feature = `JPEG 2000 image of ${width} x ${height} samples of ${bits} bits with its`;
  throw new UnsupportedError({ feature, table: 'ISO/IEC 15444-1, annex A', value });
}
