/** Layers of moist air: where they begin and end, what seeds them, and how humidity makes them probable. */
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CALIBRATION } from '../../worker/science/calibration.ts';
import { fillSeedingTops, findCloudLayers, makeCloudLayers } from '../../worker/science/cloud-layers.ts';
import { cloudProbability, normalShare } from '../../worker/science/cloud-probability.ts';
import { loadColumnAir, makeColumnAir } from '../../worker/science/column-air.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { emptyWeatherColumns } from '../../worker/science/profile-columns.ts';

const CELLS = 30;
const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: CELLS });

/** Cells of humidity (per cent) and temperature (degC), lowest first; 'unknown' for a cell without data. */
function layersOf(humidity: (cell: number) => number | 'unknown', temperatureC = (cell: number) => -cell) {
  const weather = emptyWeatherColumns(axis, ['none']);
  for (let cell = 0; cell < CELLS; cell += 1) {
    const percent = humidity(cell);
    if (percent === 'unknown') continue;
    weather.state[cell] = CELL_STATE.known;
    weather.temperatureK[cell] = FREEZING_K + temperatureC(cell);
    weather.relativeHumidityRatio[cell] = percent / 100;
  }
  const air = makeColumnAir(axis);
  loadColumnAir(air, weather, 0);
  const layers = makeCloudLayers(CELLS);
  findCloudLayers(air, layers);
  const topK = new Float64Array(CELLS);
  fillSeedingTops(air, layers, topK);
  return { layers, topC: Array.from(topK, (each) => each - FREEZING_K) };
}

const between = (cell: number, low: number, high: number) => cell >= low && cell <= high;

describe('findCloudLayers', () => {
  it('finds two layers with base, top, top temperature and the gap between', () => {
    const { layers } = layersOf((cell) => (between(cell, 2, 6) || between(cell, 14, 20) ? 97 : 40));
    expect(layers.count).toBe(2);
    expect([layers.topCell[0], layers.baseCell[0], layers.topCell[1], layers.baseCell[1]]).toEqual([
      20, 14, 6, 2,
    ]);
    expect(layers.topK[1]! - FREEZING_K).toBeCloseTo(-6, 3);
    expect(layers.gapAboveM[1]).toBeGreaterThan(7 * 130);
    expect(layers.gapAboveM[1]).toBeLessThan(7 * 150);
    expect(layers.gapAboveM[0]).toBe(Number.POSITIVE_INFINITY);
  });

  it('bridges one dry cell of 150 m and not two', () => {
    expect(layersOf((cell) => (between(cell, 2, 12) && cell !== 7 ? 97 : 40)).layers.count).toBe(1);
    expect(layersOf((cell) => (between(cell, 2, 12) && !between(cell, 7, 8) ? 97 : 40)).layers.count).toBe(2);
  });

  it('takes cloud at -25 degC by ice saturation: 85 % over water is not asked there', () => {
    const cold = () => -25;
    expect(layersOf((cell) => (between(cell, 5, 9) ? 84 : 40), cold).layers.count).toBe(1);
    expect(layersOf((cell) => (between(cell, 5, 9) ? 84 : 40)).layers.count).toBe(0);
  });
});

describe('fillSeedingTops', () => {
  it('a cold layer 300 m above seeds partly, one 900 m above not at all', () => {
    const lower = (cell: number) => between(cell, 2, 6);
    const near = layersOf((cell) => (lower(cell) || between(cell, 9, 29) ? 97 : 40));
    const far = layersOf((cell) => (lower(cell) || between(cell, 13, 29) ? 97 : 40));
    expect(far.topC[4]).toBeCloseTo(-6, 3);
    expect(near.topC[4]!).toBeLessThan(-10);
    expect(near.topC[4]!).toBeGreaterThan(-29);
  });

  it('unknown air over a layer may be warm and seeds nothing', () => {
    const { topC } = layersOf((cell) => (cell === 10 ? 'unknown' : 97));
    expect(topC[9]).toBeCloseTo(-9 + 15, 3);
    expect(topC[4]).toBeCloseTo(-9 + 15, 3);
  });
});

describe('cloudProbability', () => {
  it('takes the normal share from the table of every statistics book (from memory)', () => {
    for (const [deviations, share] of [
      [-3, 0.00135],
      [-2, 0.02275],
      [-1, 0.15866],
      [0, 0.5],
      [1.96, 0.975],
    ] as const) {
      expect(Math.abs(normalShare(deviations) - share)).toBeLessThan(2e-4);
    }
  });

  it('is the mean of the curve over the error of humidity, within 0.01 and in the tail within a third', () => {
    const width = CALIBRATION.cloudHumidityWidthRatio;
    for (const error of [0.05, 0.12, 0.22]) {
      for (let margin = -12; margin <= 4; margin += 1) {
        let sum = 0;
        let weight = 0;
        for (let z = -6; z <= 6; z += 0.01) {
          const density = Math.exp((-z * z) / 2);
          sum += density / (1 + Math.exp(-(margin + (z * error) / width)));
          weight += density;
        }
        const mean = sum / weight;
        const found = cloudProbability(margin, error, width);
        expect(Math.abs(found - mean)).toBeLessThan(0.01);
        if (mean > 0.002 && mean < 0.05) expect(Math.abs(Math.log(found / mean))).toBeLessThan(0.35);
      }
    }
  });

  it('never falls as humidity rises, whatever the error', () => {
    for (const error of [0, 0.05, 0.2]) {
      for (let margin = -30; margin < 5; margin += 0.5) {
        expect(cloudProbability(margin + 0.5, error, 0.03)).toBeGreaterThanOrEqual(
          cloudProbability(margin, error, 0.03),
        );
      }
    }
  });
});
