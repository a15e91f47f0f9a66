/** Thickness growth: rows computed apart, and the handbook's worked example (DOT/FAA/CT-88/8-1, examples 2-3 and 2-4). */
import { expect, test } from 'vitest';
import { ICE_DENSITY_KG_PER_M3, thicknessRateMps } from '../../worker/science/growth.ts';
import { inPerHFromMps, kgPerM3FromGPerM3, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const catchAt150Kt = (gPerM3: number, efficiency: number) =>
  kgPerM3FromGPerM3(gPerM3) * mpsFromKt(150) * efficiency;

test('growth at 150 kt, efficiency 0.5 and 880 kg/m3 equals the computed rows', () => {
  const rows = [
    [0.05, 0.311],
    [0.1, 0.621],
    [0.2, 1.243],
    [0.5, 3.107],
    [1.0, 6.214],
  ] as const;
  expect(ICE_DENSITY_KG_PER_M3).toBe(880);
  for (const [gPerM3, inPerH] of rows) {
    assertClose(inPerHFromMps(thicknessRateMps(catchAt150Kt(gPerM3, 0.5), 1)), inPerH, {
      abs: 0.0006,
      why: 'printed to 0.001',
    });
  }
  expect(rows.length).toBe(5);
});

test('the liquid water of 1/4, 1 and 3 in/h in the same case equals the computed rows', () => {
  const rows = [
    [0.25, 0.04],
    [1, 0.161],
    [3, 0.483],
  ] as const;
  const perGram = inPerHFromMps(thicknessRateMps(catchAt150Kt(1, 0.5), 1));
  for (const [inPerH, gPerM3] of rows) {
    assertClose(inPerH / perGram, gPerM3, { abs: 0.0006, why: 'printed to 0.001' });
  }
  expect(rows.length).toBe(3);
});

test('the handbook example catches 0.045 lbm/min/ft and builds 0.39 in. in five minutes', () => {
  // 0.4 g/m3, 200 kt, E 0.24 over h/c 0.12 of a 3.1 ft chord; beta 0.65, ice of 0.8 g/cm3.
  const waterKgPerM2S = kgPerM3FromGPerM3(0.4) * mpsFromKt(200);
  const spanKgPerMS = waterKgPerM2S * 0.24 * 0.12 * 3.1 * 0.3048;
  const lbmPerMinFt = (spanKgPerMS * 60 * 0.3048) / 0.45359237;
  assertClose(lbmPerMinFt, 0.045, { abs: 0.0005, why: 'reference tolerance' });
  const ourDepthM = thicknessRateMps(waterKgPerM2S * 0.65, 1) * 300;
  const handbookDepthIn = (ourDepthM * (ICE_DENSITY_KG_PER_M3 / 800)) / 0.0254;
  assertClose(handbookDepthIn, 0.39, { abs: 0.01, why: 'reference tolerance' });
});
