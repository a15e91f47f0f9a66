/** A smoothed elevation grid out of a GRIB2 file, as a source of terrain: for tests only, since no ground is so smooth. */
import { cellsNear } from '../../worker/flight/cells-near.ts';
import type { StretchGround, TerrainStretch } from '../../worker/flight/terrain-stretch.ts';
import type { Grib2Field } from '../../worker/formats/grib2/field.ts';
import { readGrib2 } from '../../worker/formats/grib2/read-grib2.ts';
import { latDegFromWorldY } from '../../worker/science/web-mercator.ts';
import type { TerrainSource } from '../../worker/sources/ports.ts';

/** A plane of cells of 2.4 km at 45 degrees carries the corridor to the grid. */
const PLANE_SIDE = 2 ** 14;
/** A mean over a degree tells nothing of summits: known for a test, never for a flight. */
const ALLOWANCE_M = 2000;

/** The one field of height over the sea that the file holds. */
export async function readElevationField(bytes: Uint8Array): Promise<Grib2Field> {
  const fields: Grib2Field[] = [];
  const chunks = (async function* () {
    yield bytes;
  })();
  for await (const item of readGrib2(chunks)) {
    if (item.kind !== 'field') throw new Error(`not a field: ${JSON.stringify(item)}`);
    fields.push(item.field);
  }
  const [field] = fields;
  if (field === undefined || fields.length > 1) throw new Error(`${fields.length} fields, expected one`);
  return field;
}

/** The highest of the four grid points around every part of the corridor. */
export function createGridTerrain(field: Grib2Field): TerrainSource {
  return {
    attribution: 'An elevation grid of one degree',
    highestGround: async (stretches, halfWidthM) =>
      stretches.map((stretch) => groundOf(field, stretch, halfWidthM)),
  };
}

function groundOf(field: Grib2Field, stretch: TerrainStretch, halfWidthM: number): StretchGround {
  const cells = cellsNear(stretch, halfWidthM, PLANE_SIDE);
  const heightsM = [...(cells ?? [])].map((cell) => {
    const latDeg = latDegFromWorldY((Math.floor(cell / PLANE_SIDE) + 0.5) / PLANE_SIDE);
    const lonDeg = (((cell % PLANE_SIDE) + 0.5) / PLANE_SIDE) * 360 - 180;
    return highestAround(field, latDeg, lonDeg);
  });
  const known = heightsM.filter((heightM) => !Number.isNaN(heightM));
  const atLeastM = known.length === 0 ? Number.NaN : Math.max(...known);
  const isWhole = cells !== undefined && known.length === heightsM.length;
  const highestM = isWhole ? atLeastM : Number.NaN;
  return { highestM, atLeastM, allowanceM: ALLOWANCE_M, isMountainous: undefined };
}

/** Of the four grid points around a place; NaN outside the grid or where one is missing. */
export function highestAround({ grid, values }: Grib2Field, latDeg: number, lonDeg: number): number {
  const { i, j } = grid.toIndex(latDeg, lonDeg);
  const columns = [Math.floor(i), Math.floor(i) + 1].map((column) =>
    grid.wrapsEast ? (column + grid.nx) % grid.nx : column,
  );
  const rows = [Math.floor(j), Math.floor(j) + 1];
  const around = rows.flatMap((row) =>
    columns.map((column) =>
      column >= 0 && column < grid.nx && row >= 0 && row < grid.ny
        ? values[row * grid.nx + column]!
        : Number.NaN,
    ),
  );
  return Math.max(...around);
}
