import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lookOf, PROBABILITY_STEPS, patternsOf, surenessOf } from '../../web/src/look.ts';
import { PROBABILITY_STEPS as BAND_STEPS } from '../../worker/brief/bands.ts';
import { cellStateSchema } from '../../worker/schema/brief.ts';

const states = [...cellStateSchema.options];
const intensities = ['none', 'trace', 'light', 'moderate', 'severe'] as const;
const largeDrops = ['none', 'freezing-drizzle', 'freezing-rain', 'ice-pellets'] as const;

const air = fc.record({
  state: fc.constantFrom(...states),
  intensity: fc.option(fc.constantFrom(...intensities)),
  probability: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
  largeDrops: fc.option(fc.constantFrom(...largeDrops)),
});

describe('lookOf', () => {
  it('leaves only wholly known air as bare paper', () => {
    fc.assert(
      fc.property(air, (one) => {
        if (lookOf(one).kind !== 'no-ice') return;
        expect(one).toMatchObject({ state: 'known', largeDrops: 'none' });
        expect(one.intensity).not.toBeNull();
        expect(one.probability).not.toBeNull();
      }),
      { seed: 7, numRuns: 2000 },
    );
  });

  it.each(states.filter((state) => state !== 'known' && state !== 'below-ground'))('hatches %s', (state) => {
    const look = lookOf({ state, intensity: 'none', probability: 0, largeDrops: 'none' });
    expect(patternsOf(look)).toEqual(['paint-unknown']);
  });

  it('shows large drops whatever the probability', () => {
    const look = lookOf({
      state: 'known',
      intensity: 'none',
      probability: 0.01,
      largeDrops: 'freezing-rain',
    });
    expect(patternsOf(look)).toContain('paint-large-drops');
  });

  const atTheStep = { state: 'known', intensity: 'none', probability: 0.05, largeDrops: 'none' } as const;

  it('takes a band without any amounts whose probability was rounded up to the step as no ice found', () => {
    expect(lookOf({ ...atTheStep, growthMmPerMin: 0, envelopeRatio: 0 }).kind).toBe('no-ice');
  });

  it.each([
    { ...atTheStep },
    { ...atTheStep, growthMmPerMin: 0, envelopeRatio: null },
    { ...atTheStep, growthMmPerMin: 0, envelopeRatio: 0.01 },
    { ...atTheStep, growthMmPerMin: 0, envelopeRatio: 0, probability: 0.06 },
  ])('draws ice at the step as soon as there is any amount, or none is said: %o', (one) => {
    expect(lookOf(one).kind).toBe('ice');
  });

  it('paints each intensity in its own shade', () => {
    const shades = intensities
      .slice(1)
      .map(
        (intensity) =>
          patternsOf(lookOf({ state: 'known', intensity, probability: 0.9, largeDrops: 'none' }))[0],
      );
    expect(new Set(shades).size).toBe(4);
  });
});

it.each([
  [0.05, 'possible'],
  [0.39, 'possible'],
  [0.4, 'likely'],
  [0.7, 'sure'],
])('a probability of %f is drawn as %s', (probability, sureness) => {
  expect(surenessOf(probability)).toBe(sureness);
});

it('the page rules bands at the same probabilities at which the service tells them apart', () => {
  expect(PROBABILITY_STEPS).toEqual(BAND_STEPS);
});
