/** Langmuir and Blodgett 1946 (AAF TR 5418), Table II, read in a public transcription: K, E, beta0 for each phi. */

/** One printed row. */
export interface TableRow {
  readonly phi: number;
  readonly inertia: number;
  readonly overall: number;
  readonly stagnation: number;
}

const PRINTED: readonly (readonly [number, string])[] = [
  [
    0,
    '.256 .045 .202, .4 .129 .321, .625 .253 .439, .9 .358 .531, 1.6 .506 .660, 3.6 .696 .799, 6.4 .803 .868, 10 .864 .909',
  ],
  [
    100,
    '.25 .029 .164, .36 .068 .246, .64 .181 .378, 1 .294 .478, 1.96 .475 .617, 3.24 .591 .705, 6.25 .721 .817, 9 .781 .861',
  ],
  [
    1000,
    '.256 .022 .146, .4 .062 .233, .625 .127 .323, .9 .203 .398, 1.6 .340 .513, 3.6 .542 .680, 6.4 .659 .778, 10 .737 .837',
  ],
  [
    10000,
    '.25 .012 .111, .36 .030 .168, .64 .080 .264, 1 .148 .343, 1.96 .280 .476, 3.24 .394 .580, 6.25 .546 .702, 9 .620 .759',
  ],
];

/** 32 rows, eight for each of four values of phi. */
export const LANGMUIR_BLODGETT_TABLE: readonly TableRow[] = PRINTED.flatMap(([phi, rows]) =>
  rows.split(',').map((row) => {
    const [inertia, overall, stagnation] = row.trim().split(' ').map(Number);
    return { phi, inertia: inertia!, overall: overall!, stagnation: stagnation! };
  }),
);
