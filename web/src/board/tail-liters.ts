/** An amount of fluid as it is typed. */

const MOST_FLUID_L = 1000;

/** Liters; null for an empty field, which says nothing; undefined for what is no amount. */
export function litersOf(text: string): number | null | undefined {
  const trimmed = text.trim().replace(',', '.');
  if (trimmed === '') return null;
  const liters = /^\d+(\.\d+)?$/.test(trimmed) ? Number(trimmed) : Number.NaN;
  return liters <= MOST_FLUID_L ? liters : undefined;
}
