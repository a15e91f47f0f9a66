/** Liquid share of condensate by two published forms used as bounds, and water content from mixing ratio. */
import { expect, test } from 'vitest';
import {
  cloudTopLiquidShare,
  earlyFreezingLiquidShare,
  liquidShareOfCondensate,
  waterContentKgPerM3,
} from '../../worker/science/liquid-water.ts';
import { gPerM3FromKgPerM3, kFromC, paFromHPa } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';

const LAST_DIGIT = { abs: 0.0006, why: 'printed to 0.001' };

testPublished(
  'liquid share at four temperatures (form from memory)',
  { source: 'Tiedtke 1993 form', tag: 'C', values: 4 },
  (published) => {
    const rows = [
      [-5, 0.612],
      [-10, 0.319],
      [-15, 0.121],
      [-20, 0.017],
    ] as const;
    for (const [celsius, share] of rows) {
      published.close(earlyFreezingLiquidShare(kFromC(celsius)), share, LAST_DIGIT);
    }
  },
);

testPublished(
  'liquid share of cloud tops at six temperatures (coefficients from memory)',
  { source: 'Hu et al. 2010', tag: 'C', values: 6 },
  (published) => {
    const rows = [
      [-10, 0.99],
      [-15, 0.98],
      [-20, 0.921],
      [-25, 0.696],
      [-30, 0.215],
      [-35, 0.002],
    ] as const;
    for (const [celsius, share] of rows) {
      published.close(cloudTopLiquidShare(kFromC(celsius)), share, LAST_DIGIT);
    }
  },
);

testPublished(
  'water content of 0.3 g/kg at 850 hPa, -5 degC and of 0.1 g/kg at 700 hPa, -15 degC',
  { source: 'Mixing ratio times density of dry air', tag: 'C', values: 2 },
  (published) => {
    const rows = [
      [0.3, 850, -5, 0.331],
      [0.1, 700, -15, 0.0945],
    ] as const;
    for (const [gPerKg, hPa, celsius, gPerM3] of rows) {
      const found = waterContentKgPerM3(gPerKg / 1000, kFromC(celsius), paFromHPa(hPa));
      published.close(gPerM3FromKgPerM3(found), gPerM3, { rel: 0.0016, why: 'printed to three figures' });
    }
  },
);

test('the share in use lies between the two, and never rises as it gets colder', () => {
  let before = 1;
  for (let celsius = 0; celsius >= -45; celsius -= 0.5) {
    const share = liquidShareOfCondensate(kFromC(celsius));
    const bounds = [earlyFreezingLiquidShare(kFromC(celsius)), cloudTopLiquidShare(kFromC(celsius))];
    expect(share).toBeGreaterThanOrEqual(Math.min(...bounds));
    expect(share).toBeLessThanOrEqual(Math.max(...bounds));
    expect(share).toBeLessThanOrEqual(before);
    before = share;
  }
});
