/**
 * Octets 31-72 as the templates 3.0, 3.1 and 3.40 share them: counts, units of angle, corners and increments.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition templates 3.0, 3.1 and 3.40, code table 3.11, flag tables 3.3 and 3.4.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { wrapLonDeg } from './grid-index.ts';
import type { Scanning } from './scanning.ts';

/** Angles are in millionths of a degree unless the file gives a basic angle. */
const USUAL_UNITS_PER_DEG = 1e6;
/**
 * How far the last point may be from first + (n - 1) steps, in steps. Increments rounded to thousandths of a degree add
 * up to about half a step across a row; a whole step is a contradiction. The first and last points are trusted.
 */
const MOST_MISFIT_STEPS = 0.75;

/** Flag table 3.3: increments of i and of j are given. */
const HAS_I_STEP_FLAG = 0x20;
const HAS_J_STEP_FLAG = 0x10;

/** What a graticule's octets are read with. */
export interface Graticule {
  readonly nx: number;
  readonly ny: number;
  readonly unitsPerDeg: number;
  readonly scanning: Scanning;
}

/** @throws UnsupportedError for rows of unequal length, by code table 3.11. */
export function readGraticule(section3: ByteReader, scanning: Scanning, gridName: string): Graticule {
  refuseUnequalRows(section3, gridName);
  return {
    nx: section3.uint32(31),
    ny: section3.uint32(35),
    unitsPerDeg: angleUnitsPerDeg(section3),
    scanning,
  };
}

/** @returns the longitude of column 0, deg, and the step eastward. */
export function readColumns(
  section3: ByteReader,
  { nx, unitsPerDeg, scanning }: Graticule,
): { firstLonDeg: number; lonStepDeg: number } {
  const fileLonDeg = section3.signed32(51) / unitsPerDeg;
  checkLongitude(section3, 51, fileLonDeg);
  const stepDeg = readStepDeg(
    section3,
    { octet: 51, lastOctet: 60, stepOctet: 64, flag: HAS_I_STEP_FLAG },
    {
      ...{ count: nx, unitsPerDeg, isCircle: true },
      sign: scanning.westward ? -1 : 1,
      alternates: scanning.alternating && !scanning.byColumns,
    },
  );
  return {
    firstLonDeg: wrapLonDeg(scanning.westward ? fileLonDeg + (nx - 1) * stepDeg : fileLonDeg),
    lonStepDeg: Math.abs(stepDeg),
  };
}

/** @returns the latitude of row 0, deg, and the signed step. */
export function readRows(
  section3: ByteReader,
  { ny, unitsPerDeg, scanning }: Graticule,
): { firstLatDeg: number; latStepDeg: number } {
  const firstLatDeg = section3.signed32(47) / unitsPerDeg;
  const latStepDeg = readStepDeg(
    section3,
    { octet: 47, lastOctet: 56, stepOctet: 68, flag: HAS_J_STEP_FLAG },
    {
      ...{ count: ny, unitsPerDeg, isCircle: false },
      sign: scanning.northward ? 1 : -1,
      alternates: scanning.alternating && scanning.byColumns,
    },
  );
  checkLatitudes(section3, firstLatDeg, firstLatDeg + (ny - 1) * latStepDeg);
  return { firstLatDeg, latStepDeg };
}

function refuseUnequalRows(section3: ByteReader, gridName: string): void {
  const hasList = section3.uint8(11) !== 0 || section3.uint8(12) !== 0;
  if (!hasList && !section3.isMissing(31, 4) && !section3.isMissing(35, 4)) return;
  throw new UnsupportedError({
    feature: `${gridName} with a list of numbers of points of rows of unequal length`,
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
  /** Flag table 3.3: the step is given. */
  readonly flag: number;
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
function readStepDeg(section3: ByteReader, octets: StepOctets, rules: StepRules): number {
  const { count, unitsPerDeg, sign } = rules;
  const isGiven = (section3.uint8(55) & octets.flag) !== 0 && !section3.isMissing(octets.stepOctet, 4);
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
