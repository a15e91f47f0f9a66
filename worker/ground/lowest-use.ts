/** The coldest air and skin that a fluid may be used in. */
import type { FluidType } from '../schema/ground-words.ts';
import { coldestSkinC, type FrostAir } from './frost.ts';
import type { Holdover } from './holdover.ts';

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

/** What the fluid would be used in; undefined members are not known. */
export interface UseAir extends Omit<FrostAir, 'temperature' | 'dewPointC'> {
  readonly temperature: FrostAir['temperature'] | undefined;
  /** Frost forms on skin that is colder than the air. */
  readonly isFrost: boolean;
}

/**
 * A holdover with the lowest operational use temperature of the fluid held against it. It takes times away and gives none: whatever
 * was no time before stays none.
 *
 * @param lowestC  °C, as label or certificate say; undefined where nobody has said it.
 * @source Transport Canada TP 10643, chapter 3: never in air or on skin below it. How cold skin is that is colder than the air is a
 *   guess to the cold side: frost.ts.
 */
export function withinLowestUse(holdover: Holdover, lowestC: number | undefined, air: UseAir): Holdover {
  const { temperature } = air;
  if (lowestC === undefined || temperature === undefined || holdover.kind === 'none') return holdover;
  const none = (where: string, foundC: number): Holdover => ({
    kind: 'none',
    why: `${where} may have ${foundC} °C, below the lowest operational use temperature of ${lowestC} °C: not this fluid`,
  });
  if (temperature.coldestC < lowestC) return none('the air', temperature.coldestC);
  const skinC =
    air.isColdSoaked || air.isFrost ? coldestSkinC({ ...air, temperature }) : temperature.coldestC;
  return skinC < lowestC ? none('the skin', Math.round(skinC * 10) / 10) : holdover;
}
