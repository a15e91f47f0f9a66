/** From the wing of the forecast to a rod that can be seen. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { limitOf, type RodAir, rodCue, worseThan } from '../../worker/flight/rod-growth.ts';
import { leadingEdge } from '../../worker/science/growth.ts';
import { accretionOfWater, growthOfWaterMps } from '../../worker/science/observed-growth.ts';
import { kFromC, mmPerMinFromMps, mpsFromKt, mpsFromMmPerMin } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const AIR: RodAir = {
  temperatureK: kFromC(-20),
  pressurePa: 70_000,
  trueAirspeedMps: mpsFromKt(150),
  flownMps: mpsFromKt(150),
  dropletNumberPerM3: 150e6,
  wingNoseRadiusM: 0.0075,
};
const only = (kgPerM2S: number) => ({ low: kgPerM2S, middle: kgPerM2S, high: kgPerM2S });
const at = (celsius: number, change: Partial<RodAir> = {}): RodAir => ({
  ...AIR,
  wingNoseRadiusM: 0.02,
  ...change,
  temperatureK: kFromC(celsius),
});
const rateOf = (watch: { thicknessM: number; durationS: number } | undefined) =>
  watch === undefined ? undefined : mmPerMinFromMps(watch.thicknessM / watch.durationS);

/**
 * A cylinder of 3 cm at 150 kt, -10 °C and 700 hPa catches 0.752 of drops of 20 um (computed apart, to 1 %). 0.3 g/m3 in drops of
 * 20 um median by volume are N = 6 w / (pi rho D^3) times the shape's factor: with (mu+1)(mu+2)(mu+3) / (3.672+mu)^3 = 60 / 182.5
 * of a gamma spectrum of shape 2, N = 3 x 10^-4 x 6 / (pi x 1000 x 8 x 10^-15) x (182.5 / 60) = 2.18 x 10^8 per m3.
 */
describe('outside figures', () => {
  const drops = { ...AIR, dropletNumberPerM3: 2.18e8 };
  // 0.3e-3 kg/m3 x 77.167 m/s x 0.752 = 0.01741 kg/m2/s; over 880 kg/m3: 1.978e-5 m/s.
  const caught = 0.01741;

  it('the water of a known catch is the water that makes it', () => {
    const made = growthOfWaterMps(0.3e-3, {
      ...drops,
      temperatureK: kFromC(-10),
      part: leadingEdge(drops.wingNoseRadiusM),
    });
    assertClose(made, 1.978e-5, { rel: 0.02, why: 'efficiency to 1 %, number to 1 %' });
  });

  it('where all of it freezes a rod with the radius that the wing catches as grows by that catch', () => {
    const { growthMps } = rodCue(only(caught), drops, 0.015);
    assertClose(growthMps.middle, caught / 880, { rel: 1e-6, why: 'the same cylinder, 880 kg/m3 of ice' });
  });

  it('in a climb at 120 kt the rod meets four fifths of the water that the cruise at 150 kt meets, and catches a little less of it', () => {
    const slow = rodCue(only(caught), { ...drops, flownMps: mpsFromKt(120) }, 0.015).growthMps.middle;
    const fast = caught / 880;
    expect(slow / fast).toBeLessThan(0.8);
    expect(slow / fast).toBeGreaterThan(0.7);
  });
});

it('a thinner rod grows faster, and more water is more on the rod', () => {
  const caught = fc.double({ min: 0.001, max: 0.03, noNaN: true });
  const radius = fc.double({ min: 0.002, max: 0.014, noNaN: true });
  fc.assert(
    fc.property(caught, radius, (kgPerM2S, radiusM) => {
      const growth = (each: number, rodRadiusM: number) =>
        rodCue(only(each), AIR, rodRadiusM).growthMps.middle;
      expect(growth(kgPerM2S, radiusM)).toBeGreaterThanOrEqual(growth(kgPerM2S, 0.015) * (1 - 1e-9));
      expect(growth(kgPerM2S * 1.5, radiusM)).toBeGreaterThan(growth(kgPerM2S, radiusM));
    }),
  );
});

describe('near 0 °C', () => {
  it('the limits fall with what freezes: what is severe on the wing at -4 shows less on the rod than at -15', () => {
    const severe = (celsius: number) => rateOf(rodCue(only(0.01), at(celsius), 0.006).severe)!;
    expect(severe(-4)).toBeLessThan(severe(-15) / 2);
  });

  it('where little freezes the rod shows little: no limit on it is given', () => {
    const cue = rodCue(only(0.01), at(-1), 0.006);
    expect(cue).toMatchObject({ showsLittle: true, worse: undefined, severe: undefined, high: undefined });
  });

  it.each([-2, -3, -4, -5, -7, -10, -20])(
    'at %d °C what the card calls severe is never under what the wing is judged by',
    (celsius) => {
      const air = at(celsius);
      const watch = rodCue(only(0.005), air, 0.006).severe;
      if (watch === undefined) return;
      // Ice just under the limit comes of less water than makes the wing severe: 3 inches an hour, or 0.3 of the catch as much.
      const justUnder = (watch.thicknessM / watch.durationS) * 0.999;
      let water = 0;
      while (
        growthOfWaterMps(water, { ...air, part: { catchRadiusM: 0.006, heatDiameterM: 0.012 } }) < justUnder
      )
        water += 1e-6;
      const onWing = accretionOfWater(water, { ...air, part: leadingEdge(0.02) });
      const screened = (onWing.catchKgPerM2S * Math.max(0.3, onWing.freezingFraction)) / 880;
      expect(mmPerMinFromMps(screened)).toBeLessThanOrEqual(1.28);
    },
  );
});

it('high estimates beyond severe are not called worse than forecast: severe is', () => {
  const cue = rodCue({ low: 0.01, middle: 0.05, high: 0.08 }, at(-15), 0.006);
  expect(cue.worse).toBeUndefined();
  expect(cue.severe).toBeDefined();
});

it('the high setting begins below severe', () => {
  const { high, severe } = rodCue(only(0.005), at(-12), 0.006);
  expect(rateOf(high)!).toBeLessThan(rateOf(severe)!);
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
  it('rounds a limit down, so that it is not passed unseen, and gives none that cannot be read', () => {
    // 4.5 mm in five minutes; in two it would be 1.8. 1.5 mm in ten minutes is under 2.
    const { thicknessM, durationS } = limitOf(mpsFromMmPerMin(0.9))!;
    expect([thicknessM * 1000, durationS / 60]).toEqual([4, 5]);
    expect(limitOf(mpsFromMmPerMin(0.15))).toBeUndefined();
  });
});
