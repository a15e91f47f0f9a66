/** The path and the gauge in the answer: altitudes over the points on the altimeter setting, and the recovery they stand for. */
import { expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { Candidate } from '../../worker/schema/brief.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DRY_AIR, FIELDS, LEG, NOON_MS, over } from '../support/winter-leg.ts';

async function brief(options: (typeof LEG)['options'] = {}) {
  const stores = createMemoryStores({ places: FIELDS });
  await stores.soundings.put('demo', [over(DRY_AIR, NOON_MS)], 0);
  return (
    await makeBrief(stores, { ...LEG, options: { ...LEG.options, ...options } }, { operators: ['demo'] })
  ).brief;
}

const flownOf = ({ alternatives }: { alternatives: readonly Candidate[] }) =>
  alternatives.filter((one) => one.exposure !== null);

it('one altitude stands for each route point, the level among them; none for what cannot be flown', async () => {
  const { leg, alternatives } = await brief();
  const flown = flownOf({ alternatives });
  expect(flown.length).toBeGreaterThan(2);
  for (const { flownFt, altitudeFt } of flown) {
    expect(flownFt).toHaveLength(leg.points.length);
    expect(Math.max(...flownFt!)).toBe(altitudeFt);
    expect(flownFt![0]).toBeLessThan(altitudeFt);
    expect(flownFt!.at(-1)).toBeLessThan(altitudeFt);
  }
  for (const one of alternatives) expect(one.flownFt === null).toBe(one.exposure === null);
});

it('it begins and ends at the field, 328 ft, on the setting that the air has', async () => {
  // By hand: 995 hPa at 100 m, and 8.3 m a hectopascal near the ground.
  const { flownFt } = flownOf(await brief({ altimeterSettingHPa: 1007 }))[0]!;
  for (const endFt of [flownFt![0]!, flownFt!.at(-1)!]) expect(Math.abs(endFt - 328)).toBeLessThan(60);
});

it('the gauge is warmer than the air by the recovery that the limits name', async () => {
  const { limits, alternatives } = await brief();
  expect(limits.temperatureRecoveryRatio).toBe(0.85);
  for (const { exposure } of flownOf({ alternatives })) {
    const { staticTemperatureC, gaugeTemperatureC, trueAirspeedKt } = exposure!;
    // By hand: half the square of the speed in m/s over 1,004.7 J/kg/K.
    const riseK = (0.85 * (trueAirspeedKt * 0.514444) ** 2) / (2 * 1004.7);
    expect(Math.abs(gaugeTemperatureC! - staticTemperatureC! - riseK)).toBeLessThan(0.15);
  }
});
