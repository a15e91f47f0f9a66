/** How a piece of air looks, decided once for everything that draws it: the page's drawings and the Worker's picture. */
import type { BandFeature } from './features.ts';

export type BandProperties = BandFeature['properties'];
/** How sure: ruled thinly, ruled, solid. */
export type Sureness = 'possible' | 'likely' | 'sure';
export type Shade = 'trace' | 'light' | 'moderate' | 'severe';

export type Look =
  | { readonly kind: 'no-ice' }
  | { readonly kind: 'below-ground' }
  | { readonly kind: 'unknown'; readonly state: BandProperties['state'] }
  | {
      readonly kind: 'ice';
      readonly shade: Shade;
      readonly sureness: Sureness;
      readonly largeDrops: boolean;
    };

/** Where the service tells bands of equal ice apart; below the first no ice is found. A test holds both equal. */
export const PROBABILITY_STEPS = [0.05, 0.4, 0.7] as const;

type LookInput = Pick<BandProperties, 'state' | 'intensity' | 'probability' | 'largeDrops'> & {
  /** Where given (bands), tell "no ice found" apart from ice whose probability was rounded to the same figure. */
  readonly growthMmPerMin?: BandProperties['growthMmPerMin'];
  readonly envelopeRatio?: BandProperties['envelopeRatio'];
};

/** Anything not wholly known looks unknown: a missing value can never end up as bare paper. */
export function lookOf(air: LookInput): Look {
  if (air.state === 'below-ground') return { kind: 'below-ground' };
  if (air.state !== 'known') return { kind: 'unknown', state: air.state };
  const { intensity, probability, largeDrops } = air;
  if (intensity === null || probability === null || largeDrops === null) {
    return { kind: 'unknown', state: 'quantity-missing' };
  }
  const hasLargeDrops = largeDrops !== 'none';
  if (!hasLargeDrops && isTooUnlikely(air, probability)) return { kind: 'no-ice' };
  const shade = intensity === 'none' ? 'trace' : intensity;
  return { kind: 'ice', shade, sureness: surenessOf(probability), largeDrops: hasLargeDrops };
}

/** Probabilities come in hundredths: one just under the step reads as the step, but then all amounts are zero. */
function isTooUnlikely(
  { intensity, growthMmPerMin, envelopeRatio }: LookInput,
  probability: number,
): boolean {
  if (probability < PROBABILITY_STEPS[0]) return true;
  const hasNoAmounts = intensity === 'none' && growthMmPerMin === 0 && envelopeRatio === 0;
  return probability === PROBABILITY_STEPS[0] && hasNoAmounts;
}

export function surenessOf(probability: number): Sureness {
  if (probability >= PROBABILITY_STEPS[2]) return 'sure';
  return probability >= PROBABILITY_STEPS[1] ? 'likely' : 'possible';
}
