/** Whether the entries that an hour wants can be all of them: an index that was cut while it was written still reads well. */

import { STANDARD_SURFACES_PA } from '../science/standard-surfaces.ts';
import { hPaFromPa } from '../science/units.ts';
import type { WantedEntry } from './inventory-fields.ts';
import type { GridQuantity } from './ports.ts';

/** Airframe ice ends about here. */
const HIGHEST_PA = 30_000;

/** Without both of these a level says nothing of ice. */
const ON_EVERY_LEVEL: readonly GridQuantity[] = ['temperatureK', 'relativeHumidityRatio'];
/** Where a model has them at all it has them on the same levels. */
const ON_ALL_OR_NONE: readonly GridQuantity[] = ['condensateKgPerKg', 'rainKgPerKg'];
/** Without these air under the ground passes for air. */
const AT_THE_GROUND: readonly GridQuantity[] = ['surfacePressurePa', 'screenTemperatureK'];

/** @returns what is missing, for people, one text a quantity; none when nothing shows that anything is. */
export function lostFields(wanted: readonly WantedEntry[]): string[] {
  const named = ON_EVERY_LEVEL.flatMap((quantity) => [...levelsOf(wanted, quantity)]);
  const needed = [...new Set([...STANDARD_SURFACES_PA, ...named])]
    .filter((levelPa) => levelPa >= HIGHEST_PA)
    .sort((a, b) => b - a);
  const onLevels = [...ON_EVERY_LEVEL, ...ON_ALL_OR_NONE].flatMap((quantity) => {
    const found = levelsOf(wanted, quantity);
    if (found.size === 0 && ON_ALL_OR_NONE.includes(quantity)) return [];
    const lostHpa = needed.filter((levelPa) => !found.has(levelPa)).map(hPaFromPa);
    return lostHpa.length === 0 ? [] : [`${quantity} at ${lostHpa.join(', ')} hPa`];
  });
  const slices = wanted.flatMap((each) => each.slices);
  const atGround = AT_THE_GROUND.filter((quantity) => !slices.some((slice) => slice.quantity === quantity));
  return [...onLevels, ...atGround];
}

function levelsOf(wanted: readonly WantedEntry[], quantity: GridQuantity): Set<number> {
  const slices = wanted.flatMap((each) => each.slices);
  const onLevels = slices.filter((slice) => slice.quantity === quantity && slice.levelPa !== null);
  return new Set(onLevels.map(({ levelPa }) => levelPa!));
}
