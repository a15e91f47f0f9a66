/** Standard isobaric surfaces of WMO FM 35 up to 100 hPa, Pa, descending: every ascent and every forecast has them. */
export const STANDARD_SURFACES_PA: readonly number[] = [
  100_000, 92_500, 85_000, 70_000, 50_000, 40_000, 30_000, 25_000, 20_000, 15_000, 10_000,
];
