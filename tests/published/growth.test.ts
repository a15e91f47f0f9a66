/** Thickness growth: rows computed apart. The handbook's worked example is in handbook-catch.test.ts. */
import { expect } from 'vitest';
import { ICE_DENSITY_KG_PER_M3, thicknessRateMps } from '../../worker/science/growth.ts';
import { inPerHFromMps, kgPerM3FromGPerM3, mpsFromInPerH, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'growth at 150 kt, efficiency 0.5 and 880 kg/m3, and the water of 1/4, 1 and 3 in/h',
  { source: 'LWC V beta / density of ice', tag: 'C', values: 8 },
  (published) => {
    expect(ICE_DENSITY_KG_PER_M3).toBe(880);
    const growthInPerH = (gPerM3: number) =>
      inPerHFromMps(thicknessRateMps(kgPerM3FromGPerM3(gPerM3) * mpsFromKt(150) * 0.5, 1));
    // g/m3, in/h.
    const rows = [
      [0.05, 0.311],
      [0.1, 0.621],
      [0.2, 1.243],
      [0.5, 3.107],
      [1.0, 6.214],
    ] as const;
    const tolerance = { abs: 0.0006, why: 'printed to 0.001' };
    for (const [gPerM3, inPerH] of rows) published.close(growthInPerH(gPerM3), inPerH, tolerance);
    // in/h, g/m3.
    const inverse = [
      [0.25, 0.04],
      [1, 0.161],
      [3, 0.483],
    ] as const;
    for (const [inPerH, gPerM3] of inverse) {
      published.close(inPerH / growthInPerH(1), gPerM3, tolerance);
      assertClose(inPerHFromMps(mpsFromInPerH(inPerH)), inPerH, { rel: 1e-12, why: 'exact inverse' });
    }
  },
);
