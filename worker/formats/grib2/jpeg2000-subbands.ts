/**
 * Where the code blocks of an image of one tile lie.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), B.5 to B.7 and E.1.
 */
import type { Codestream } from './jpeg2000-codestream.ts';
import type { CodingStyle } from './jpeg2000-parameters.ts';
import { TagTree } from './jpeg2000-tag-tree.ts';

/** Which neighbours count for a coefficient of the subband, table D.1. */
export type Orientation = 'LL' | 'HL' | 'LH' | 'HH';

export interface CodeBlock {
  /** Column and row of its first coefficient where all subbands lie side by side. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** What packets have brought so far: bit planes that are zero, coding passes, and their octets. */
  zeroPlanes: number;
  passes: number;
  lengthBits: number;
  readonly segments: Uint8Array[];
}

/** The part of a subband that lies in one precinct. */
export interface Subband {
  readonly orientation: Orientation;
  /** Bit planes of a coefficient, zero ones included. */
  readonly planes: number;
  readonly blocks: readonly CodeBlock[];
  /** In which layer each block first comes, and how many of its planes are zero. */
  readonly inclusion: TagTree;
  readonly zeroPlanes: TagTree;
}

export interface Resolution {
  readonly width: number;
  readonly height: number;
  /** Row by row; a packet of each layer belongs to each. */
  readonly precincts: readonly (readonly Subband[])[];
}

const FIRST_LENGTH_BITS = 3;

/** From the smallest to the whole image. */
export function layOut({ width, height, coding, quantization }: Codestream): Resolution[] {
  const sizes = Array.from({ length: coding.levels + 1 }, (_, n) => ({
    width: Math.ceil(width / 2 ** (coding.levels - n)),
    height: Math.ceil(height / 2 ** (coding.levels - n)),
  }));
  return sizes.map((size, n) => {
    const low = n === 0 ? size : sizes[n - 1]!;
    const high = { width: size.width - low.width, height: size.height - low.height };
    const areas: readonly Area[] =
      n === 0
        ? [{ orientation: 'LL', x: 0, y: 0, ...size }]
        : [
            { orientation: 'HL', x: low.width, y: 0, width: high.width, height: low.height },
            { orientation: 'LH', x: 0, y: low.height, width: low.width, height: high.height },
            { orientation: 'HH', x: low.width, y: low.height, ...high },
          ];
    const bands = areas.map((area, b) => {
      const exponent = quantization.exponents[n === 0 ? 0 : 3 * n - 2 + b] ?? 0;
      return { area, planes: quantization.guardBits + exponent - 1 };
    });
    return { ...size, precincts: cutPrecincts(size, n, bands, coding) };
  });
}

interface Area {
  readonly orientation: Orientation;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** B.6: precincts of a resolution cut each of its three subbands at half their size. */
function cutPrecincts(
  size: { readonly width: number; readonly height: number },
  resolution: number,
  bands: readonly { readonly area: Area; readonly planes: number }[],
  coding: CodingStyle,
): Subband[][] {
  const [widthLog2, heightLog2] = coding.precincts[resolution]!;
  const halving = resolution === 0 ? 0 : 1;
  const width = 2 ** (widthLog2 - halving);
  const height = 2 ** (heightLog2 - halving);
  const blockWidth = Math.min(2 ** coding.blockWidthLog2, width);
  const blockHeight = Math.min(2 ** coding.blockHeightLog2, height);
  const precincts: Subband[][] = [];
  for (let row = 0; row < Math.ceil(size.height / 2 ** heightLog2); row += 1) {
    for (let column = 0; column < Math.ceil(size.width / 2 ** widthLog2); column += 1) {
      precincts.push(
        bands.map(({ area, planes }) => {
          const part = partOf(area, { x: column * width, y: row * height, width, height });
          return subband(part, planes, blockWidth, blockHeight);
        }),
      );
    }
  }
  return precincts;
}

/** What of a subband lies in a rectangle of it; of no width or height when nothing does. */
function partOf(area: Area, { x, y, width, height }: Omit<Area, 'orientation'>): Area {
  return {
    orientation: area.orientation,
    x: area.x + x,
    y: area.y + y,
    width: Math.max(0, Math.min(width, area.width - x)),
    height: Math.max(0, Math.min(height, area.height - y)),
  };
}

function subband(area: Area, planes: number, blockWidth: number, blockHeight: number): Subband {
  const blocks: CodeBlock[] = [];
  for (let y = 0; y < area.height; y += blockHeight) {
    for (let x = 0; x < area.width; x += blockWidth) {
      blocks.push({
        x: area.x + x,
        y: area.y + y,
        width: Math.min(blockWidth, area.width - x),
        height: Math.min(blockHeight, area.height - y),
        ...{ zeroPlanes: 0, passes: 0, lengthBits: FIRST_LENGTH_BITS, segments: [] },
      });
    }
  }
  const across = Math.ceil(area.width / blockWidth);
  const down = Math.ceil(area.height / blockHeight);
  return {
    orientation: area.orientation,
    ...{ planes, blocks },
    inclusion: new TagTree(across, down),
    zeroPlanes: new TagTree(across, down),
  };
}
