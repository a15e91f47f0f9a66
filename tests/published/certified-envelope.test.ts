/**
 * 14 CFR 25 Appendix C, continuous maximum: figures 1 to 3 in a public digitization, and the NACA table they come from. The code
 * keeps the points of that digitization, so figures 1 and 3 guard against slips only; the NACA table is a second witness.
 */
import { expect, test } from 'vitest';
import {
  continuousMaximumKgPerM3,
  envelopeRatio,
  envelopeTemperaturesK,
  extentFactor,
  OUTSIDE_ENVELOPE_RATIO,
} from '../../worker/science/certified-envelope.ts';
import { cFromK, gPerM3FromKgPerM3, kFromC, mFromFt, mFromNm, mFromUm } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

const APPENDIX_C = '14 CFR 25 Appendix C, figures 1 to 3 (digitized)';

const kFromF = (fahrenheit: number) => kFromC((fahrenheit - 32) / 1.8);
const fFromK = (kelvin: number) => 32 + 1.8 * cFromK(kelvin);
const limitGPerM3 = (kelvin: number, um: number) =>
  gPerM3FromKgPerM3(continuousMaximumKgPerM3(kelvin, mFromUm(um)));

testPublished(
  'figure 1: the limit at four temperatures and six diameters',
  { source: APPENDIX_C, tag: 'L', values: 24 },
  (published) => {
    const diametersUm = [15, 20, 25, 30, 35, 40];
    // degF, g/m3.
    const rows = [
      [32, 0.8, 0.635, 0.5, 0.375, 0.26, 0.155],
      [14, 0.59, 0.415, 0.3, 0.22, 0.15, 0.1],
      [-4, 0.3, 0.21, 0.15, 0.11, 0.08, 0.06],
      [-22, 0.2, 0.14, 0.1, 0.07, 0.05, 0.04],
    ] as const;
    for (const [fahrenheit, ...limits] of rows) {
      diametersUm.forEach((um, column) => {
        published.close(limitGPerM3(kFromF(fahrenheit), um), limits[column]!, {
          abs: 1e-9,
          why: 'a point that was read, kept as it is',
        });
      });
    }
  },
);

testPublished(
  'class III-M, of which figure 1 was made',
  { source: 'NACA TN 1855, table I', tag: 'L', values: 12 },
  (published) => {
    // degF; g/m3 at 15, 25 and 40 um.
    const rows = [
      [32, 0.8, 0.5, 0.15],
      [14, 0.6, 0.3, 0.1],
      [-4, 0.3, 0.15, 0.06],
      [-22, 0.2, 0.1, 0.04],
    ] as const;
    for (const [fahrenheit, ...limits] of rows) {
      [15, 25, 40].forEach((um, column) => {
        published.close(limitGPerM3(kFromF(fahrenheit), um), limits[column]!, {
          abs: 0.0101,
          why: 'the figure is read to 0.01',
        });
      });
    }
  },
);

testPublished(
  'figure 3: the factor of six extents',
  { source: APPENDIX_C, tag: 'L', values: 6 },
  (published) => {
    const rows = [
      [5, 1.34],
      [10, 1.16],
      [17.4, 1],
      [50, 0.67],
      [170, 0.32],
      [310, 0.2],
    ] as const;
    for (const [nm, factor] of rows) {
      published.close(extentFactor(mFromNm(nm)), factor, { abs: 1e-9, why: 'a point that was read' });
    }
    // Half way in ln distance between the points.
    rows.slice(1).forEach(([nm, factor], index) => {
      const [nearerNm, nearerFactor] = rows[index]!;
      const middle = extentFactor(mFromNm(Math.sqrt(nearerNm * nm)));
      assertClose(middle, (nearerFactor + factor) / 2, { abs: 1e-9, why: 'linear in ln distance' });
    });
  },
);

testPublished(
  'figure 2: temperatures covered at 0, 12,000 and 22,000 ft, and none above',
  { source: APPENDIX_C, tag: 'L', values: 7 },
  (published) => {
    // ft, degF.
    const rows = [
      [0, -22, 32],
      [12000, -22, 32],
      [22000, -22, -4],
    ] as const;
    for (const [ft, coldestF, warmestF] of rows) {
      const covered = envelopeTemperaturesK(mFromFt(ft));
      const tolerance = { abs: 1e-6, why: 'corner of the figure' };
      published.close(fFromK(covered?.coldestK ?? Number.NaN), coldestF, tolerance);
      published.close(fFromK(covered?.warmestK ?? Number.NaN), warmestF, tolerance);
    }
    published.same(envelopeTemperaturesK(mFromFt(22001)), undefined, '22,001 ft');
  },
);

testPublished(
  'between the points: -10 degC, 20 um over 50 NM, and the temperatures at 16,000 ft',
  { source: '14 CFR 25 Appendix C, figures 1 to 3', tag: 'C', values: 3 },
  (published) => {
    published.close(limitGPerM3(kFromC(-10), 20) * extentFactor(mFromNm(50)), 0.278, {
      abs: 0.0006,
      why: 'printed to 0.001',
    });
    const covered = envelopeTemperaturesK(mFromFt(16000));
    const tolerance = { abs: 0.05, why: 'printed to 0.1 F' };
    published.close(fFromK(covered?.coldestK ?? Number.NaN), -22, tolerance);
    published.close(fFromK(covered?.warmestK ?? Number.NaN), 17.6, tolerance);
  },
);

test('no limit is extrapolated: drops under 15 and over 40 um, air under -30 and over 0 degC', () => {
  const outside = [
    [-10, 14],
    [-10, 41],
    [-31, 20],
    [1, 20],
  ] as const;
  for (const [celsius, um] of outside) {
    expect(limitGPerM3(kFromC(celsius), um), `${celsius} degC, ${um} um`).toBeNaN();
  }
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
