/** Settings chosen without the flight they are then tried on. */

export interface HeldOut<Setting, Row> {
  readonly flight: string;
  readonly chosen: Setting;
  /** Rows of the held-out flight under the chosen setting. */
  readonly rows: readonly Row[];
}

/**
 * For each flight, the setting that scores best on all the others, and that flight's rows under it.
 *
 * @param candidates  Settings, each with the rows it gives; the first of equals is taken.
 * @param flightOf    The flight of a row.
 * @param score       Of rows; the greatest wins.
 * @returns           One entry a flight, in order of appearance.
 * @throws            RangeError when no candidate has a score on the others.
 */
export function leaveOneOut<Setting, Row>(
  candidates: readonly { readonly setting: Setting; readonly rows: readonly Row[] }[],
  flightOf: (row: Row) => string,
  score: (rows: readonly Row[]) => number,
): HeldOut<Setting, Row>[] {
  const flights = [...new Set(candidates.flatMap(({ rows }) => rows.map(flightOf)))];
  return flights.map((flight) => {
    let best = Number.NEGATIVE_INFINITY;
    let chosen = candidates[0];
    for (const candidate of candidates) {
      const found = score(candidate.rows.filter((row) => flightOf(row) !== flight));
      if (!(found > best)) continue;
      best = found;
      chosen = candidate;
    }
    if (chosen === undefined || best === Number.NEGATIVE_INFINITY)
      throw new RangeError(`flights besides ${flight}: found no score, expected one`);
    return { flight, chosen: chosen.setting, rows: chosen.rows.filter((row) => flightOf(row) === flight) };
  });
}
