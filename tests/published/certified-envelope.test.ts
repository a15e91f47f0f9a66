/** 14 CFR 25 Appendix C, continuous maximum: figure 1 (digitized, 0.01), figures 2 and 3; origin NACA TN 1855 class III-M. */
import { expect, test } from 'vitest';
import {
  continuousMaximumKgPerM3,
  envelopeRatio,
  envelopeTemperaturesK,
  extentFactor,
  OUTSIDE_ENVELOPE_RATIO,
} from '../../worker/science/certified-envelope.ts';
import { gPerM3FromKgPerM3, kFromC, mFromFt, mFromNm, mFromUm } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const kFromF = (fahrenheit: number) => kFromC((fahrenheit - 32) / 1.8);
const limitGPerM3 = (celsius: number, um: number) =>
  gPerM3FromKgPerM3(continuousMaximumKgPerM3(kFromC(celsius), mFromUm(um)));

test('the limit equals five check values of figure 1', () => {
  const rows = [
    [0, 15, 0.8],
    [0, 40, 0.155],
    [-10, 20, 0.415],
    [-20, 25, 0.15],
    [-30, 40, 0.04],
  ] as const;
  for (const [celsius, um, gPerM3] of rows) {
    assertClose(limitGPerM3(celsius, um), gPerM3, { abs: 0.02, why: 'reference tolerance' });
  }
  expect(rows.length).toBe(5);
});

test('the limit agrees with the table of NACA TN 1855 that the figure comes from', () => {
  // degF; g/m3 at 15, 25 and 40 um.
  const rows = [
    [32, 0.8, 0.5, 0.15],
    [14, 0.6, 0.3, 0.1],
    [-4, 0.3, 0.15, 0.06],
    [-22, 0.2, 0.1, 0.04],
  ] as const;
  let compared = 0;
  for (const [fahrenheit, ...limits] of rows) {
    [15, 25, 40].forEach((um, column) => {
      const found = gPerM3FromKgPerM3(continuousMaximumKgPerM3(kFromF(fahrenheit), mFromUm(um)));
      assertClose(found, limits[column]!, { abs: 0.011, why: 'figure and table agree to 0.01' });
      compared += 1;
    });
  }
  expect(compared).toBe(12);
});

test('no limit is extrapolated: drops under 15 and over 40 um, air under -30 and over 0 degC', () => {
  const outside = [
    [-10, 14],
    [-10, 41],
    [-31, 20],
    [1, 20],
  ] as const;
  for (const [celsius, um] of outside)
    expect(limitGPerM3(celsius, um), `${celsius} degC, ${um} um`).toBeNaN();
  expect(outside.length).toBe(4);
});

test('the extent factor equals figure 3, and -10 degC, 20 um over 50 NM allows 0.278 g/m3 (computed)', () => {
  const rows = [
    [5, 1.34],
    [10, 1.16],
    [17.4, 1],
    [50, 0.67],
    [170, 0.32],
    [310, 0.2],
  ] as const;
  for (const [nm, factor] of rows) {
    assertClose(extentFactor(mFromNm(nm)), factor, { abs: 1e-9, why: 'point of the figure' });
  }
  assertClose(limitGPerM3(-10, 20) * extentFactor(mFromNm(50)), 0.278, {
    abs: 0.015,
    why: 'reference tolerance',
  });
  assertClose(extentFactor(mFromNm(29.5)), (1 + 0.67) / 2, {
    abs: 0.001,
    why: 'middle of 17.4 and 50 in ln distance',
  });
  expect(rows.length).toBe(6);
});

test('at 16,000 ft the envelope covers -22 to 17.6 degF, at 22,000 ft -22 to -4, above nothing', () => {
  const rows = [
    [12000, -22, 32],
    [16000, -22, 17.6],
    [22000, -22, -4],
  ] as const;
  for (const [ft, coldestF, warmestF] of rows) {
    const covered = envelopeTemperaturesK(mFromFt(ft));
    const tolerance = { abs: 0.1 / 1.8, why: 'reference tolerance, 0.1 F' };
    assertClose(covered?.coldestK ?? Number.NaN, kFromF(coldestF), tolerance);
    assertClose(covered?.warmestK ?? Number.NaN, kFromF(warmestF), tolerance);
  }
  expect(envelopeTemperaturesK(mFromFt(22001))).toBeUndefined();
  expect(rows.length).toBe(3);
});

test('the ratio takes the 15 um limit under 15 um, and marks what lies outside the ranges', () => {
  const at = (um: number, celsius: number, ft: number) =>
    envelopeRatio(0.4e-3, mFromUm(um), kFromC(celsius), mFromFt(ft));
  assertClose(at(10, 0, 8000), 0.5, { abs: 1e-9, why: '0.4 over 0.80 g/m3' });
  assertClose(at(20, -20, 8000), 0.4 / 0.21, { abs: 1e-9, why: 'figure 1' });
  expect(at(41, -5, 8000)).toBe(OUTSIDE_ENVELOPE_RATIO);
  expect(at(20, -31, 8000)).toBe(OUTSIDE_ENVELOPE_RATIO);
  expect(at(20, -25, 22500)).toBe(OUTSIDE_ENVELOPE_RATIO);
  expect(envelopeRatio(0, mFromUm(20), kFromC(-31), 0)).toBe(0);
});
