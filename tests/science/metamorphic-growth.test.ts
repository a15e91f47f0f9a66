/** What more water and more speed do to growth, said only where it is true, with what happens elsewhere beside it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { INTENSITY, LARGE_DROPS } from '../../worker/science/columns.ts';
import { type Accretion, accrete, leadingEdge, makeAccretion } from '../../worker/science/growth.ts';
import { airColdK, dropColdK, freezingFraction } from '../../worker/science/heat-balance.ts';
import { makeImpact } from '../../worker/science/impact.ts';
import { intensityOfGrowth, screenedGrowthMps, withLargeDrops } from '../../worker/science/intensity.ts';
import { kFromC, mpsFromKt } from '../../worker/science/units.ts';
import { even } from '../support/even-numbers.ts';
import { type IcingCloud, icingCloud } from '../support/random-icing.ts';

const RUNS = { seed: 1, numRuns: 5000 };
/** Rounding of double numbers in a dozen operations. */
const ROUNDING = 1e-12;

/** A leading edge in this cloud, the density of ice and the size of drops being given. */
function grownIn(cloud: IcingCloud): Accretion & { readonly dropColdK: number } {
  const impact = makeImpact();
  impact.pressurePa = 100 * cloud.pressureHPa;
  impact.temperatureK = kFromC(cloud.celsius);
  impact.trueAirspeedMps = cloud.speedMps;
  impact.liquidWaterKgPerM3 = 10 ** cloud.logWaterGPerM3 / 1000;
  impact.diameterM = cloud.diameterUm * 1e-6;
  impact.dropColdK = dropColdK(impact.temperatureK, impact.trueAirspeedMps);
  impact.airColdK = airColdK(impact.temperatureK, impact.pressurePa, impact.trueAirspeedMps);
  const accretion = makeAccretion();
  accrete(impact, leadingEdge(10 ** cloud.logRadiusM), accretion);
  return { ...accretion, dropColdK: impact.dropColdK };
}

const intensityOf = ({ catchKgPerM2S, freezingFraction: part }: Accretion) =>
  intensityOfGrowth(screenedGrowthMps(catchKgPerM2S, part));
/** Most clouds near freezing, where the part that freezes is below 1. */
const anyCloud = fc.oneof(
  icingCloud,
  icingCloud.map((cloud) => ({ ...cloud, celsius: cloud.celsius / 8 })),
);

describe('more liquid water, drops of the same size', () => {
  it('never grows less nor is less intense while the drops are cold enough to take up heat', () => {
    let partly = 0;
    let stronger = 0;
    fc.assert(
      fc.property(anyCloud, even(0, 1), (cloud, logMore) => {
        const less = grownIn(cloud);
        fc.pre(less.dropColdK > 0);
        const more = grownIn({ ...cloud, logWaterGPerM3: cloud.logWaterGPerM3 + logMore });
        expect(more.growthMps).toBeGreaterThanOrEqual(less.growthMps * (1 - ROUNDING));
        expect(intensityOf(more)).toBeGreaterThanOrEqual(intensityOf(less));
        if (less.freezingFraction > 0 && more.freezingFraction < 1) partly += 1;
        if (intensityOf(more) > intensityOf(less)) stronger += 1;
      }),
      RUNS,
    );
    expect(partly, 'clouds that freeze in part').toBeGreaterThan(1000);
    expect(stronger, 'clouds that became more intense').toBeGreaterThan(1000);
  });

  it('grows in proportion where all of it freezes', () => {
    let frozen = 0;
    fc.assert(
      fc.property(anyCloud, even(0, 1), (cloud, logMore) => {
        const [less, more] = [
          grownIn(cloud),
          grownIn({ ...cloud, logWaterGPerM3: cloud.logWaterGPerM3 + logMore }),
        ];
        if (less.freezingFraction < 1 || more.freezingFraction < 1) return;
        frozen += 1;
        expect(more.growthMps / less.growthMps / 10 ** logMore).toBeCloseTo(1, 9);
      }),
      RUNS,
    );
    expect(frozen).toBeGreaterThan(500);
  });

  it('has its limit at -0.7 degC and 150 kt: there the heat of their own speed warms drops to 0 degC', () => {
    expect(dropColdK(kFromC(-0.7), mpsFromKt(150))).toBeLessThan(0);
    expect(dropColdK(kFromC(-0.72), mpsFromKt(150))).toBeGreaterThan(0);
  });

  it('would grow less beyond that limit if the air still took up heat: more warm water leaves less to freeze', () => {
    const frozen = (heatRatio: number) => heatRatio * freezingFraction(-0.4, 3, heatRatio);
    expect(frozen(0.2)).toBeLessThan(frozen(0.1));
    expect(frozen(0.2)).toBeGreaterThan(0);
  });

  it('freezes nothing of it at the stagnation line beyond that limit, since the air is too warm there before', () => {
    const near = icingCloud.map((cloud) => ({ ...cloud, celsius: cloud.celsius / 80 }));
    let beyond = 0;
    fc.assert(
      fc.property(near, (cloud) => {
        const grown = grownIn(cloud);
        if (grown.dropColdK > 0) return;
        beyond += 1;
        expect(grown.growthMps).toBe(0);
        if (grown.catchKgPerM2S > 0) expect(intensityOf(grown)).toBeGreaterThanOrEqual(INTENSITY.trace);
      }),
      { seed: 2, numRuns: 1000 },
    );
    expect(beyond).toBeGreaterThan(500);
  });
});

describe('more speed', () => {
  it('never grows slower while all the water freezes at both speeds', () => {
    let frozen = 0;
    fc.assert(
      fc.property(icingCloud, even(0.1, 80), (cloud, moreMps) => {
        const slow = grownIn(cloud);
        const fast = grownIn({ ...cloud, speedMps: cloud.speedMps + moreMps });
        if (slow.freezingFraction < 1 || fast.freezingFraction < 1) return;
        frozen += 1;
        expect(fast.efficiency).toBeGreaterThanOrEqual(slow.efficiency);
        expect(fast.growthMps).toBeGreaterThan(slow.growthMps);
      }),
      RUNS,
    );
    expect(frozen).toBeGreaterThan(1000);
  });

  it('does grow slower near freezing, where the air at rest becomes too warm', () => {
    const cloud = { ...WET, celsius: -5 };
    const [slow, fast] = [grownIn({ ...cloud, speedMps: 60 }), grownIn({ ...cloud, speedMps: 100 })];
    expect(fast.catchKgPerM2S).toBeGreaterThan(1.5 * slow.catchKgPerM2S);
    expect(fast.growthMps).toBeLessThan(0.9 * slow.growthMps);
    expect(fast.growthMps).toBeGreaterThan(0);
  });
});

/** 0.5 g/m3 in drops of 20 um at 850 hPa, on a nose of 20 mm. */
const WET: IcingCloud = {
  celsius: -5,
  speedMps: 60,
  logWaterGPerM3: Math.log10(0.5),
  diameterUm: 20,
  logRadiusM: Math.log10(0.02),
  pressureHPa: 850,
};

describe('withLargeDrops', () => {
  const codes = Object.values(INTENSITY);
  const kinds = Object.values(LARGE_DROPS);

  it('changes nothing without large drops, and with any kind raises what is under light to light', () => {
    const { light, moderate, severe } = INTENSITY;
    for (const kind of kinds) {
      const expected = kind === LARGE_DROPS.none ? codes : [light, light, light, moderate, severe];
      expect(codes.map((code) => withLargeDrops(code, kind))).toEqual(expected);
    }
  });

  it('never lowers, keeps the order of intensities, and is the same applied twice', () => {
    for (const kind of kinds) {
      const raised = codes.map((code) => withLargeDrops(code, kind));
      raised.forEach((code, index) => {
        expect(code).toBeGreaterThanOrEqual(codes[index]!);
        expect(code).toBeGreaterThanOrEqual(raised[index - 1] ?? 0);
        expect(withLargeDrops(code, kind)).toBe(code);
      });
    }
  });
});
