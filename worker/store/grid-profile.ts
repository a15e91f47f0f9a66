/** The values of an hour's slices at one place, as a column of air. */
import type { Profile } from '../science/columns.ts';
import { GRID_READING_RATIO, humidityBasisNamed } from '../science/humidity-basis.ts';
import { STANDARD_SURFACES_PA } from '../science/standard-surfaces.ts';
import type { GridManifest, GridQuantity } from '../sources/ports.ts';

/** Where each quantity's value of each level lies among the slices; -1 where the hour does not have it. */
export interface Layout {
  /** Names of the levels, Pa, decreasing. */
  readonly levelPa: readonly number[];
  readonly sliceOf: (quantity: GridQuantity, levelPa: number | null) => number;
  readonly has: (quantity: GridQuantity) => boolean;
}

export function layoutOf(manifest: GridManifest): Layout {
  const quantities = new Map<GridQuantity, Map<number | null, number>>();
  manifest.slices.forEach(({ quantity, levelPa }, index) => {
    const levels = quantities.get(quantity) ?? new Map<number | null, number>();
    quantities.set(quantity, levels.set(levelPa, index));
  });
  const levels = new Set(manifest.slices.flatMap((slice) => (slice.levelPa === null ? [] : [slice.levelPa])));
  const isIsobaric = !quantities.has('pressurePa');
  if (manifest.rejected.length > 0 && isIsobaric) addLostLevels(levels);
  return {
    levelPa: [...levels].sort((a, b) => b - a),
    sliceOf: (quantity, levelPa) => quantities.get(quantity)?.get(levelPa) ?? -1,
    has: (quantity) => quantities.has(quantity),
  };
}

/** Those up to 200 hPa, which every forecast has. */
const STANDARD_PA = STANDARD_SURFACES_PA.filter((levelPa) => levelPa >= 20_000);

/**
 * A file with refused messages may have lost all of a level. A standard one between the levels that are left stands without
 * values, so that the air there is unknown and not a straight line between its neighbors.
 */
function addLostLevels(levels: Set<number>): void {
  const lowestPa = Math.max(...levels);
  const highestPa = Math.min(...levels);
  for (const levelPa of STANDARD_PA) if (levelPa < lowestPa && levelPa > highestPa) levels.add(levelPa);
}

/** A level at one place: its name, and where it lies. */
interface PlacedLevel {
  readonly levelPa: number;
  readonly pressurePa: number;
  /** The model's own level lost its pressure here: its values lie nobody knows where. */
  readonly isLost: boolean;
}

/** A model gives nothing on clouds at screen height; they are those of the lowest level at most this far above in ln p. */
const SCREEN_LEVEL_LIMIT = 0.08;

/**
 * @param values  One a slice, NaN where missing.
 * @returns       Levels under the ground pressure are left out; the screen-height values stand at the ground pressure.
 */
export function toProfile(manifest: GridManifest, layout: Layout, values: Float64Array): Profile {
  const at = (quantity: GridQuantity, levelPa: number | null) =>
    values[layout.sliceOf(quantity, levelPa)] ?? Number.NaN;
  const surfacePa = at('surfacePressurePa', null);
  const hasScreen = Number.isFinite(surfacePa) && Number.isFinite(at('screenTemperatureK', null));
  const above = placedLevels(layout, at).filter(({ pressurePa }) => !hasScreen || pressurePa < surfacePa);
  const columnOf = (valueAt: (levelPa: number) => number, screen: number) =>
    Float64Array.from([
      ...(hasScreen ? [screen] : []),
      ...above.map(({ levelPa, isLost }) => (isLost ? Number.NaN : valueAt(levelPa))),
    ]);
  const column = (quantity: GridQuantity, screen: number) =>
    columnOf((levelPa) => at(quantity, levelPa), screen);
  const lowest = above[0];
  const isNear = lowest !== undefined && Math.log(surfacePa / lowest.pressurePa) <= SCREEN_LEVEL_LIMIT;
  const screenFraction = isNear && !lowest.isLost ? at('cloudFractionRatio', lowest.levelPa) : Number.NaN;
  return {
    levelCount: above.length + (hasScreen ? 1 : 0),
    pressurePa: Float64Array.from([
      ...(hasScreen ? [surfacePa] : []),
      ...above.map(({ pressurePa }) => pressurePa),
    ]),
    geopotentialHeightM: column('geopotentialHeightM', at('surfaceHeightM', null)),
    temperatureK: column('temperatureK', at('screenTemperatureK', null)),
    relativeHumidityRatio: column('relativeHumidityRatio', at('screenRelativeHumidityRatio', null)),
    windEastMps: column('windEastMps', at('screenWindEastMps', null)),
    windNorthMps: column('windNorthMps', at('screenWindNorthMps', null)),
    verticalVelocityPaPerS: column('verticalVelocityPaPerS', Number.NaN),
    condensateKgPerKg: column('condensateKgPerKg', Number.NaN),
    condensateBasis: manifest.condensateBasis,
    ...(layout.has('rainKgPerKg') ? { rainKgPerKg: columnOf(rainAt(manifest, layout, at), Number.NaN) } : {}),
    freezingRainRatio: at('freezingRainRatio', null),
    ...(layout.has('cloudFractionRatio')
      ? { cloudFractionRatio: column('cloudFractionRatio', screenFraction) }
      : {}),
    cloudSaturation: {
      basis: humidityBasisNamed(manifest.cloudBasis),
      readingRatio: GRID_READING_RATIO,
    },
    surfaceHeightM: at('surfaceHeightM', null),
  };
}

type ValueAt = (quantity: GridQuantity, levelPa: number | null) => number;

/** Pressure strictly decreasing; of levels that meet in one place only the first is kept. */
function placedLevels(layout: Layout, at: ValueAt): PlacedLevel[] {
  const hasOwnPressure = layout.has('pressurePa');
  const placed = layout.levelPa.map((levelPa) => {
    const ownPa = hasOwnPressure ? at('pressurePa', levelPa) : levelPa;
    const isLost = !Number.isFinite(ownPa);
    return { levelPa, pressurePa: isLost ? levelPa : ownPa, isLost };
  });
  placed.sort((a, b) => b.pressurePa - a.pressurePa);
  return placed.filter(({ pressurePa }, index) => pressurePa !== placed[index - 1]?.pressurePa);
}

/**
 * A level that lacks rain of an hour that has it elsewhere may have lost it with a refused message; of a whole file it has none,
 * since models leave out levels above all rain.
 */
function rainAt(manifest: GridManifest, layout: Layout, at: ValueAt): (levelPa: number) => number {
  const mayHaveLost = manifest.rejected.length > 0;
  return (levelPa) => {
    const hasRain = layout.sliceOf('rainKgPerKg', levelPa) >= 0;
    return hasRain || mayHaveLost ? at('rainKgPerKg', levelPa) : 0;
  };
}
