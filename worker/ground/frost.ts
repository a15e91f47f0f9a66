/** Whether frost may be forming on an aeroplane that stands outside. */
import type { RampTemperature } from './holdover.ts';

export interface FrostAir {
  readonly temperature: RampTemperature;
  readonly dewPointC: number | undefined;
  /** undefined where nobody knows. */
  readonly windKt: number | undefined;
  readonly isSkyClear: boolean | undefined;
  /** The fuel in the wing is colder than the air. */
  readonly isColdSoaked: boolean;
}

/** How much colder than the air the skin of a wing may be under a clear, calm sky, and otherwise, K (judgement). */
const CLEAR_COOLING_K = 5;
const OTHER_COOLING_K = 2;
/** Colder fuel than the air cools the skin by as much at least (judgement). */
const COLD_SOAKED_COOLING_K = 8;
const CALM_KT = 6;

/**
 * Frost forms on skin that is at 0 °C or colder and at the dew point or colder. The skin's temperature is guessed to the cold side.
 *
 * @returns undefined where the dew point is not known and the skin may be cold enough.
 * @source The condition is common practice (active frost); how cold the skin gets is a judgement.
 */
export function mayFrostForm(air: FrostAir): boolean | undefined {
  const skinC = coldestSkinC(air);
  if (skinC > 0) return false;
  return air.dewPointC === undefined ? undefined : skinC <= air.dewPointC;
}

/** How cold the skin of a wing may be in the open, °C: a guess to the cold side. */
export function coldestSkinC({
  temperature,
  windKt,
  isSkyClear,
  isColdSoaked,
}: Omit<FrostAir, 'dewPointC'>): number {
  const isCalm = windKt === undefined || windKt <= CALM_KT;
  const skyCoolingK = isSkyClear !== false && isCalm ? CLEAR_COOLING_K : OTHER_COOLING_K;
  return temperature.coldestC - (isColdSoaked ? Math.max(skyCoolingK, COLD_SOAKED_COOLING_K) : skyCoolingK);
}
