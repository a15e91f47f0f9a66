/** Whether a brief's air is invented, decided once for everything that says so: the page, previews of a link and their picture. */
import type { DataUsed } from './brief.ts';

export type Invented = 'none' | 'partly' | 'wholly';

/** none without data: nothing is made up where nothing is said. */
export function inventedPart(data: readonly Pick<DataUsed, 'invented'>[]): Invented {
  const count = data.filter(({ invented }) => invented).length;
  if (count === 0) return 'none';
  return count === data.length ? 'wholly' : 'partly';
}
