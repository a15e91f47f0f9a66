/** Which levels an hour keeps: isobaric ones, or the model's own where those tell more and say their pressure. */
import { HIGHEST_LEVEL_PA } from '../sources/grid-quantities.ts';
import { besides, type HourInMemory, type HourSlice, putSlice } from './grid-hour.ts';

/**
 * In place. Levels of the model's own are kept when more of them have pressure, temperature and humidity than isobaric levels
 * have temperature and humidity; the others go. Kept ones are named by their mean pressure.
 *
 * @param mayLackLevels  True when messages of the file were refused: then a number that is missing between two levels stands for a
 *                       level that is lost, and the air there is unknown.
 * @returns              Slices made up for lost levels.
 */
export function chooseLevels(hour: HourInMemory, { mayLackLevels }: { mayLackLevels: boolean }): number {
  const all = [...hour.slices.values()];
  const own = numbersOf(all).filter((hybridLevel) => {
    const place = { levelPa: null, hybridLevel };
    return hasAir(hour, place) && besides(hour, 'pressurePa', place) !== undefined;
  });
  const isobaric = new Set(all.map(({ levelPa }) => levelPa));
  isobaric.delete(null);
  const isobaricCount = [...isobaric].filter((levelPa) =>
    hasAir(hour, { levelPa, hybridLevel: null }),
  ).length;
  if (own.length <= isobaricCount) {
    dropSlices(hour, ({ hybridLevel }) => hybridLevel !== null);
    return 0;
  }
  dropSlices(hour, ({ levelPa }) => levelPa !== null);
  const before = hour.slices.size;
  if (mayLackLevels) addLostLevels(hour, own);
  const madeUp = hour.slices.size - before;
  nameByPressure(hour);
  return madeUp;
}

function hasAir(hour: HourInMemory, place: Pick<HourSlice, 'levelPa' | 'hybridLevel'>): boolean {
  return (
    besides(hour, 'temperatureK', place) !== undefined &&
    besides(hour, 'relativeHumidityRatio', place) !== undefined
  );
}

function numbersOf(slices: readonly HourSlice[]): number[] {
  const numbers = new Set<number>();
  for (const { hybridLevel } of slices) if (hybridLevel !== null) numbers.add(hybridLevel);
  return [...numbers].sort((a, b) => a - b);
}

function dropSlices(hour: HourInMemory, isDropped: (slice: HourSlice) => boolean): void {
  for (const [key, slice] of [...hour.slices]) if (isDropped(slice)) hour.slices.delete(key);
}

/** Levels lost at once that are made up; more than this between two levels is another list of levels, not a loss. */
const MOST_LOST = 200;

/** A lost level lies between its neighbors, its pressure the geometric mean, without a temperature. */
function addLostLevels(hour: HourInMemory, own: readonly number[]): void {
  for (const [at, upper] of own.entries()) {
    const lower = own[at - 1];
    if (lower === undefined || upper - lower === 1 || upper - lower > MOST_LOST) continue;
    const below = besides(hour, 'pressurePa', { levelPa: null, hybridLevel: lower })!;
    const above = besides(hour, 'pressurePa', { levelPa: null, hybridLevel: upper })!;
    const place = { levelPa: null, hybridLevel: lower + 1, form: 'as-named' } as const;
    const between = below.map((pressurePa, index) => Math.sqrt(pressurePa * above[index]!));
    putSlice(hour, { ...place, quantity: 'pressurePa', values: between });
    putSlice(hour, { ...place, quantity: 'temperatureK', values: below.map(() => Number.NaN) });
  }
}

/** Levels without pressure go, and levels above those that matter. */
function nameByPressure(hour: HourInMemory): void {
  const nameOf = new Map<number, number>();
  for (const hybridLevel of numbersOf([...hour.slices.values()])) {
    const pressure = besides(hour, 'pressurePa', { levelPa: null, hybridLevel });
    const meanPa = pressure === undefined ? Number.NaN : roundedMean(pressure);
    const isTaken = [...nameOf.values()].includes(meanPa);
    if (meanPa >= HIGHEST_LEVEL_PA && !isTaken) nameOf.set(hybridLevel, meanPa);
  }
  for (const [key, slice] of [...hour.slices]) {
    if (slice.hybridLevel === null) continue;
    hour.slices.delete(key);
    const levelPa = nameOf.get(slice.hybridLevel);
    if (levelPa !== undefined) putSlice(hour, { ...slice, levelPa, hybridLevel: null });
  }
}

/** To a hundredth of a pascal: a name, not a measure. */
function roundedMean(values: Float32Array): number {
  let sum = 0;
  let count = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    sum += value;
    count += 1;
  }
  return Math.round((sum / count) * 100) / 100;
}
