/** Liquid share of condensate by two published forms used as bounds, and water content from mixing ratio. */
import { expect, test } from 'vitest';
import {
  cloudTopLiquidShare,
  earlyFreezingLiquidShare,
  liquidShareOfCondensate,
  waterContentKgPerM3,
} from '../../worker/science/liquid-water.ts';
import { gPerM3FromKgPerM3, kFromC, paFromHPa } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

test('the Tiedtke 1993 form gives the computed values (form from memory)', () => {
  const rows = [
    [-5, 0.612],
    [-10, 0.319],
    [-15, 0.121],
    [-20, 0.017],
  ] as const;
  for (const [celsius, share] of rows) {
    assertClose(earlyFreezingLiquidShare(kFromC(celsius)), share, { abs: 0.0006, why: 'printed to 0.001' });
  }
  expect(rows.length).toBe(4);
});

test('the form of Hu et al. 2010 gives the computed values (coefficients from memory)', () => {
  const rows = [
    [-10, 0.99],
    [-15, 0.98],
    [-20, 0.921],
    [-25, 0.696],
    [-30, 0.215],
    [-35, 0.002],
  ] as const;
  for (const [celsius, share] of rows) {
    assertClose(cloudTopLiquidShare(kFromC(celsius)), share, { abs: 0.0006, why: 'printed to 0.001' });
  }
  expect(rows.length).toBe(6);
});

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

test('cloud water of 0.3 g/kg at 850 hPa and 0.1 g/kg at 700 hPa is 0.331 and 0.0945 g/m3 (computed)', () => {
  const rows = [
    [0.3, 850, -5, 0.331],
    [0.1, 700, -15, 0.0945],
  ] as const;
  for (const [gPerKg, hPa, celsius, gPerM3] of rows) {
    const found = waterContentKgPerM3(gPerKg / 1000, kFromC(celsius), paFromHPa(hPa));
    assertClose(gPerM3FromKgPerM3(found), gPerM3, { abs: 0.0005, why: 'printed to three figures' });
  }
  expect(rows.length).toBe(2);
});
