/** Errors of sources: they grow with lead time, distance and age, and never shrink. */
import { expect, it } from 'vitest';
import { type ErrorSpread, forecastErrors, soundingErrors } from '../../worker/science/error-spreads.ts';

const HOUR_MS = 3_600_000;
const NAMES = ['temperatureK', 'humidityRatio', 'lnWater', 'lnDiameter', 'heightM'] as const;

const notSmaller = (later: ErrorSpread, earlier: ErrorSpread) =>
  NAMES.every((name) => later[name] >= earlier[name] - 1e-12);

it('a forecast of 24 h errs by 1.5 K, 17 % of humidity and e to the 1.0 of water; half way to 48 h half way there', () => {
  expect(forecastErrors(24 * HOUR_MS)).toMatchObject({ temperatureK: 1.5, humidityRatio: 0.17, lnWater: 1 });
  expect(forecastErrors(36 * HOUR_MS).temperatureK).toBeCloseTo(1.75, 9);
  expect(forecastErrors(0)).toEqual(forecastErrors(6 * HOUR_MS));
  expect(forecastErrors(200 * HOUR_MS)).toEqual(forecastErrors(48 * HOUR_MS));
});

it('errors never shrink with lead time, distance or age', () => {
  for (let step = 0; step < 60; step += 1) {
    expect(notSmaller(forecastErrors((step + 1) * HOUR_MS), forecastErrors(step * HOUR_MS))).toBe(true);
    expect(notSmaller(soundingErrors((step + 1) * 5000, HOUR_MS), soundingErrors(step * 5000, HOUR_MS))).toBe(
      true,
    );
    expect(notSmaller(soundingErrors(50_000, -(step + 1) * 6e5), soundingErrors(50_000, -step * 6e5))).toBe(
      true,
    );
  }
});

it('an ascent at its station and hour errs by the instrument alone', () => {
  expect(soundingErrors(0, 0)).toMatchObject({
    temperatureK: 0.5,
    humidityRatio: 0.05,
    heightM: 100,
    placeM: 0,
  });
});

it('at the distances measured between ascents of one hour its variance is about half of theirs', () => {
  for (const [distanceKm, humidity, temperatureK] of [
    [100, 0.2, 1.7],
    [185, 0.22, 1.8],
    [260, 0.27, 2.4],
  ] as const) {
    const errors = soundingErrors(distanceKm * 1000, 0);
    expect(errors.humidityRatio ** 2 / humidity ** 2).toBeGreaterThan(0.4);
    expect(errors.humidityRatio ** 2 / humidity ** 2).toBeLessThan(0.75);
    expect(errors.temperatureK ** 2 / temperatureK ** 2).toBeGreaterThan(0.25);
    expect(errors.temperatureK ** 2 / temperatureK ** 2).toBeLessThan(0.6);
  }
});
