/**
 * Columns of air out of a published hour: bilinear between the four grid points around each place.
 *
 * A corner with a missing value makes the value missing; a chunk that cannot be had makes the column unknown.
 */
import type { Grib2Grid } from '../formats/grib2/field.ts';
import { gridFromDefinition } from '../formats/grib2/grid-definition.ts';
import { CELL_STATE, type CellState, type Profile } from '../science/columns.ts';
import type { GridManifest, GridQuantity, ObjectReader } from '../sources/ports.ts';
import { type ChunkCodes, chunkId, readChunks } from './chunk-reader.ts';
import { codeIndex, type PointPlace, placeOfPoint } from './grid-chunks.ts';
import { type Codes, codesOf } from './grid-packing.ts';
import { type Layout, layoutOf, toProfile } from './grid-profile.ts';

export { readManifest } from './grid-manifest.ts';

/** Which kinds of precipitation the model has at a place: share of the grid points around it, 0-1; NaN where it does not say. */
export interface PrecipitationKinds {
  readonly rainRatio: number;
  readonly freezingRainRatio: number;
  readonly icePelletsRatio: number;
  readonly snowRatio: number;
}

/** A place's column, or why there is none. */
export type GridColumn =
  | { readonly kind: 'profile'; readonly profile: Profile; readonly precipitation: PrecipitationKinds }
  | { readonly kind: 'unknown'; readonly state: CellState };

/** Weights of the four grid points around a place, in the cropped grid. */
interface Corners {
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
  readonly right: number;
  readonly lower: number;
}

/** @returns one entry a place, in order. */
export async function readGridColumns(
  objects: ObjectReader,
  manifest: GridManifest,
  places: { readonly latDeg: Float64Array; readonly lonDeg: Float64Array },
): Promise<GridColumn[]> {
  const grid = gridFromDefinition(manifest.definition);
  const corners = Array.from(places.latDeg, (latDeg, index) => {
    return cornersOf(manifest, grid, latDeg, places.lonDeg[index]!);
  });
  const chunks = await readChunks(objects, manifest, cornerPlaces(manifest, corners));
  const codes = manifest.slices.map((slice) => codesOf(slice));
  const layout = layoutOf(manifest);
  return corners.map((each) => {
    if (each === undefined) return { kind: 'unknown', state: CELL_STATE.outsideCoverage };
    const values = interpolateSlices({ manifest, codes, chunks }, each);
    if (values === undefined) return { kind: 'unknown', state: CELL_STATE.decodeFailed };
    return columnOf(manifest, layout, values);
  });
}

/** True when a place lies within the part of the grid that an hour holds. */
export function isInside(manifest: GridManifest, latDeg: number, lonDeg: number): boolean {
  return cornersOf(manifest, gridFromDefinition(manifest.definition), latDeg, lonDeg) !== undefined;
}

function cornersOf(
  manifest: GridManifest,
  grid: Grib2Grid,
  latDeg: number,
  lonDeg: number,
): Corners | undefined {
  const { crop } = manifest;
  const { i, j } = grid.toIndex(latDeg, lonDeg);
  // Beyond the seam the crop's columns count on.
  const column = grid.wrapsEast && i < crop.i0 ? i + grid.nx - crop.i0 : i - crop.i0;
  const row = j - crop.j0;
  const lastColumn = manifest.wrapsEast ? crop.nx : crop.nx - 1;
  if (!(column >= 0 && row >= 0 && column <= lastColumn && row <= crop.ny - 1)) return undefined;
  const left = Math.min(Math.floor(column), manifest.wrapsEast ? crop.nx - 1 : Math.max(0, crop.nx - 2));
  const upper = Math.min(Math.floor(row), Math.max(0, crop.ny - 2));
  return {
    columns: [left, manifest.wrapsEast ? (left + 1) % crop.nx : Math.min(left + 1, crop.nx - 1)],
    rows: [upper, Math.min(upper + 1, crop.ny - 1)],
    right: column - left,
    lower: row - upper,
  };
}

/** Where each grid point with a share in a column is kept. */
function* cornerPlaces(
  { crop }: GridManifest,
  corners: readonly (Corners | undefined)[],
): Generator<PointPlace> {
  for (const each of corners) {
    if (each === undefined) continue;
    for (const { column, row, weight } of weighted(each)) {
      if (weight > 0) yield placeOfPoint(crop, column, row);
    }
  }
}

/** The four grid points and their shares. */
function weighted({ columns, rows, right, lower }: Corners) {
  return [
    { column: columns[0], row: rows[0], weight: (1 - right) * (1 - lower) },
    { column: columns[1], row: rows[0], weight: right * (1 - lower) },
    { column: columns[0], row: rows[1], weight: (1 - right) * lower },
    { column: columns[1], row: rows[1], weight: right * lower },
  ];
}

interface ReadHour {
  readonly manifest: GridManifest;
  /** One a slice. */
  readonly codes: readonly Codes[];
  readonly chunks: ChunkCodes;
}

/** One value a slice at the place; undefined when a chunk could not be had. NaN where a weighted corner is missing. */
function interpolateSlices(hour: ReadHour, corners: Corners): Float64Array | undefined {
  const result = new Float64Array(hour.codes.length);
  for (const { column, row, weight } of weighted(corners)) {
    if (weight === 0) continue;
    const place = placeOfPoint(hour.manifest.crop, column, row);
    const chunk = hour.chunks.get(chunkId(place));
    if (chunk === undefined) return undefined;
    hour.codes.forEach(({ unpack }, slice) => {
      result[slice] = result[slice]! + weight * unpack(chunk[codeIndex(slice, place.point)]!);
    });
  }
  return result;
}

function columnOf(manifest: GridManifest, layout: Layout, values: Float64Array): GridColumn {
  const at = (quantity: GridQuantity) => values[layout.sliceOf(quantity, null)] ?? Number.NaN;
  return {
    kind: 'profile',
    profile: toProfile(manifest, layout, values),
    precipitation: {
      rainRatio: at('rainRatio'),
      freezingRainRatio: at('freezingRainRatio'),
      icePelletsRatio: at('icePelletsRatio'),
      snowRatio: at('snowRatio'),
    },
  };
}
