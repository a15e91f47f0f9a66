/**
 * Scores of warnings and probabilities beside what was measured. A place whose measurement is neither a clear yes nor a clear
 * no is scored by nothing but the volume: how much of all air is flagged.
 *
 * Where a score has no value (no yes or no no to count) it is NaN, never 0 or 1.
 */

/** One place: what was said, and what was found (undefined: between a yes and a no). */
export interface Scored {
  readonly probability: number;
  readonly observed: boolean | undefined;
}

/** Of everything that was found: the part that was flagged; of everything not found, the part left unflagged. */
export interface WarningScores {
  readonly detected: number;
  readonly falseAlarmRate: number;
  /** detected - falseAlarmRate: 0 for any guess, 1 for a perfect one. */
  readonly trueSkill: number;
  /** Part of all places that is flagged. */
  readonly volume: number;
}

/**
 * Scores of a yes/no warning.
 *
 * @param places     At least one for a volume.
 * @param isFlagged  The warning.
 * @returns          Ratios.
 * @throws           never.
 */
export function warningScores<T extends Pick<Scored, 'observed'>>(
  places: readonly T[],
  isFlagged: (place: T) => boolean,
): WarningScores {
  const share = (among: readonly T[]) => among.filter(isFlagged).length / among.length;
  const detected = share(places.filter(({ observed }) => observed === true));
  const falseAlarmRate = share(places.filter(({ observed }) => observed === false));
  return { detected, falseAlarmRate, trueSkill: detected - falseAlarmRate, volume: share(places) };
}

/** @returns percent of yes found in each percent of the air flagged. */
export function volumeEfficiency(detected: number, volume: number): number {
  return detected / volume;
}

/**
 * Area under the curve of detection over false alarms: the chance that a place with a yes was given more than one with a no,
 * ties counting half. From rank sums (Mann and Whitney).
 *
 * @param places  In any order.
 * @returns       0-1; NaN without both a yes and a no.
 * @throws        never.
 */
export function areaUnderRoc(places: readonly Scored[]): number {
  const scored = places.filter(({ observed }) => observed !== undefined);
  const rank = ranks(scored.map(({ probability }) => probability));
  let yes = 0;
  let rankSum = 0;
  scored.forEach(({ observed }, index) => {
    if (observed !== true) return;
    yes += 1;
    rankSum += rank[index]!;
  });
  const no = scored.length - yes;
  return (rankSum - (yes * (yes + 1)) / 2) / (yes * no);
}

/** The same area from points of the curve, by trapezia; from (0, 0) to (1, 1) in rising order. */
export function areaUnderPoints(points: readonly (readonly [falseAlarmRate: number, detected: number])[]) {
  return points.slice(1).reduce((area, [x, y], index) => {
    const [lastX, lastY] = points[index]!;
    return area + ((x - lastX) * (y + lastY)) / 2;
  }, 0);
}

/**
 * Ranks from 1; equal values share the mean of their ranks.
 *
 * @param values  Finite.
 * @returns       One rank a value, in the same order.
 * @throws        RangeError on a value that is not a number: it has no rank.
 */
export function ranks(values: readonly number[]): number[] {
  if (values.some(Number.isNaN)) throw new RangeError('ranks: found NaN, expected numbers');
  const order = values.map((_, index) => index).sort((a, b) => values[a]! - values[b]!);
  const rank = new Array<number>(values.length);
  for (let first = 0; first < order.length; ) {
    let last = first;
    while (last + 1 < order.length && values[order[last + 1]!] === values[order[first]!]) last += 1;
    for (let place = first; place <= last; place += 1) rank[order[place]!] = (first + last) / 2 + 1;
    first = last + 1;
  }
  return rank;
}

/** How often a yes followed probabilities of a range. */
export interface ReliabilityRow {
  readonly from: number;
  readonly to: number;
  readonly count: number;
  readonly meanProbability: number;
  readonly observedShare: number;
}

/**
 * Reliability of the scored places.
 *
 * @param places  Those neither yes nor no are left out.
 * @param edges   Rising; a bin holds its lower edge, the last one both.
 * @returns       One row a bin; means are NaN in an empty one.
 * @throws        never.
 */
export function reliabilityTable(places: readonly Scored[], edges: readonly number[]): ReliabilityRow[] {
  const last = edges.length - 2;
  return edges.slice(0, -1).map((from, bin) => {
    const to = edges[bin + 1]!;
    const inside = places.filter(
      ({ probability, observed }) =>
        observed !== undefined &&
        probability >= from &&
        (probability < to || (bin === last && probability <= to)),
    );
    return {
      from,
      to,
      count: inside.length,
      meanProbability: mean(inside.map(({ probability }) => probability)),
      observedShare: mean(inside.map(({ observed }) => (observed === true ? 1 : 0))),
    };
  });
}

/** @returns mean square error of the probabilities of scored places, 0 perfect. */
export function brierScore(places: readonly Scored[]): number {
  const scored = places.filter(({ observed }) => observed !== undefined);
  return mean(scored.map(({ probability, observed }) => (probability - (observed === true ? 1 : 0)) ** 2));
}

/** @returns the Brier score of saying everywhere how often yes is found in these very places. */
export function climatologyBrierScore(places: readonly Scored[]): number {
  const scored = places.filter(({ observed }) => observed !== undefined);
  const share = mean(scored.map(({ observed }) => (observed === true ? 1 : 0)));
  return share * (1 - share);
}

/** @returns arithmetic mean; NaN of nothing. */
export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
