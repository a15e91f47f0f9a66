/** The link of a brief as a QR code (ISO/IEC 18004), small enough to print and still be read by a camera. */
import { encode } from 'uqr';

/** 77 modules a side: 0.3 mm each on the 25 mm that the print has room for. */
const LARGEST_VERSION = 15;
/** The standard asks for four light modules around the code. */
const QUIET_MODULES = 4;

export interface LinkCode {
  /** Modules a side, the quiet zone counted in. */
  readonly modules: number;
  /** SVG path of the dark modules, one unit a module. */
  readonly path: string;
}

/** Undefined where the link is too long to be printed so that a camera reads it. */
export function linkCode(link: string): LinkCode | undefined {
  let rows: boolean[][];
  try {
    rows = encode(link, {
      ecc: 'L',
      boostEcc: true,
      border: QUIET_MODULES,
      maxVersion: LARGEST_VERSION,
    }).data;
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
  const parts: string[] = [];
  rows.forEach((row, y) => {
    row.forEach((isDark, x) => {
      if (isDark) parts.push(`M${x} ${y}h1v1h-1z`);
    });
  });
  return { modules: rows.length, path: parts.join('') };
}
