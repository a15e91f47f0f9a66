/**
 * Grid definition template 3.0: latitude and longitude.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.0 and code table 3.11.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { readEarthShape } from './earth-shape.ts';
import type { Grib2Grid, Grib2GridDefinition } from './field.ts';
import { snapToPoint, wrapLonDeg } from './grid-index.ts';
import { readScanning, type Scanning } from './scanning.ts';

export type LatLonDefinition = Extract<Grib2GridDefinition, { template: 0 }>;

/** Angles are in millionths of a degree unless the file gives a basic angle. */
const USUAL_UNITS_PER_DEG = 1e6;
/**
 * How far the last point may be from first + (n - 1) steps, in steps. Increments rounded to thousandths of a degree add
 * up to about half a step across a row; a whole step is a contradiction. The first and last points are trusted.
 */
const MOST_MISFIT_STEPS = 0.75;
/** Misfit of the circle's end to its start, as a part of a step, that still is a grid around the globe. */
const WRAP_TOLERANCE_STEPS = 0.01;

/**
 * @throws UnsupportedError for rows of unequal length and for shifted rows; FormatError when counts, corners and
 *   increments contradict each other.
 */
export function readLatLon(section3: ByteReader): { definition: LatLonDefinition; scanning: Scanning } {
  refuseUnequalRows(section3);
  const nx = section3.uint32(31);
  const ny = section3.uint32(35);
  const unitsPerDeg = angleUnitsPerDeg(section3);
  const scanning = readScanning(section3, 72);
  const firstLatDeg = section3.signed32(47) / unitsPerDeg;
  const fileLonDeg = section3.signed32(51) / unitsPerDeg;
  checkLongitude(section3, 51, fileLonDeg);
  const latitudes = { octet: 47, lastOctet: 56, stepOctet: 68, hasStep: hasFlag(section3, 0x10) };
  const longitudes = { octet: 51, lastOctet: 60, stepOctet: 64, hasStep: hasFlag(section3, 0x20) };
  const latStepDeg = stepDeg(section3, latitudes, {
    count: ny,
    unitsPerDeg,
    sign: scanning.northward ? 1 : -1,
    isCircle: false,
    alternates: scanning.alternating && scanning.byColumns,
  });
  const alongRowStepDeg = stepDeg(section3, longitudes, {
    count: nx,
    unitsPerDeg,
    sign: scanning.westward ? -1 : 1,
    isCircle: true,
    alternates: scanning.alternating && !scanning.byColumns,
  });
  checkLatitudes(section3, firstLatDeg, firstLatDeg + (ny - 1) * latStepDeg);
  return {
    definition: {
      template: 0,
      nx,
      ny,
      earthRadiusM: readEarthShape(section3).semiMajorAxisM,
      firstLatDeg,
      firstLonDeg: wrapLonDeg(scanning.westward ? fileLonDeg + (nx - 1) * alongRowStepDeg : fileLonDeg),
      latStepDeg,
      lonStepDeg: Math.abs(alongRowStepDeg),
    },
    scanning,
  };
}

/** The grid of a definition; indices of places are nearest to the grid's middle meridian, never a turn away. */
export function latLonGrid(definition: LatLonDefinition): Grib2Grid {
  const { nx, ny, firstLatDeg, firstLonDeg, latStepDeg, lonStepDeg } = definition;
  const wrapsEast = nx > 1 && Math.abs(nx - 360 / lonStepDeg) < WRAP_TOLERANCE_STEPS;
  const middleI = (nx - 1) / 2;
  const middleLonDeg = firstLonDeg + middleI * lonStepDeg;
  return {
    template: 0,
    nx,
    ny,
    earthRadiusM: definition.earthRadiusM,
    toLatLon: (i, j) => ({
      latDeg: firstLatDeg + j * latStepDeg,
      lonDeg: wrapLonDeg(firstLonDeg + i * lonStepDeg),
    }),
    toIndex: (latDeg, lonDeg) => {
      const i = snapToPoint(middleI + wrapLonDeg(lonDeg - middleLonDeg) / lonStepDeg);
      const j = snapToPoint((latDeg - firstLatDeg) / latStepDeg);
      return { i: wrapsEast ? ((i % nx) + nx) % nx : i, j };
    },
    wrapsEast,
    windsAlongGrid: false,
    windAngleRad: () => 0,
    key: JSON.stringify(definition),
    definition,
  };
}

/** Flag table 3.3. */
function hasFlag(section3: ByteReader, flag: number): boolean {
  return (section3.uint8(55) & flag) !== 0;
}

function refuseUnequalRows(section3: ByteReader): void {
  const hasList = section3.uint8(11) !== 0 || section3.uint8(12) !== 0;
  if (!hasList && !section3.isMissing(31, 4) && !section3.isMissing(35, 4)) return;
  throw new UnsupportedError({
    feature: 'list of numbers of points of rows of unequal length',
    table: 'code table 3.11',
    value: String(section3.uint8(12)),
  });
}

function angleUnitsPerDeg(section3: ByteReader): number {
  const basicAngle = section3.uint32(39);
  if (basicAngle === 0 || section3.isMissing(39, 4)) return USUAL_UNITS_PER_DEG;
  const subdivisions = section3.uint32(43);
  if (subdivisions !== 0 && !section3.isMissing(43, 4)) return subdivisions / basicAngle;
  throw section3.error(43, {
    what: `subdivisions of the basic angle ${basicAngle}`,
    found: String(subdivisions),
    expected: 'a divisor',
  });
}

interface StepOctets {
  readonly octet: number;
  readonly lastOctet: number;
  readonly stepOctet: number;
  readonly hasStep: boolean;
}

interface StepRules {
  readonly count: number;
  readonly unitsPerDeg: number;
  /** Direction in which the file's order runs. */
  readonly sign: 1 | -1;
  readonly isCircle: boolean;
  /** Every other run is turned: the last point may lie at the first one's end. */
  readonly alternates: boolean;
}

/** Signed step from one point to the next, deg; what the file gives for a single row or column, else 1. */
function stepDeg(section3: ByteReader, octets: StepOctets, rules: StepRules): number {
  const { count, unitsPerDeg, sign } = rules;
  const isGiven = octets.hasStep && !section3.isMissing(octets.stepOctet, 4);
  const givenDeg = isGiven ? section3.uint32(octets.stepOctet) / unitsPerDeg : 0;
  const firstDeg = section3.signed32(octets.octet) / unitsPerDeg;
  const lastDeg = section3.signed32(octets.lastOctet) / unitsPerDeg;
  if (count <= 1) return sign * (givenDeg || 1);
  const endsAtStart = rules.alternates && lastDeg === firstDeg;
  if (endsAtStart && givenDeg > 0) return sign * givenDeg;
  const plainSpanDeg = (lastDeg - firstDeg) * sign;
  const spanDeg = rules.isCircle ? plainSpanDeg - 360 * (Math.ceil(plainSpanDeg / 360) - 1) : plainSpanDeg;
  const step = spanDeg / (count - 1);
  const misfitSteps = givenDeg > 0 ? Math.abs(spanDeg - givenDeg * (count - 1)) / givenDeg : 0;
  if (spanDeg > 0 && misfitSteps <= MOST_MISFIT_STEPS) return sign * step;
  throw section3.error(octets.lastOctet, {
    what: 'last point',
    found: `${lastDeg} deg after ${firstDeg} deg, ${count} points and steps of ${sign * givenDeg} deg`,
    expected: 'corners, counts, increments and scanning that agree',
  });
}

/** A longitude in two's complement would be a multiple of turns away, and a wrong place without a word. */
function checkLongitude(section3: ByteReader, octet: number, lonDeg: number): void {
  if (Math.abs(lonDeg) <= 360) return;
  throw section3.error(octet, { what: 'longitude', found: `${lonDeg} deg`, expected: '-360 to 360 deg' });
}

function checkLatitudes(section3: ByteReader, firstDeg: number, lastDeg: number): void {
  const limitDeg = 90 + 1 / USUAL_UNITS_PER_DEG;
  if (Math.abs(firstDeg) <= limitDeg && Math.abs(lastDeg) <= limitDeg) return;
  throw section3.error(47, {
    what: 'latitudes of the rows',
    found: `${firstDeg} to ${lastDeg} deg`,
    expected: '-90 to 90 deg',
  });
}
