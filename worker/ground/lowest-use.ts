/** The coldest air and skin that a fluid may be used in. */
import type { FluidType } from '../schema/ground-words.ts';

/**
 * The fluid must freeze at least so far below the air and the skin, K.
 *
 * @source Transport Canada TP 10643, chapter 3: 10 for Type I, 7 for Types II and IV; for Type III from memory.
 */
export const FREEZING_BUFFER_K = { I: 10, II: 7, III: 7, IV: 7 } as const satisfies Record<FluidType, number>;

export interface FluidBatch {
  readonly type: FluidType;
  /** Coldest at which it passes the aerodynamic test. */
  readonly aerodynamicLimitC: number;
  /** As mixed, measured. */
  readonly freezingPointC: number;
}

/** Lowest operational use temperature, °C: the warmer of the aerodynamic limit and the freezing point with its buffer. */
export function lowestUseC({ type, aerodynamicLimitC, freezingPointC }: FluidBatch): number {
  return Math.max(aerodynamicLimitC, freezingPointC + FREEZING_BUFFER_K[type]);
}

/** The warmest freezing point that a fluid may have in air of a temperature, °C. */
export function warmestFreezingPointC(type: FluidType, temperatureC: number): number {
  return temperatureC - FREEZING_BUFFER_K[type];
}
