/** Sections 3 of further templates, in the manner of grib2-builder.ts: the first point stays, the scanning leads from it. */
import { ByteReader } from '../../worker/formats/byte-reader.ts';
import type { Grib2Grid } from '../../worker/formats/grib2/field.ts';
import { readGridDefinition } from '../../worker/formats/grib2/grid-definition.ts';
import { f32, lambert, latLon, microdegrees, s32, section, u8, u16, u32 } from './grib2-builder.ts';

type Entries = Readonly<Record<number, readonly number[]>>;

export interface GridSize {
  readonly nx: number;
  readonly ny: number;
  readonly scanning?: number;
}

export type GridBuilder = (size: GridSize, entries?: Entries) => Uint8Array;

const isWestward = (scanning: number) => (scanning & 0x80) !== 0;
const isNorthward = (scanning: number) => (scanning & 0x40) !== 0;

/** Entries of another section, with further octets behind it. */
function longer(of: Uint8Array, length: number, entries: Entries): Uint8Array {
  return section(3, length, { 5: [...of.subarray(4)], ...entries });
}

/** As latLon in its own coordinates: 1 degree apart from 50 N 10 E, with the southern pole at 36 S 245 E. */
export const rotated: GridBuilder = (size, entries = {}) =>
  longer(latLon(size), 84, {
    13: u16(1),
    55: u8(0x38),
    73: microdegrees(-36),
    77: microdegrees(245),
    81: f32(0),
    ...entries,
  });

/** N of the Gaussian grids made here, and its first eight latitudes as ecCodes 2.28 lists them. */
export const GAUSSIAN_N = 32;
export const GAUSSIAN_LATITUDES_DEG = [
  87.86379883923263, 85.0965269883173, 82.31291294788628, 79.52560657265944, 76.73689968036831,
  73.94751515398967, 71.15775201158732, 68.36775610831317,
];

/** Rows from the northernmost parallel of N 32 on, or northward from the eighth; columns 2.8125 degrees apart from 10 E. */
export const gaussian: GridBuilder = ({ nx, ny, scanning = 0 }, entries = {}) => {
  const rows = GAUSSIAN_LATITUDES_DEG.slice(0, ny);
  if (isNorthward(scanning)) rows.reverse();
  const lonSign = isWestward(scanning) ? -1 : 1;
  return section(3, 72, {
    7: u32(nx * ny),
    13: u16(40),
    15: u8(6),
    31: u32(nx),
    35: u32(ny),
    43: [0xff, 0xff, 0xff, 0xff],
    47: microdegrees(rows[0]!),
    51: microdegrees(10),
    55: u8(0x30),
    56: microdegrees(rows.at(-1)!),
    60: microdegrees(10 + lonSign * 2.8125 * (nx - 1)),
    64: microdegrees(2.8125),
    68: u32(GAUSSIAN_N),
    72: u8(scanning),
    ...entries,
  });
};

/** 10 km apart at 20 N, from 15 N 200 E; the last point by the formulas of the sphere. */
export const mercator: GridBuilder = ({ nx, ny, scanning = 0x40 }, entries = {}) => {
  const radiusM = 6_371_229 * Math.cos(Math.PI / 9);
  const turned = (latDeg: number) => Math.log(Math.tan(Math.PI / 4 + (latDeg * Math.PI) / 360));
  const north = ((isNorthward(scanning) ? 1 : -1) * 10_000 * (ny - 1)) / radiusM;
  const east = ((isWestward(scanning) ? -1 : 1) * 10_000 * (nx - 1)) / radiusM;
  const lastLatDeg = (Math.atan(Math.exp(turned(15) + north)) * 360) / Math.PI - 90;
  return section(3, 72, {
    7: u32(nx * ny),
    13: u16(10),
    15: u8(6),
    31: u32(nx),
    35: u32(ny),
    39: microdegrees(15),
    43: microdegrees(200),
    47: u8(0x30),
    48: microdegrees(20),
    52: microdegrees(lastLatDeg),
    56: microdegrees(200 + (east * 180) / Math.PI),
    60: u8(scanning),
    65: u32(10_000_000),
    69: u32(10_000_000),
    ...entries,
  });
};

/** 1 km apart on a map of scale 0.9996 about 117 W, from 440 km E and 3 750 km N, 500 km of it false. */
export const transverseMercator: GridBuilder = ({ nx, ny, scanning = 0x40 }, entries = {}) => {
  const [x1, y1] = [44_000_000, 375_000_000];
  return section(3, 84, {
    7: u32(nx * ny),
    13: u16(12),
    15: u8(5),
    31: u32(nx),
    35: u32(ny),
    39: microdegrees(0),
    43: microdegrees(-117),
    47: u8(0x38),
    48: f32(0.9996),
    52: s32(50_000_000),
    56: s32(0),
    60: u8(scanning),
    61: u32(100_000),
    65: u32(100_000),
    69: s32(x1),
    73: s32(y1),
    77: s32(x1 + (isWestward(scanning) ? -1 : 1) * 100_000 * (nx - 1)),
    81: s32(y1 + (isNorthward(scanning) ? 1 : -1) * 100_000 * (ny - 1)),
    ...entries,
  });
};

/** 30 km apart at 60 N, from 40 N 225 E, about the north pole with 249 E upright. */
export const polar: GridBuilder = ({ nx, ny, scanning = 0x40 }, entries = {}) =>
  section(3, 65, {
    7: u32(nx * ny),
    13: u16(20),
    15: u8(6),
    31: u32(nx),
    35: u32(ny),
    39: microdegrees(40),
    43: microdegrees(225),
    47: u8(0x08),
    48: microdegrees(60),
    52: microdegrees(249),
    56: u32(30_000_000),
    60: u32(30_000_000),
    64: u8(0),
    65: u8(scanning),
    ...entries,
  });

/** The same about the south pole: true at 60 S, from 70 S. */
export const southPolar: GridBuilder = (size, entries = {}) =>
  polar(size, { 39: microdegrees(-70), 48: microdegrees(-60), 64: u8(0x80), ...entries });

/** One builder a template, and both poles. */
export const EVERY_GRID: readonly (readonly [name: string, template: number, make: GridBuilder])[] = [
  ['latitude and longitude', 0, latLon],
  ['rotated', 1, rotated],
  ['Mercator', 10, mercator],
  ['transverse Mercator', 12, transverseMercator],
  ['north polar stereographic', 20, polar],
  ['south polar stereographic', 20, southPolar],
  ['Lambert', 30, lambert],
  ['Gaussian', 40, gaussian],
];

/** @throws as readGridDefinition; offsets of its errors count from the section's first octet. */
export function gridOf(section3: Uint8Array): Grib2Grid {
  const octets = new ByteReader(section3, { format: 'GRIB2', name: 'section 3', offsetBytes: 0 });
  return readGridDefinition(octets, 2 ** 24).grid;
}
