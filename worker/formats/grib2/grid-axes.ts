/** Grids whose rows follow parallels and whose columns follow meridians, of the earth or of a rotated one. */
import type { Grib2Grid, Grib2GridDefinition } from './field.ts';
import { snapToPoint, wrapLonDeg } from './grid-index.ts';

/** Columns, evenly spaced in longitude. */
export interface ColumnAxis {
  readonly lonDegAt: (i: number) => number;
  /** Nearest to the middle column, never a turn away; in [0, nx) when the columns go around the globe. */
  readonly indexOf: (lonDeg: number) => number;
  readonly wrapsEast: boolean;
}

export interface RowAxis {
  readonly latDegAt: (j: number) => number;
  readonly indexOf: (latDeg: number) => number;
}

/** Misfit of the circle's end to its start, as a part of a step, that still is a grid around the globe. */
const WRAP_TOLERANCE_STEPS = 0.01;

export function columnAxis(nx: number, firstLonDeg: number, lonStepDeg: number): ColumnAxis {
  const wrapsEast = nx > 1 && Math.abs(nx - 360 / lonStepDeg) < WRAP_TOLERANCE_STEPS;
  const middleI = (nx - 1) / 2;
  const middleLonDeg = firstLonDeg + middleI * lonStepDeg;
  return {
    lonDegAt: (i) => wrapLonDeg(firstLonDeg + i * lonStepDeg),
    indexOf: (lonDeg) => {
      const i = snapToPoint(middleI + wrapLonDeg(lonDeg - middleLonDeg) / lonStepDeg);
      return wrapsEast ? ((i % nx) + nx) % nx : i;
    },
    wrapsEast,
  };
}

/** @param latStepDeg  Signed. */
export function evenRows(firstLatDeg: number, latStepDeg: number): RowAxis {
  return {
    latDegAt: (j) => firstLatDeg + j * latStepDeg,
    indexOf: (latDeg) => (latDeg - firstLatDeg) / latStepDeg,
  };
}

/** The grid of two axes on the earth itself: winds along it blow to east and north already. */
export function graticuleGrid(
  definition: Grib2GridDefinition,
  { columns, rows }: { readonly columns: ColumnAxis; readonly rows: RowAxis },
): Grib2Grid {
  const { template, nx, ny, earthRadiusM } = definition;
  return {
    ...{ template, nx, ny, earthRadiusM },
    toLatLon: (i, j) => ({ latDeg: rows.latDegAt(j), lonDeg: columns.lonDegAt(i) }),
    toIndex: (latDeg, lonDeg) => ({ i: columns.indexOf(lonDeg), j: snapToPoint(rows.indexOf(latDeg)) }),
    wrapsEast: columns.wrapsEast,
    windsAlongGrid: false,
    windAngleRad: () => 0,
    key: JSON.stringify(definition),
    definition,
  };
}
