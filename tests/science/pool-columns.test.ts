/** Sources pooled at route points: what they know is weighed, what they do not know is not voted away. */
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, type IcingColumns, LARGE_DROPS } from '../../worker/science/columns.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { NO_ERROR } from '../../worker/science/error-spreads.ts';
import { growIce } from '../../worker/science/growth-columns.ts';
import { listPointSources, type PointSources } from '../../worker/science/point-sources.ts';
import { poolColumns } from '../../worker/science/pool-columns.ts';
import { emptyWeatherColumns } from '../../worker/science/profile-columns.ts';
import { EXACT_RAIN_SHIFT } from '../../worker/science/rain-shifts.ts';
import { gatherWaterEvidence } from '../../worker/science/water-evidence.ts';
import { makeSettings } from '../support/make-profile.ts';

const axis = makeAltitudeAxis({ lowestM: 1000, cellDepthM: 150, cellCount: 1 });

interface OneSource {
  readonly weight: number;
  readonly state?: number;
  readonly probability?: number;
  readonly waterGPerM3?: number;
  readonly rain?: number;
  readonly largeDrops?: number;
  readonly temperatureC?: number;
  readonly temperatureErrorK?: number;
}

function listed(sources: readonly OneSource[]): PointSources {
  return listPointSources({ pointCount: 1, sourceCount: sources.length }, (_, source) => {
    const { weight, temperatureErrorK = 0 } = sources[source]!;
    return {
      humidity: weight,
      temperature: weight,
      errors: { ...NO_ERROR, temperatureK: temperatureErrorK },
    };
  });
}

/** One cell, one route point, these sources: the probability is that of cloud all of which is liquid. */
function pooled(sources: readonly OneSource[]): { icing: IcingColumns; airState: number } {
  const weather = emptyWeatherColumns(
    axis,
    sources.map(() => 'none' as const),
  );
  sources.forEach((source, index) => {
    weather.state[index] = source.state ?? CELL_STATE.known;
    if (weather.state[index] !== CELL_STATE.known) return;
    weather.temperatureK[index] = FREEZING_K + (source.temperatureC ?? -8);
    weather.relativeHumidityRatio[index] = 0.9;
  });
  const settings = makeSettings(1);
  const evidence = gatherWaterEvidence(weather, settings);
  sources.forEach((source, index) => {
    if (weather.state[index] !== CELL_STATE.known) return;
    const probability = source.probability ?? 0;
    evidence.liquidMargin[index] = Math.log(probability / (1 - probability));
    evidence.cloudMargin[index] = evidence.liquidMargin[index]!;
    evidence.humidityLiquid[index] = 1;
    evidence.humidityWaterKgPerM3[index] = (source.waterGPerM3 ?? 0.1) / 1000;
    evidence.rainProbability[EXACT_RAIN_SHIFT * sources.length + index] = source.rain ?? 0;
    evidence.hasRain[index] = 1;
    evidence.drizzleProbability[index] = 0;
    evidence.isFreezingRain[index] = source.largeDrops === LARGE_DROPS.freezingRain ? 1 : 0;
    evidence.largeDrops[index] = source.largeDrops ?? LARGE_DROPS.none;
  });
  const { weather: air, water } = poolColumns(weather, evidence, listed(sources));
  return { icing: growIce(water, axis, settings), airState: air.state[0]! };
}

const CLOUD = { probability: 0.8 };
const RAIN = { probability: 0.8, rain: 1, largeDrops: LARGE_DROPS.freezingRain };

describe('poolColumns', () => {
  it('averages probabilities by weight', () => {
    const { icing } = pooled([
      { weight: 3, probability: 0.8 },
      { weight: 1, probability: 0 },
    ]);
    expect(icing.icingProbability[0]).toBeCloseTo(0.6, 6);
  });

  it('weighs water given liquid by probability too: a dry source does not thin it', () => {
    const { icing } = pooled([
      { weight: 1, probability: 0.8, waterGPerM3: 0.3 },
      { weight: 1, probability: 0, waterGPerM3: 0.01 },
    ]);
    expect(icing.liquidWaterKgPerM3[0]! * 1000).toBeCloseTo(0.3, 5);
  });

  it('does not mix raindrops of a far source into cloud drops, nor their mark into the envelope ratio', () => {
    const { icing } = pooled([
      { weight: 0.82, ...CLOUD },
      { weight: 0.18, ...RAIN },
    ]);
    const alone = pooled([{ weight: 1, ...CLOUD }]).icing;
    expect(icing.largeDrops[0]).toBe(LARGE_DROPS.none);
    expect(icing.medianVolumeDiameterM[0]).toBe(alone.medianVolumeDiameterM[0]);
    expect(icing.envelopeRatio[0]).toBe(alone.envelopeRatio[0]);
    expect(icing.icingProbability[0]).toBeCloseTo(0.836, 5);
    expect(icing.largeDropProbability[0]).toBeCloseTo(0.18, 6);
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

  it('halves the chance of ice at 0 degC when temperature is uncertain, and has none there when it is exact', () => {
    const exact = pooled([{ weight: 1, ...CLOUD, temperatureC: 0.001 }]).icing;
    const uncertain = pooled([{ weight: 1, ...CLOUD, temperatureC: 0.001, temperatureErrorK: 1 }]).icing;
    expect(exact.icingProbability[0]).toBe(0);
    expect(uncertain.icingProbability[0]).toBeCloseTo(0.4, 3);
    expect(uncertain.wingCatchKgPerM2S[0]).toBeGreaterThan(0);
  });

  it.each([CELL_STATE.quantityMissing, CELL_STATE.outsideProfile, CELL_STATE.decodeFailed])(
    'is unknown (state %i) while the heaviest source is, however many others know',
    (state) => {
      const others = [0.3, 0.3, 0.3, 0.3].map((weight) => ({ weight, probability: 0 }));
      const { icing, airState } = pooled([{ weight: 0.5, state }, ...others]);
      expect([icing.state[0], airState]).toEqual([state, state]);
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

  it('refuses sources that do not match the columns', () => {
    const weather = emptyWeatherColumns(axis, ['none']);
    const evidence = gatherWaterEvidence(weather, makeSettings(1));
    const two = listed([{ weight: 1 }, { weight: 1 }]);
    expect(() => poolColumns(weather, evidence, two)).toThrow(RangeError);
  });
});
