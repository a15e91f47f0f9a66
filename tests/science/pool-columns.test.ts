/** Sources pooled at route points: what they know is weighed, what they do not know is not voted away. */
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import {
  CELL_STATE,
  type IcingColumns,
  LARGE_DROPS,
  type WeatherColumns,
} from '../../worker/science/columns.ts';
import { emptyIcingColumns } from '../../worker/science/icing-columns.ts';
import { poolColumns } from '../../worker/science/pool-columns.ts';
import { emptyWeatherColumns } from '../../worker/science/profile-columns.ts';

const axis = makeAltitudeAxis({ lowestM: 1000, cellDepthM: 150, cellCount: 1 });

interface OneSource {
  readonly weight: number;
  readonly state?: number;
  readonly probability?: number;
  readonly diameterUm?: number;
  readonly envelopeRatio?: number;
  readonly largeDrops?: number;
  readonly growthMmPerMin?: number;
}

/** One cell, one route point, these sources. */
function pooled(sources: readonly OneSource[]): { weather: WeatherColumns; icing: IcingColumns } {
  const weather = emptyWeatherColumns(
    axis,
    sources.map(() => 'none' as const),
  );
  const icing = emptyIcingColumns(axis, sources.length);
  sources.forEach((source, index) => {
    const state = source.state ?? CELL_STATE.known;
    weather.state[index] = state;
    icing.state[index] = state;
    if (state !== CELL_STATE.known) return;
    weather.temperatureK[index] = 265;
    weather.relativeHumidityRatio[index] = 0.9;
    icing.cloudProbability[index] = source.probability ?? 0;
    icing.icingProbability[index] = source.probability ?? 0;
    icing.medianVolumeDiameterM[index] = (source.diameterUm ?? 0) / 1e6;
    icing.envelopeRatio[index] = source.envelopeRatio ?? 0;
    icing.freezingFraction[index] = 1;
    icing.wingGrowthMps[index] = (source.growthMmPerMin ?? 0) / 60_000;
    icing.largeDrops[index] = source.largeDrops ?? LARGE_DROPS.none;
  });
  const weight = Float64Array.from(sources, (source) => source.weight);
  return poolColumns(weather, icing, {
    pointCount: 1,
    sourceCount: sources.length,
    humidity: weight,
    temperature: weight,
  });
}

const CLOUD = { probability: 0.8, diameterUm: 18, envelopeRatio: 0.3 };
const RAIN = { probability: 1, diameterUm: 1000, envelopeRatio: 10, largeDrops: LARGE_DROPS.freezingRain };

describe('poolColumns', () => {
  it('averages probabilities by weight', () => {
    const { icing } = pooled([
      { weight: 3, probability: 0.8 },
      { weight: 1, probability: 0 },
    ]);
    expect(icing.icingProbability[0]).toBeCloseTo(0.6, 6);
  });

  it('weighs amounts given liquid by probability too: a dry source does not thin the water', () => {
    const { icing } = pooled([
      { weight: 1, probability: 0.8, growthMmPerMin: 1 },
      { weight: 1, probability: 0, growthMmPerMin: 0 },
    ]);
    expect(icing.wingGrowthMps[0]! * 60_000).toBeCloseTo(1, 5);
  });

  it('does not mix raindrops of a far source into cloud drops, nor their mark into the envelope ratio', () => {
    const { icing } = pooled([
      { weight: 0.82, ...CLOUD },
      { weight: 0.18, ...RAIN },
    ]);
    expect(icing.largeDrops[0]).toBe(LARGE_DROPS.none);
    expect(icing.medianVolumeDiameterM[0]! * 1e6).toBeCloseTo(18, 3);
    expect(icing.envelopeRatio[0]).toBeCloseTo(0.3, 5);
    expect(icing.icingProbability[0]).toBeCloseTo(0.836, 5);
  });

  it('takes the rain where its share is fair', () => {
    const { icing } = pooled([
      { weight: 0.7, ...CLOUD },
      { weight: 0.3, ...RAIN },
    ]);
    expect(icing.largeDrops[0]).toBe(LARGE_DROPS.freezingRain);
    expect(icing.medianVolumeDiameterM[0]! * 1e6).toBeCloseTo(1000, 2);
    expect(icing.envelopeRatio[0]).toBeCloseTo(10, 5);
  });

  it.each([CELL_STATE.quantityMissing, CELL_STATE.outsideProfile, CELL_STATE.decodeFailed])(
    'is unknown (state %i) while the heaviest source is, however many others know',
    (state) => {
      const others = [0.3, 0.3, 0.3, 0.3].map((weight) => ({ weight, probability: 0 }));
      const { icing, weather } = pooled([{ weight: 0.5, state }, ...others]);
      expect([icing.state[0], weather.state[0]]).toEqual([state, state]);
    },
  );

  it('is known when only a light source does not know', () => {
    const { icing } = pooled([
      { weight: 1, probability: 0.5 },
      { weight: 0.2, state: CELL_STATE.quantityMissing },
    ]);
    expect(icing.state[0]).toBe(CELL_STATE.known);
    expect(icing.icingProbability[0]).toBeCloseTo(0.5, 6);
  });

  it('lets sources abstain for which the cell is below ground, and is below ground when all do', () => {
    const below = { weight: 2, state: CELL_STATE.belowGround };
    expect(pooled([below, { weight: 1, probability: 0.5 }]).icing.state[0]).toBe(CELL_STATE.known);
    expect(pooled([below, below]).icing.state[0]).toBe(CELL_STATE.belowGround);
  });

  it('has no data where no source has weight', () => {
    expect(pooled([{ weight: 0, probability: 0.5 }]).icing.state[0]).toBe(CELL_STATE.noData);
  });

  it('refuses weights that do not match the columns', () => {
    const weather = emptyWeatherColumns(axis, ['none']);
    const icing = emptyIcingColumns(axis, 1);
    const weights = {
      pointCount: 1,
      sourceCount: 2,
      humidity: new Float64Array(2),
      temperature: new Float64Array(2),
    };
    expect(() => poolColumns(weather, icing, weights)).toThrow(RangeError);
  });
});
