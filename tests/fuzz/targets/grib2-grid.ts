/** Section 3 of every template: corners, steps, poles, axes and scanning that no producer would write. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { AppBug, FormatError, UnsupportedError } from '../../../worker/errors.ts';
import { ByteReader } from '../../../worker/formats/byte-reader.ts';
import type { Grib2Grid } from '../../../worker/formats/grib2/field.ts';
import { gridFromDefinition, readGridDefinition } from '../../../worker/formats/grib2/grid-definition.ts';
import { EVERY_GRID } from '../../support/grib2-grids.ts';
import type { FuzzTarget, Random } from '../fuzz-target.ts';

const MOST_POINTS = 2 ** 24;
const INDICATOR_BYTES = 16;

export const target: FuzzTarget = {
  name: 'grib2-grid',
  async seeds(dataFolder) {
    const made = EVERY_GRID.flatMap(([, , make]) =>
      [0x00, 0x40, 0x80, 0xb0].map((scanning) => make({ nx: 7, ny: 5, scanning })),
    );
    return [...made, ...(dataFolder === undefined ? [] : realSections(join(dataFolder, 'grib2')))];
  },
  mutate,
  read(bytes) {
    const grid = gridOf(bytes);
    if (grid !== undefined) checkGrid(grid);
  },
  // 72 octets may name 4096 Gaussian parallels: 0.2 s, and as much again for the grid from JSON.
  mostMsPerByte: 6,
  mostBytesPerByte: 64,
};

/** The first section 3 of each file. */
function realSections(folder: string): Uint8Array[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.grib2') && !name.startsWith('refuse-'))
    .flatMap((name) => {
      const file = readFileSync(join(folder, name));
      for (let at = INDICATOR_BYTES; at + 5 < file.length; at += file.readUInt32BE(at)) {
        if (file[at + 4] === 3) return [new Uint8Array(file.subarray(at, at + file.readUInt32BE(at)))];
        if (file[at + 4] === 7) break;
      }
      return [];
    });
}

const WORDS = [
  0,
  1,
  0x7fff_ffff,
  0x8000_0000,
  0x8000_0001,
  0xffff_ffff,
  90_000_000,
  0x8000_0000 + 90_000_000,
  180_000_000,
  360_000_000,
];

/** One to three numbers of four octets or flags of one, at any octet of the template; the number of points is mended. */
function mutate(seed: Uint8Array, random: Random): Uint8Array {
  const view = new DataView(seed.buffer, seed.byteOffset, seed.length);
  for (let count = 1 + random.below(3); count > 0; count -= 1) {
    const at = 10 + random.below(Math.max(1, seed.length - 14));
    if (random.below(3) === 0) seed[at] = random.below(256);
    else if (random.below(2) === 0) view.setUint32(at, WORDS[random.below(WORDS.length)]!);
    else view.setUint32(at, (view.getUint32(at) + random.below(2_000_001) - 1_000_000) >>> 0);
  }
  if (seed.length > 38) view.setUint32(6, Math.imul(view.getUint32(30), view.getUint32(34)) >>> 0);
  return seed;
}

function gridOf(bytes: Uint8Array): Grib2Grid | undefined {
  try {
    const octets = new ByteReader(bytes, { format: 'GRIB2', name: 'section 3', offsetBytes: 0 });
    return readGridDefinition(octets, MOST_POINTS).grid;
  } catch (error) {
    if (error instanceof FormatError || error instanceof UnsupportedError) return undefined;
    throw error;
  }
}

/** What must hold of any grid that is accepted: its corners are places on the earth, and those places are its corners. */
function checkGrid(grid: Grib2Grid): void {
  const again = gridFromDefinition(JSON.parse(JSON.stringify(grid.definition)));
  if (again.key !== grid.key) throw new AppBug(`${grid.key} becomes ${again.key} through JSON`);
  for (const i of [0, (grid.nx - 1) / 2, grid.nx - 1]) {
    for (const j of [0, (grid.ny - 1) / 2, grid.ny - 1]) {
      const place = grid.toLatLon(i, j);
      const isPlace = Math.abs(place.latDeg) <= 90.000_001 && place.lonDeg >= -180 && place.lonDeg < 180;
      if (!isPlace) throw new AppBug(`${grid.key}: ${i}, ${j} at ${place.latDeg}, ${place.lonDeg}`);
      if (!Number.isFinite(grid.windAngleRad(place.latDeg, place.lonDeg)))
        throw new AppBug(`${grid.key}: no angle`);
      const index = grid.toIndex(place.latDeg, place.lonDeg);
      const back = grid.toLatLon(index.i, index.j);
      const missDeg = distanceDeg(place, back);
      if (!(missDeg < 1e-5)) throw new AppBug(`${grid.key}: ${i}, ${j} comes back ${missDeg} deg away`);
    }
  }
}

type Place = ReturnType<Grib2Grid['toLatLon']>;

/** By the chord: at a pole every longitude is the same place. */
function distanceDeg(a: Place, b: Place): number {
  const [ax, ay, az] = unitVector(a);
  const [bx, by, bz] = unitVector(b);
  return (Math.hypot(ax - bx, ay - by, az - bz) * 180) / Math.PI;
}

function unitVector({ latDeg, lonDeg }: Place): readonly [number, number, number] {
  const phi = (latDeg * Math.PI) / 180;
  const lambda = (lonDeg * Math.PI) / 180;
  return [Math.cos(phi) * Math.cos(lambda), Math.cos(phi) * Math.sin(lambda), Math.sin(phi)];
}
