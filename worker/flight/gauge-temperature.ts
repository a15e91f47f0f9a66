/** What the temperature gauge shows in flight, warmer than the still air. */
import type { Aircraft } from './types.ts';

/** Specific heat of dry air, J/kg/K. */
const AIR_HEAT_CAPACITY = 1004.7;

/**
 * Static temperature plus the recovered part of the stagnation rise V^2 / (2 cp). With cp = 3.5 R that is T (1 + 0.2 r M^2),
 * r the recovery. Air brought to rest gives r = 1; along a flat plate it is the square root of the Prandtl number in a
 * laminar boundary layer (0.84 for air) and its cube root in a turbulent one (0.89), which is why a plain probe is given 0.8
 * to 0.85 where its manual says nothing: judgement. In cloud a wet probe shows less of it.
 *
 * @param staticTemperatureK  K; NaN gives NaN.
 * @param trueAirspeedMps     m/s.
 * @returns                   K.
 * @source                    Energy equation; recovery along a plate: Schlichting, Boundary-Layer Theory (from memory).
 * @checked                   tests/published/stagnation-rise.test.ts
 */
export function gaugeTemperatureK(
  staticTemperatureK: number,
  trueAirspeedMps: number,
  aircraft: Pick<Aircraft, 'temperatureRecoveryRatio'>,
): number {
  const riseK = trueAirspeedMps ** 2 / (2 * AIR_HEAT_CAPACITY);
  return staticTemperatureK + aircraft.temperatureRecoveryRatio * riseK;
}
