/** How heavily it snows by visibility, against the two charts as they were printed. */
import { describe, expect, it } from 'vitest';
import { heavierSnowIntensity, snowIntensity } from '../../worker/ground/snow-intensity.ts';

const MILE_M = 1609.344;
const OF = { H: 'heavy-snow', M: 'moderate-snow', L: 'light-snow', VL: 'very-light-snow' } as const;
type Letter = keyof typeof OF;

describe('chart of Transport Canada, 2003 (TP 10643, looked up): the edges of each row', () => {
  it.each([
    ['dark', -1, [1, 2.5, 4]],
    ['dark', 0, [1, 2.5, 4]],
    ['dark', -1.1, [0.75, 1.5, 3]],
    ['day', -1, [0.5, 1.5, 3]],
    ['day', -7, [0.375, 0.875, 2]],
  ] as const)('%s, %d °C', (light, temperatureC, edges) => {
    const at = (miles: number) =>
      snowIntensity({ visibilityM: miles * MILE_M, temperatureC, light }, 'canada-2003');
    expect([0, ...edges].map(at)).toEqual([OF.H, OF.H, OF.M, OF.L]);
    expect(edges.map((edge) => at(edge + 0.01))).toEqual([OF.M, OF.L, OF.VL]);
  });
});

describe('chart of the United States (undated, looked up): every cell', () => {
  const ROWS = {
    'day -1': ['VL', 'VL', 'L', 'L', 'M', 'M', 'H'],
    'day -0.9': ['VL', 'L', 'L', 'M', 'M', 'H', 'H'],
    'dark -1': ['VL', 'L', 'M', 'M', 'H', 'H', 'H'],
    'dark -0.9': ['VL', 'L', 'M', 'H', 'H', 'H', 'H'],
  } as const satisfies Record<string, readonly Letter[]>;
  it.each(Object.entries(ROWS))('%s °C', (row, letters) => {
    const [light, temperature] = row.split(' ') as ['day' | 'dark', string];
    for (const visibilitiesM of [
      [4000, 3200, 2400, 1600, 1200, 800, 400],
      [2.5, 2, 1.5, 1, 0.75, 0.5, 0.25].map((miles) => miles * MILE_M),
    ]) {
      const found = visibilitiesM.map((visibilityM) =>
        snowIntensity({ visibilityM, temperatureC: Number(temperature), light }, 'united-states-undated'),
      );
      expect(found).toEqual(letters.map((letter) => OF[letter]));
    }
  });
});

describe('checks of the reference', () => {
  it.each([
    ['day', 1, -7, ['light-snow', 'light-snow']],
    ['dark', 1, -7, ['moderate-snow', 'moderate-snow']],
    ['dark', 1, 0, ['heavy-snow', 'heavy-snow']],
    ['day', 0.75, -7, ['moderate-snow', 'moderate-snow']],
    ['day', 0.5, -1, ['heavy-snow', 'moderate-snow']],
  ] as const)('%s, %d SM, %d °C', (light, miles, temperatureC, [canada, states]) => {
    const view = { visibilityM: miles * MILE_M, temperatureC, light };
    expect(snowIntensity(view, 'canada-2003')).toBe(canada);
    expect(snowIntensity(view, 'united-states-undated')).toBe(states);
  });
});

it('of two charts that disagree the heavier counts', () => {
  expect(heavierSnowIntensity({ visibilityM: 0.5 * MILE_M, temperatureC: -1, light: 'day' })).toBe(
    'heavy-snow',
  );
});

it.each([Number.NaN, -1])('%d m is refused', (visibilityM) => {
  expect(() => snowIntensity({ visibilityM, temperatureC: 0, light: 'day' }, 'canada-2003')).toThrow(
    RangeError,
  );
});

it('at no visibility is snow in the cold heavier than in the warm, by either chart', () => {
  const order = ['very-light-snow', 'light-snow', 'moderate-snow', 'heavy-snow'];
  for (let visibilityM = 0; visibilityM <= 10_000; visibilityM += 10)
    for (const light of ['day', 'dark'] as const)
      for (const chart of ['canada-2003', 'united-states-undated'] as const) {
        const weight = (temperatureC: number) =>
          order.indexOf(snowIntensity({ visibilityM, temperatureC, light }, chart));
        expect(weight(-8)).toBeLessThanOrEqual(weight(0));
      }
});
