/** Whether the entries that an hour wants can be all of them: an index that was cut while it was written still reads well. */
import type { WantedEntry } from './inventory-fields.ts';
import type { GridQuantity } from './ports.ts';

/** Levels that every model of the supply has; the standard isobaric surfaces of soundings up to where airframe ice ends. */
const STANDARD_LEVELS_HPA = [1000, 925, 850, 700, 500, 400, 300] as const;
const HIGHEST_HPA = 300;
const PA_PER_HPA = 100;

/** Without both of these a level says nothing of ice. */
const ON_EVERY_LEVEL: readonly GridQuantity[] = ['temperatureK', 'relativeHumidityRatio'];
/** Where a model has them at all it has them on the same levels. */
const ON_ALL_OR_NONE: readonly GridQuantity[] = ['condensateKgPerKg', 'rainKgPerKg'];
/** Without these air under the ground passes for air. */
const AT_THE_GROUND: readonly GridQuantity[] = ['surfacePressurePa', 'screenTemperatureK'];

/** @returns what is missing, for people, one text a quantity; none when nothing shows that anything is. */
export function lostFields(wanted: readonly WantedEntry[]): string[] {
  const levels = new Set<number>(STANDARD_LEVELS_HPA);
  for (const quantity of ON_EVERY_LEVEL)
    for (const levelHpa of levelsOf(wanted, quantity)) levels.add(levelHpa);
  const needed = [...levels].filter((levelHpa) => levelHpa >= HIGHEST_HPA).sort((a, b) => b - a);
  const onLevels = [...ON_EVERY_LEVEL, ...ON_ALL_OR_NONE].flatMap((quantity) => {
    const found = levelsOf(wanted, quantity);
    if (found.size === 0 && ON_ALL_OR_NONE.includes(quantity)) return [];
    const lost = needed.filter((levelHpa) => !found.has(levelHpa));
    return lost.length === 0 ? [] : [`${quantity} at ${lost.join(', ')} hPa`];
  });
  const slices = wanted.flatMap((each) => each.slices);
  const atGround = AT_THE_GROUND.filter((quantity) => !slices.some((slice) => slice.quantity === quantity));
  return [...onLevels, ...atGround];
}

function levelsOf(wanted: readonly WantedEntry[], quantity: GridQuantity): Set<number> {
  const slices = wanted.flatMap((each) => each.slices);
  const onLevels = slices.filter((slice) => slice.quantity === quantity && slice.levelPa !== null);
  return new Set(onLevels.map(({ levelPa }) => levelPa! / PA_PER_HPA));
}
