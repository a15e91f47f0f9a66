/**
 * Packets: for each layer and resolution a header that says which code blocks get how many passes and octets, and these.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), B.9, B.10 and B.12.
 */
import type { CodingStyle } from './jpeg2000-parameters.ts';
import type { CodeBlock, Resolution, Subband } from './jpeg2000-subbands.ts';

/** What is wrong with the packets or blocks of an image; the caller knows where it stands. */
export class ImageFault extends Error {}

/** Table A.16: what changes last comes first. */
const PROGRESSION = { layers: 0, resolutionsAndLayers: 1, resolutionsAndPlaces: 2 } as const;
/** Bits of a length field beyond which no length can be. */
const MOST_LENGTH_BITS = 31;

/** Hands the octets of a tile out to the code blocks; every octet must be somebody's. */
export function readPackets(tile: Uint8Array, resolutions: readonly Resolution[], coding: CodingStyle): void {
  let at = 0;
  for (const { bands, layer } of orderOf(resolutions, coding)) at = readPacket(tile, at, bands, layer);
  if (at !== tile.length) throw new ImageFault(`${tile.length - at} octets after the last packet`);
}

interface Packet {
  readonly bands: readonly Subband[];
  readonly layer: number;
}

/** B.12. Orders by place come out the same as by resolution when each resolution is one precinct. */
function* orderOf(resolutions: readonly Resolution[], coding: CodingStyle): Generator<Packet> {
  const isWhole = resolutions.every(({ precincts }) => precincts.length <= 1);
  if (coding.progression > PROGRESSION.resolutionsAndPlaces && !isWhole) {
    throw new ImageFault(`progression ${coding.progression} over several precincts`);
  }
  if (coding.progression === PROGRESSION.layers) {
    for (let layer = 0; layer < coding.layers; layer += 1) {
      for (const { precincts } of resolutions) for (const bands of precincts) yield { bands, layer };
    }
    return;
  }
  const isByLayer = coding.progression === PROGRESSION.resolutionsAndLayers;
  for (const { precincts } of resolutions) {
    const count = coding.layers * precincts.length;
    for (let n = 0; n < count; n += 1) {
      const precinct = isByLayer ? n % precincts.length : Math.floor(n / coding.layers);
      const layer = isByLayer ? Math.floor(n / precincts.length) : n % coding.layers;
      yield { bands: precincts[precinct]!, layer };
    }
  }
}

interface Contribution {
  readonly block: CodeBlock;
  readonly lengthOctets: number;
}

function readPacket(tile: Uint8Array, start: number, bands: readonly Subband[], layer: number): number {
  const bits = new HeaderBits(tile, start);
  const contributions: Contribution[] = [];
  if (bits.take(1) === 1) {
    for (const band of bands) {
      for (let n = 0; n < band.blocks.length; n += 1) {
        if (isIncluded(band, n, layer, bits)) contributions.push(readContribution(band, n, bits));
      }
    }
  }
  let at = bits.end();
  for (const { block, lengthOctets } of contributions) {
    if (at + lengthOctets > tile.length) throw overrun();
    block.segments.push(tile.subarray(at, at + lengthOctets));
    at += lengthOctets;
  }
  return at;
}

function isIncluded(band: Subband, n: number, layer: number, bits: HeaderBits): boolean {
  if (band.blocks[n]!.passes > 0) return bits.take(1) === 1;
  return band.inclusion.valueBelow(layer + 1, n, bits.next) !== undefined;
}

function readContribution(band: Subband, n: number, bits: HeaderBits): Contribution {
  const block = band.blocks[n]!;
  if (block.passes === 0) {
    const zeroPlanes = band.zeroPlanes.valueBelow(band.planes + 1, n, bits.next);
    if (zeroPlanes === undefined) throw new ImageFault(`more than ${band.planes} zero bit planes`);
    block.zeroPlanes = zeroPlanes;
  }
  const passes = readPassCount(bits);
  block.passes += passes;
  if (block.passes > Math.max(0, 3 * (band.planes - block.zeroPlanes) - 2)) {
    throw new ImageFault(`${block.passes} passes over ${band.planes - block.zeroPlanes} bit planes`);
  }
  while (bits.take(1) === 1) block.lengthBits += 1;
  const width = block.lengthBits + 31 - Math.clz32(passes);
  if (width > MOST_LENGTH_BITS) throw new ImageFault(`a length of ${width} bits`);
  return { block, lengthOctets: bits.take(width) };
}

/** Table B.4. */
function readPassCount(bits: HeaderBits): number {
  if (bits.take(1) === 0) return 1;
  if (bits.take(1) === 0) return 2;
  const few = bits.take(2);
  if (few < 3) return 3 + few;
  const more = bits.take(5);
  return more < 31 ? 6 + more : 37 + bits.take(7);
}

/** Bits of a packet header: after an octet of ones the first bit of the next one is none. */
class HeaderBits {
  readonly #tile: Uint8Array;
  #at: number;
  #octet = 0;
  #left = 0;

  constructor(tile: Uint8Array, at: number) {
    this.#tile = tile;
    this.#at = at;
  }

  readonly next = (): number => {
    if (this.#left === 0) this.#load();
    this.#left -= 1;
    return (this.#octet >>> this.#left) & 1;
  };

  take(width: number): number {
    let number = 0;
    for (let n = 0; n < width; n += 1) number = number * 2 + this.next();
    return number;
  }

  /** Where the octets after the header begin. */
  end(): number {
    return this.#octet === 0xff ? this.#at + 1 : this.#at;
  }

  #load(): void {
    if (this.#at >= this.#tile.length) throw overrun();
    this.#left = this.#octet === 0xff ? 7 : 8;
    this.#octet = this.#tile[this.#at]!;
    this.#at += 1;
  }
}

const overrun = () => new ImageFault('packets that go beyond the tile');
