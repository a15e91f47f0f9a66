/** What lies on the leg at some altitude and must not be flown into. */
import { expect, test } from 'vitest';
import { worstOnLegWords } from '../../web/src/answer/worst-on-leg.ts';
import type { BandFeature, Brief } from '../../web/src/contract.ts';

type Band = BandFeature['properties'];

const briefOf = (...bands: Partial<Band>[]) =>
  ({
    features: bands.map((band) => ({
      properties: {
        kind: 'icing-band',
        state: 'known',
        intensity: 'light',
        probability: 0.8,
        growthMmPerMin: 0.3,
        envelopeRatio: 0.2,
        largeDrops: 'none',
        fromNm: 0,
        toNm: 10,
        lowerFt: 0,
        upperFt: 1000,
        ...band,
      },
    })),
  }) as unknown as Brief;

test('freezing rain comes before drizzle and severe ice, each with its heights and its stretches', () => {
  const rain = { largeDrops: 'freezing-rain', lowerFt: 500 } as const;
  expect(
    worstOnLegWords(
      briefOf(
        { intensity: 'severe', lowerFt: 5000, upperFt: 7000, fromNm: 30, toNm: 40 },
        { ...rain, upperFt: 4500, fromNm: 10, toNm: 20 },
        { ...rain, upperFt: 3000, fromNm: 20, toNm: 25 },
        { ...rain, upperFt: 2000, fromNm: 50, toNm: 60 },
      ),
    ).map((words) => words.replaceAll('\u2060', '')),
  ).toEqual(['freezing rain 500 to 4,500 ft, 10–25, 50–60 NM', 'severe ice 5,000 to 7,000 ft, 30–40 NM']);
});

test('severe ice that is nowhere likely is possible, and what is too unlikely to be drawn is not told of', () => {
  const severe = (probability: number) => worstOnLegWords(briefOf({ intensity: 'severe', probability }));
  expect(severe(0.2)[0]).toMatch(/^possible severe ice/);
  expect(severe(0.5)[0]).toMatch(/^severe ice/);
  expect(severe(0.03)).toEqual([]);
});

test('one band with both is told of twice, and other ice, ice pellets and unknown air are not told of here', () => {
  expect(worstOnLegWords(briefOf({ largeDrops: 'freezing-drizzle', intensity: 'severe' }))).toHaveLength(2);
  expect(
    worstOnLegWords(
      briefOf(
        { intensity: 'moderate' },
        { largeDrops: 'ice-pellets' },
        { state: 'no-data', largeDrops: null, intensity: null },
      ),
    ),
  ).toEqual([]);
});
