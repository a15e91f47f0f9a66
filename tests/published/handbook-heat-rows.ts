/**
 * Tables 2-5 to 2-8 of the Aircraft Icing Handbook, DOT/FAA/CT-88/8-1: heat balance at the stagnation line of a 20 cm cylinder at
 * sea level. Read in a public transcription on 2026-11-27; rows that a second table repeats are left out.
 */

export const HANDBOOK = 'Aircraft Icing Handbook, DOT/FAA/CT-88/8-1';

export interface HandbookRow {
  readonly speedMps: number;
  readonly dropUm: number;
  readonly gPerM3: number;
  readonly celsius: number;
  readonly freezingFraction: number;
  /** Sources of heat, % of all: air brought to rest, freezing, speed of the drops. */
  readonly viscousPct: number;
  readonly freezingPct: number;
  readonly kineticPct: number;
  /** Sinks of heat, % of all. */
  readonly convectionPct: number;
  readonly evaporationPct: number;
  readonly warmingPct: number;
}

/** m/s, um, g/m3, degC, n; viscous, freezing, kinetic; convection, evaporation, warming. */
const AS_PRINTED = [
  [70, 20, 0.7, -26, 0.9, 5, 94, 1, 48, 16, 36],
  [70, 20, 0.7, -20, 0.7, 6, 93, 1, 47, 18, 35],
  [70, 20, 0.7, -14, 0.49, 8, 91, 1, 46, 21, 33],
  [70, 20, 0.7, -8, 0.27, 14, 84, 2, 44, 24, 32],
  [70, 20, 0.7, -2, 0.03, 53, 38, 9, 44, 25, 31],
  [70, 20, 0.1, -6, 0.93, 24, 75, 1, 60, 34, 6],
  [70, 20, 0.1, -4, 0.53, 36, 63, 1, 59, 35, 6],
  [70, 20, 0.1, -2, 0.1, 73, 25, 2, 60, 34, 6],
  [70, 20, 0.8, -26, 0.83, 4, 95, 1, 46, 14, 40],
  [70, 20, 0.9, -26, 0.78, 4, 95, 1, 44, 14, 42],
  [70, 20, 1.0, -26, 0.73, 4, 95, 1, 42, 13, 45],
  [70, 20, 2.0, -26, 0.54, 3, 96, 1, 29, 9, 62],
  [70, 20, 3.0, -26, 0.47, 2, 96, 2, 22, 7, 71],
  [70, 20, 4.0, -26, 0.44, 2, 97, 2, 18, 6, 77],
  [70, 20, 5.0, -26, 0.42, 1, 97, 2, 15, 5, 80],
  [70, 20, 0.4, -6, 0.28, 21, 77, 2, 51, 29, 21],
  [70, 20, 0.7, -6, 0.19, 18, 79, 3, 44, 25, 32],
  [70, 20, 1.0, -6, 0.15, 16, 80, 4, 39, 22, 40],
  [70, 20, 1.3, -6, 0.14, 14, 82, 4, 34, 19, 46],
  [70, 20, 1.6, -6, 0.12, 13, 82, 5, 31, 18, 51],
  [70, 20, 1.9, -6, 0.11, 12, 83, 5, 28, 16, 56],
  [70, 20, 2.2, -6, 0.11, 11, 84, 6, 26, 15, 59],
  [70, 20, 2.5, -6, 0.1, 10, 84, 6, 24, 14, 62],
  [70, 20, 2.8, -6, 0.1, 9, 85, 6, 23, 13, 65],
  [70, 40, 0.7, -26, 0.68, 4, 95, 1, 39, 12, 48],
  [70, 60, 0.7, -26, 0.64, 3, 95, 1, 37, 11, 52],
  [70, 80, 0.7, -26, 0.62, 3, 96, 1, 35, 11, 54],
  [70, 40, 0.1, -6, 0.6, 24, 76, 1, 58, 33, 10],
  [70, 60, 0.1, -6, 0.52, 23, 76, 1, 57, 32, 11],
  [70, 80, 0.1, -6, 0.49, 23, 76, 1, 56, 32, 12],
  [80, 20, 0.7, -26, 0.82, 6, 93, 1, 46, 14, 39],
  [90, 20, 0.7, -26, 0.76, 7, 92, 1, 45, 14, 42],
  [100, 20, 0.7, -26, 0.71, 8, 90, 2, 43, 13, 44],
  [110, 20, 0.7, -26, 0.67, 10, 88, 2, 42, 13, 46],
  [120, 20, 0.7, -26, 0.62, 11, 86, 3, 40, 12, 48],
  [130, 20, 0.7, -26, 0.59, 13, 84, 4, 39, 11, 49],
  [80, 20, 0.1, -6, 0.74, 32, 67, 1, 60, 33, 7],
  [90, 20, 0.1, -6, 0.58, 40, 58, 1, 60, 32, 8],
  [100, 20, 0.1, -6, 0.44, 50, 48, 2, 60, 32, 8],
  [110, 20, 0.1, -6, 0.31, 61, 37, 2, 60, 30, 9],
  [120, 20, 0.1, -6, 0.19, 72, 25, 3, 60, 30, 10],
  [130, 20, 0.1, -6, 0.08, 85, 11, 3, 61, 29, 10],
] as const;

export const HANDBOOK_ROWS: readonly HandbookRow[] = AS_PRINTED.map((row) => ({
  speedMps: row[0],
  dropUm: row[1],
  gPerM3: row[2],
  celsius: row[3],
  freezingFraction: row[4],
  viscousPct: row[5],
  freezingPct: row[6],
  kineticPct: row[7],
  convectionPct: row[8],
  evaporationPct: row[9],
  warmingPct: row[10],
}));
