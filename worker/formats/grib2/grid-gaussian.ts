/**
 * Grid definition template 3.40: Gaussian latitude and longitude, rows of equal length. Rows of unequal length (quasi-regular,
 * reduced grids) are refused.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.40.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { readEarthShape } from './earth-shape.ts';
import type { Grib2Grid } from './field.ts';
import { gaussianLatitudesDeg } from './gaussian-latitudes.ts';
import { columnAxis, graticuleGrid, type RowAxis } from './grid-axes.ts';
import { type Graticule, readColumns, readGraticule } from './grid-lat-lon-octets.ts';
import type { GaussianDefinition } from './grid-templates.ts';
import { readScanning, type Scanning } from './scanning.ts';

/** Latitudes are computed at a cost of N squared; models in use reach 1280. */
const MOST_PARALLELS = 2048;
/** How far the first and last latitude of the file may be from the parallels they name, as a part of their distance. */
const MOST_MISFIT_STEPS = 0.1;

/** @throws as readLatLon; UnsupportedError for more parallels than are in use; FormatError for corners on no parallel. */
export function readGaussian(section3: ByteReader): { definition: GaussianDefinition; scanning: Scanning } {
  const scanning = readScanning(section3, 72);
  const graticule = readGraticule(section3, scanning, 'quasi-regular (reduced) Gaussian grid');
  const parallels = readParallels(section3, graticule);
  const { firstLonDeg, lonStepDeg } = readColumns(section3, graticule);
  return {
    definition: {
      template: 40,
      nx: graticule.nx,
      ny: graticule.ny,
      earthRadiusM: readEarthShape(section3).semiMajorAxisM,
      firstLonDeg,
      lonStepDeg,
      parallels,
      ...readParallelRange(section3, graticule, parallels),
    },
    scanning,
  };
}

export function gaussianGrid(definition: GaussianDefinition): Grib2Grid {
  const { nx, firstLonDeg, lonStepDeg } = definition;
  return graticuleGrid(definition, {
    columns: columnAxis(nx, firstLonDeg, lonStepDeg),
    rows: rowsBetweenParallels(definition),
  });
}

/**
 * Rows counted evenly between neighboring parallels, and on beyond the outermost at their distance. Only the parallels of the
 * grid are computed, and one more to either side.
 */
function rowsBetweenParallels(definition: GaussianDefinition): RowAxis {
  const { parallels, firstParallel, parallelStep, ny } = definition;
  const lastParallel = firstParallel + (ny - 1) * parallelStep;
  const northernmost = Math.max(0, Math.min(firstParallel, lastParallel) - 1);
  const southernmost = Math.min(2 * parallels - 1, Math.max(firstParallel, lastParallel) + 1);
  const latitudes = gaussianLatitudesDeg(parallels, northernmost, southernmost - northernmost + 1);
  const below = (at: number) => Math.min(Math.max(Math.floor(at), 0), latitudes.length - 2);
  return {
    latDegAt: (j) => {
      const at = firstParallel + j * parallelStep - northernmost;
      const north = below(at);
      return latitudes[north]! + (at - north) * (latitudes[north + 1]! - latitudes[north]!);
    },
    indexOf: (latDeg) => {
      const north = below(countNotSouthOf(latitudes, latDeg) - 1);
      const at = north + (latitudes[north]! - latDeg) / (latitudes[north]! - latitudes[north + 1]!);
      return (at + northernmost - firstParallel) * parallelStep;
    },
  };
}

/** @returns the number of parallels that are not south of a latitude. */
function countNotSouthOf(latitudes: Float64Array, latDeg: number): number {
  let low = 0;
  let high = latitudes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (latitudes[middle]! >= latDeg) low = middle + 1;
    else high = middle;
  }
  return low;
}

function readParallels(section3: ByteReader, { ny }: Graticule): number {
  const parallels = section3.uint32(68);
  if (parallels > MOST_PARALLELS) {
    throw new UnsupportedError({
      feature: 'number of parallels between a pole and the equator',
      table: `this reader's limit of ${MOST_PARALLELS}`,
      value: String(parallels),
    });
  }
  if (parallels > 0 && ny <= 2 * parallels) return parallels;
  throw section3.error(68, {
    what: 'number of parallels between a pole and the equator',
    found: `${parallels} in a grid of ${ny} rows`,
    expected: 'at least half as many as rows',
  });
}

/** The guess at a Gaussian latitude, turned round: within 0.02 of a step of the parallel's number. */
const parallelNear = (latDeg: number, parallels: number) =>
  ((90 - latDeg) / 180) * (2 * parallels + 0.5) - 0.75;

function readParallelRange(
  section3: ByteReader,
  { ny, unitsPerDeg, scanning }: Graticule,
  parallels: number,
): Pick<GaussianDefinition, 'firstParallel' | 'parallelStep'> {
  const parallelAt = (octet: number) => {
    const latDeg = section3.signed32(octet) / unitsPerDeg;
    const near = parallelNear(latDeg, parallels);
    const parallel = Math.round(near);
    const isParallel = parallel >= 0 && parallel < 2 * parallels;
    if (isParallel && Math.abs(near - parallel) <= MOST_MISFIT_STEPS) return parallel;
    throw section3.error(octet, {
      what: 'latitude',
      found: `${latDeg} deg`,
      expected: `one of the ${2 * parallels} Gaussian latitudes`,
    });
  };
  const firstParallel = parallelAt(47);
  const lastParallel = parallelAt(56);
  const parallelStep = scanning.northward ? -1 : 1;
  const southernmost = 2 * parallels - 1;
  const end = firstParallel + (ny - 1) * parallelStep;
  const isAtStart = scanning.alternating && scanning.byColumns && lastParallel === firstParallel;
  const isWithin = end >= 0 && end <= southernmost;
  if (isWithin && (isAtStart || lastParallel === end)) return { firstParallel, parallelStep };
  throw section3.error(56, {
    what: 'last latitude',
    found: `parallel ${lastParallel} after ${firstParallel}, ${ny} rows ${scanning.northward ? 'northward' : 'southward'}`,
    expected: 'corners, counts and scanning that agree',
  });
}
