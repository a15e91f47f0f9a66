/** From the wing of the forecast to a rod that can be seen. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { limitOf, rodCue, rodGrowthMps, type WingAir, worseThan } from '../../worker/flight/rod-growth.ts';
import { leadingEdge } from '../../worker/science/growth.ts';
import { growthOfWaterMps } from '../../worker/science/observed-growth.ts';
import {
  kFromC,
  mmPerMinFromMps,
  mpsFromInPerH,
  mpsFromKt,
  mpsFromMmPerMin,
} from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const AIR: WingAir = {
  temperatureK: kFromC(-10),
  pressurePa: 70_000,
  trueAirspeedMps: mpsFromKt(150),
  dropletNumberPerM3: 150e6,
  wingNoseRadiusM: 0.0075,
};

/**
 * A cylinder of 3 cm at 150 kt, -10 °C and 700 hPa catches 0.752 of drops of 20 um (computed apart, to 1 %). 0.3 g/m3 in drops of
 * 20 um median by volume are N = 6 w / (pi rho D^3) times the shape's factor: with (mu+1)(mu+2)(mu+3) / (3.672+mu)^3 = 60 / 182.5
 * of a gamma spectrum of shape 2, N = 3 x 10^-4 x 6 / (pi x 1000 x 8 x 10^-15) x (182.5 / 60) = 2.18 x 10^8 per m3.
 */
describe('outside figures', () => {
  const drops = { ...AIR, dropletNumberPerM3: 2.18e8 };
  // 0.3e-3 kg/m3 x 77.167 m/s x 0.752 / 880 kg/m3 = 1.978e-5 m/s.
  const wingMps = 1.978e-5;

  it('the water of a known growth is the water that makes it', () => {
    const made = growthOfWaterMps(0.3e-3, { ...drops, part: leadingEdge(drops.wingNoseRadiusM) });
    assertClose(made, wingMps, { rel: 0.02, why: 'efficiency to 1 %, number to 1 %' });
  });

  it('where all of it freezes a rod with the radius that the wing catches as grows like the wing', () => {
    const cold = { ...drops, temperatureK: kFromC(-20) };
    assertClose(rodGrowthMps(wingMps, cold, 0.015)!, wingMps, { rel: 1e-6, why: 'the same cylinder' });
  });
});

it('a thinner rod grows faster, and more on the wing is more on the rod', () => {
  const growth = fc.double({ min: 0.02, max: 2, noNaN: true }).map(mpsFromMmPerMin);
  const radius = fc.double({ min: 0.002, max: 0.014, noNaN: true });
  const temperature = fc.double({ min: -25, max: -5, noNaN: true });
  let compared = 0;
  fc.assert(
    fc.property(growth, radius, temperature, (wingMps, radiusM, celsius) => {
      const air = { ...AIR, temperatureK: kFromC(celsius) };
      const [thin, thick] = [rodGrowthMps(wingMps, air, radiusM), rodGrowthMps(wingMps, air, 0.015)];
      const more = rodGrowthMps(wingMps * 1.5, air, radiusM);
      if (thin === undefined || thick === undefined || more === undefined) return;
      compared += 1;
      expect(thin).toBeGreaterThanOrEqual(thick * (1 - 1e-9));
      expect(more).toBeGreaterThan(thin);
    }),
  );
  expect(compared).toBeGreaterThan(50);
});

it('near 0 °C growth that the mean air cannot make comes of the colder air of some draws', () => {
  const warm = { ...AIR, temperatureK: kFromC(-1) };
  const growth = rodGrowthMps(mpsFromMmPerMin(0.5), warm, 0.003);
  expect(growth).toBeGreaterThan(mpsFromMmPerMin(0.3));
});

it('what no air makes is not given a figure', () => {
  const cue = rodCue({ low: 0, middle: 1, high: 1 }, AIR, 0.003);
  expect(cue).toMatchObject({ growthMps: undefined, worse: undefined });
});

describe('how long to watch', () => {
  const watch = (mmPerMin: number) => {
    const { thicknessM, durationS } = worseThan(mpsFromMmPerMin(mmPerMin));
    return [Math.round(thicknessM * 1e6) / 1000, durationS / 60];
  };
  it('is the shortest time that leaves 3 mm to be read, in whole millimeters and never less than the forecast', () => {
    // 3.5 in a minute; 2.2: 4.4 in two; 0.9: 4.5 in five; 0.45: 4.5 in ten; 0.05: 0.5 in ten.
    expect([3.5, 2.2, 0.9, 0.45, 0.05].map(watch)).toEqual([
      [4, 1],
      [5, 2],
      [5, 5],
      [5, 10],
      [1, 10],
    ]);
  });
  it('rounds a limit down, so that it is not passed unseen', () => {
    const { thicknessM, durationS } = limitOf(mpsFromMmPerMin(0.9));
    // 4.5 mm in five minutes; in two it would be 1.8.
    expect([thicknessM * 1000, durationS / 60]).toEqual([4, 5]);
  });
});

it('severe on the wing is 3 inches an hour there (AIM 7-1-19), and no less on the rod', () => {
  const { severe } = rodCue({ low: 0, middle: 1e-6, high: 2e-6 }, AIR, 0.003);
  const onRod = rodGrowthMps(mpsFromInPerH(3), AIR, 0.003)!;
  expect(mmPerMinFromMps(onRod)).toBeGreaterThan(1.27);
  expect(severe!.thicknessM / severe!.durationS).toBeLessThanOrEqual(onRod);
});
