/** Where the points of every real file lie: corners and random points beside ecCodes, and the angle of their winds. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Grib2Grid } from '../../worker/formats/grib2/field.ts';
import { readGridDefinition } from '../../worker/formats/grib2/grid-definition.ts';
import { fileOrderOf } from '../../worker/formats/grib2/scanning.ts';
import { walkSections } from '../../worker/formats/grib2/sections.ts';
import { type EccodesGrid, eccodesGrids } from '../support/eccodes-places.ts';
import { grib2ErrorOf, unsupported } from '../support/grib2-errors.ts';

const dataFolder = process.env.RIMEWAY_DATA_DIR;
if (!dataFolder) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');
const folder = join(dataFolder, 'grib2');
const files = readdirSync(folder).filter((name) => /\.grib2?$/.test(name) && !name.startsWith('refuse-'));

const MOST_POINTS = 2 ** 24;
const RAD_PER_DEG = Math.PI / 180;
const RANDOM_POINTS = 2000;

/** Degrees of arc by template. ecCodes rounds rotated places to single precision, 8e-6 deg; the others agree to rounding. */
const TOLERANCE_DEG: Readonly<Record<number, number>> = {
  0: 1e-9,
  1: 2e-5,
  10: 1e-9,
  20: 1e-9,
  30: 1e-9,
  40: 1e-9,
};
/** Files that are not listed below may round increments in other ways. */
const TOLERANCE_ELSEWHERE_DEG = 1e-3;

/** Templates of the files that must be there, those that ecCodes cannot place in a list of their own. */
const PLACED: Readonly<Record<string, number>> = {
  'cmc-global-ps30km-2020012512-jpeg2000.grib2': 20,
  'cmc-hrdps-2026021900-cape-rotated-jpeg2000.grib2': 1,
  'constant-zero-bits.grib2': 0,
  'ecmwf-ifs-2024010100-pl-first10-ccsds.grib2': 0,
  'eta-awip211-2004120812-f024-simple.grib2': 30,
  'gfs-0p25-2022021000-hgt-jpeg2000.grib2': 0,
  'gfs-0p25-2022021000-hgt-png.grib2': 0,
  'gfs-0p25-2026060512-f023-pv-tmp-missing.grib2': 0,
  'gfs-0p25-f186-rh-constant.grib2': 0,
  'gfs-10p0-2021091806-f010-ieee.grib2': 0,
  'gfs-1p0-2012031906-wind500.grib2': 0,
  'gfs-1p0-2019010612-5.0-simple.grib2': 0,
  'gfs-1p0-2019010612-5.2-complex.grib2': 0,
  'gfs-1p0-2019010612-5.3-spatialdiff.grib2': 0,
  'gfs-1p00-2026072400-f000-first20.grib2': 0,
  'gfs-2p5-2011011012-f120.grib2': 0,
  'gfs-2p5-2011100800-f072.grib2': 0,
  'gfs-flux-gaussian-2004022912-jpeg2000.grib2': 40,
  'hrrr-2023072206-f01-cfrzr-constant.grib2': 30,
  'hrrr-2026021912-f00-tmp700.grib2': 30,
  'hrrr-2026030100-f00-sparse.grib2': 30,
  'jma-meps-2019060500-pl-first20.grib2': 0,
  'lambert-tiny.grib2': 30,
  'nam-awip211-2007012400-f012-jpeg2000.grib2': 30,
  'scanning-mode-bitmap.grib2': 0,
  'scanning-mode.grib2': 0,
  'spatialdiff-order1.grib2': 10,
};

interface PlacedGrid {
  readonly grid: Grib2Grid;
  /** Column and row of the n-th point of the file. */
  readonly pointAt: (n: number) => { i: number; j: number };
}

function sectionOf(name: string, offset: number) {
  const bytes = readFileSync(join(folder, name));
  const length = Number(bytes.readBigUInt64BE(offset + 8));
  return walkSections(new Uint8Array(bytes.subarray(offset, offset + length)), offset).fields[0]!.grid;
}

function placedGrid(name: string, offset: number): PlacedGrid {
  const { grid, scanning } = readGridDefinition(sectionOf(name, offset), MOST_POINTS);
  const order = fileOrderOf(scanning, grid.nx, grid.ny);
  const pointAt = (n: number) => {
    const at = order?.[n] ?? n;
    return { i: at % grid.nx, j: Math.floor(at / grid.nx) };
  };
  return { grid, pointAt };
}

/** Corners first, then points by a generator of fixed seed. */
function sampleOf({ nx, ny }: Grib2Grid): number[] {
  const count = nx * ny;
  const corners = [0, nx - 1, count - nx, count - 1];
  let state = 12_345;
  const random = Array.from({ length: RANDOM_POINTS }, () => {
    state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
    return Math.floor((state / 2 ** 31) * count);
  });
  return [...corners, ...random];
}

const eastDegOf = (lonDeg: number, fromDeg: number) => ((((lonDeg - fromDeg + 540) % 360) + 360) % 360) - 180;

/** A degree of latitude over one along the parallel, on the ellipsoid of a grid: (1 - e2) / (1 - e2 sin2). */
function meridianOverParallel({ definition }: Grib2Grid, latDeg: number): number {
  const flattening = 'earthFlattening' in definition ? (definition.earthFlattening ?? 0) : 0;
  const e2 = flattening * (2 - flattening);
  return (1 - e2) / (1 - e2 * Math.sin(latDeg * RAD_PER_DEG) ** 2);
}

/** Greatest distance of a sampled point from where ecCodes has it, deg of arc, and of its index from whole numbers, cells. */
function greatestMisses({ grid, pointAt }: PlacedGrid, truth: EccodesGrid): { deg: number; cells: number } {
  let deg = 0;
  let cells = 0;
  for (const n of sampleOf(grid)) {
    const { i, j } = pointAt(n);
    const [latDeg, lonDeg] = [truth.latDeg[n]!, truth.lonDeg[n]!];
    const ours = grid.toLatLon(i, j);
    const eastDeg = eastDegOf(ours.lonDeg, lonDeg) * Math.cos(latDeg * RAD_PER_DEG);
    deg = Math.max(deg, Math.hypot(ours.latDeg - latDeg, eastDeg));
    const index = grid.toIndex(latDeg, lonDeg);
    const isPole = Math.abs(latDeg) > 90 - 1e-9;
    cells = Math.max(cells, Math.hypot(isPole ? 0 : index.i - i, index.j - j));
  }
  return { deg, cells };
}

describe('points lie where ecCodes has them', () => {
  it('the folder holds the files that are counted', () => {
    expect(Object.keys(PLACED).filter((name) => !files.includes(name))).toEqual([]);
  });

  it.each(files)('%s', (name) => {
    let compared = 0;
    for (const truth of eccodesGrids(join(folder, name))) {
      if (truth.error !== undefined) continue;
      const placed = placedGrid(name, truth.offset);
      expect(placed.grid.nx * placed.grid.ny).toBe(truth.latDeg.length);
      const { deg, cells } = greatestMisses(placed, truth);
      console.log(
        `${name}: 3.${truth.template}, ${deg.toExponential(1)} deg, ${cells.toExponential(1)} cells`,
      );
      const isListed = PLACED[name] === truth.template;
      expect(deg).toBeLessThan(isListed ? TOLERANCE_DEG[truth.template]! : TOLERANCE_ELSEWHERE_DEG);
      expect(cells).toBeLessThan(0.01);
      compared += 1;
    }
    if (name in PLACED) expect(compared).toBe(1);
  });
});

describe('grids that ecCodes cannot place', () => {
  /** PROJ 9.1.1: +proj=tmerc +lon_0=-117 +k=0.9996 +x_0=500000 +a=6378206.4 +b=6356583.8, at the corners that the file names. */
  const TRANSVERSE_MERCATOR = [
    [0, 0, 33.89180241965657, -117.64076523391157],
    [19, 19, 33.90214734332685, -117.6285126655023],
  ] as const;
  /** PROJ 9.1.1: +proj=stere +lat_0=90 +lat_ts=60 +lon_0=0 +ellps=WGS84, steps of 71.86 m from the first point. */
  const POLAR_STEREOGRAPHIC = [
    [0, 0, 33.894041, -117.624131],
    [26, 0, 33.90650650027901, -117.63195551589419],
    [0, 26, 33.88751621205061, -117.63907663644665],
    [26, 26, 33.899979270080436, -117.64690398272647],
  ] as const;

  it.each([
    // The file's scale is a single: 0.9996 to 7e-9, 2.6 cm of 3750 km.
    ['two-fields-one-message-bitmap-reuse.grib2', TRANSVERSE_MERCATOR, 3e-7],
    ['polar-stereographic-tiny.grib2', POLAR_STEREOGRAPHIC, 1e-9],
  ] as const)('%s: corners lie where another library has them', (name, corners, mostDeg) => {
    const { grid } = placedGrid(name, 0);
    for (const [i, j, latDeg, lonDeg] of corners) {
      const place = grid.toLatLon(i, j);
      const eastDeg = eastDegOf(place.lonDeg, lonDeg);
      expect(Math.hypot(place.latDeg - latDeg, eastDeg)).toBeLessThan(mostDeg);
    }
  });

  it("NCEP's own template is refused by number", () => {
    const section3 = sectionOf('rap-native-2020122000-gdt32769.grib2', 0);
    const error = grib2ErrorOf(() => readGridDefinition(section3, MOST_POINTS));
    expect(unsupported(error)).toEqual(['code table 3.1', '32769']);
  });
});

describe('winds along the grid', () => {
  /**
   * The angle from the places that ecCodes lists: from the column before to the one after. Places of the rotated grid are
   * rounded to 8e-6 deg, cells of 0.0225 deg; a meridian turns over two cells by the square of a cell over the distance to the
   * pole, which is allowed on top.
   */
  const TOLERANCE_RAD: Readonly<Record<number, number>> = { 1: 6e-4, 20: 1e-6, 30: 1e-6 };

  const flagged = files.filter((name) => TOLERANCE_RAD[PLACED[name] ?? -1] !== undefined);

  it.each(flagged)('%s: the flag is that of ecCodes, and the rows run at the angle', (name) => {
    const [truth] = eccodesGrids(join(folder, name));
    const { grid } = placedGrid(name, truth!.offset);
    // ecCodes has no key for it in polar stereographic grids.
    if (truth!.windsAlongGrid !== null) expect(grid.windsAlongGrid).toBe(truth!.windsAlongGrid === 1);
    let compared = 0;
    for (const n of sampleOf(grid)) {
      const i = n % grid.nx;
      if (i === 0 || i === grid.nx - 1) continue;
      const latDeg = truth!.latDeg[n]!;
      const eastDeg =
        eastDegOf(truth!.lonDeg[n + 1]!, truth!.lonDeg[n - 1]!) * Math.cos(latDeg * RAD_PER_DEG);
      const northDeg = (truth!.latDeg[n + 1]! - truth!.latDeg[n - 1]!) * meridianOverParallel(grid, latDeg);
      const angle = grid.windAngleRad(latDeg, truth!.lonDeg[n]!);
      const miss = Math.atan2(northDeg, eastDeg) - Math.atan2(-Math.sin(angle), Math.cos(angle));
      const missRad = Math.abs(Math.atan2(Math.sin(miss), Math.cos(miss)));
      const turnRad = (Math.hypot(eastDeg, northDeg) / 2 / (90 - Math.abs(latDeg))) ** 2;
      expect(missRad, `point ${n} at ${latDeg}`).toBeLessThan(TOLERANCE_RAD[grid.template]! + turnRad);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(RANDOM_POINTS * 0.9);
  });
});
