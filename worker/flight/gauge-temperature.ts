/** What the temperature gauge shows in flight, warmer than the still air. */
import type { Aircraft } from './types.ts';

/** Specific heat of dry air, J/kg/K. */
const AIR_HEAT_CAPACITY = 1004.7;

/**
 * Static temperature plus the recovered part of the stagnation rise V^2 / (2 cp).
 *
 * @param staticTemperatureK  K; NaN gives NaN.
 * @param trueAirspeedMps     m/s.
 * @returns                   K.
 * @source                    Energy equation; checked against the tabulated rises of tests/published.
 */
export function gaugeTemperatureK(
  staticTemperatureK: number,
  trueAirspeedMps: number,
  aircraft: Pick<Aircraft, 'temperatureRecoveryRatio'>,
): number {
  const riseK = trueAirspeedMps ** 2 / (2 * AIR_HEAT_CAPACITY);
  return staticTemperatureK + aircraft.temperatureRecoveryRatio * riseK;
}
