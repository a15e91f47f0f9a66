/** Freezing rain when temperature is uncertain: the column is tried at several errors, and each counts as it is probable. */

/** Errors of the whole column that are tried, K: half a step apart they stand for what lies between. */
export const RAIN_SHIFTS_K = [-2.25, -1.5, -0.75, 0, 0.75, 1.5, 2.25] as const;
export const MOST_RAIN_SHIFT_K = 2.25;
export const EXACT_RAIN_SHIFT = RAIN_SHIFTS_K.indexOf(0);

/**
 * How much each shift counts, by a normal error.
 *
 * @param temperatureErrorK  One standard deviation of each entry, K; 0 lets the column as it is count alone.
 * @returns                  [entry][shift]; each entry's weights add up to 1.
 * @throws                   never.
 */
export function rainShiftWeights(temperatureErrorK: Float32Array): Float64Array {
  const count = RAIN_SHIFTS_K.length;
  const weights = new Float64Array(temperatureErrorK.length * count);
  temperatureErrorK.forEach((errorK, entry) => {
    const first = entry * count;
    if (errorK === 0) {
      weights[first + EXACT_RAIN_SHIFT] = 1;
      return;
    }
    let sum = 0;
    RAIN_SHIFTS_K.forEach((shiftK, shift) => {
      weights[first + shift] = Math.exp(-((shiftK / errorK) ** 2) / 2);
      sum += weights[first + shift]!;
    });
    for (let shift = 0; shift < count; shift += 1) weights[first + shift]! /= sum;
  });
  return weights;
}
