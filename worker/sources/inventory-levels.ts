/** Whether the entries that an hour wants can be all of them: an index that was cut while it was written still reads well. */

import type { WantedEntry } from './inventory-fields.ts';
import type { GridQuantity } from './ports.ts';

/** Levels that every model of the supply has; the standard isobaric surfaces of soundings up to where airframe ice ends. */
const STANDARD_LEVELS_HPA = [1000, 925, 850, 700, 500, 400, 300] as const;
const PA_PER_HPA = 100;

/** Without both of these a level says nothing of ice. */
const NEEDED: readonly GridQuantity[] = ['temperatureK', 'relativeHumidityRatio'];

/** @returns what is missing, for people; undefined when nothing shows that anything is. */
export function lostLevels(wanted: readonly WantedEntry[]): string | undefined {
  const [temperature, humidity] = NEEDED.map((quantity) => levelsOf(wanted, quantity));
  const lost = (name: string, levels: readonly number[]) =>
    levels.length === 0 ? [] : [`${name} at ${levels.join(', ')} hPa`];
  const expected = new Set([...STANDARD_LEVELS_HPA, ...temperature!, ...humidity!]);
  const below = [...expected].filter((levelHpa) => levelHpa >= STANDARD_LEVELS_HPA.at(-1)!);
  const missing = [
    ...lost(
      'temperature',
      below.filter((levelHpa) => !temperature!.has(levelHpa)),
    ),
    ...lost(
      'humidity',
      below.filter((levelHpa) => !humidity!.has(levelHpa)),
    ),
  ];
  return missing.length === 0 ? undefined : missing.join('; ');
}

function levelsOf(wanted: readonly WantedEntry[], quantity: GridQuantity): Set<number> {
  const slices = wanted.flatMap((each) => each.slices);
  const onLevels = slices.filter((slice) => slice.quantity === quantity && slice.levelPa !== null);
  return new Set(onLevels.map(({ levelPa }) => levelPa! / PA_PER_HPA));
}
