/** Temperature rise of air brought to rest: rows computed apart, V^2 / (2 cp). */
import { gaugeTemperatureK } from '../../worker/flight/gauge-temperature.ts';
import { stagnationRiseK } from '../../worker/science/heat-balance.ts';
import { mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'the rise at seven speeds, in full and with a recovery of 0.85',
  { source: 'Energy equation, V^2 / (2 cp)', tag: 'C', values: 14 },
  (published) => {
    // kt, K, K.
    const rows = [
      [100, 1.317, 1.12],
      [120, 1.897, 1.612],
      [140, 2.581, 2.194],
      [150, 2.963, 2.519],
      [160, 3.372, 2.866],
      [180, 4.267, 3.627],
      [200, 5.268, 4.478],
    ] as const;
    for (const [kt, fullK, recoveredK] of rows) {
      const tolerance = { abs: 0.0006, why: 'printed to 0.001' };
      published.close(stagnationRiseK(mpsFromKt(kt)), fullK, tolerance);
      published.close(stagnationRiseK(mpsFromKt(kt), 0.85), recoveredK, tolerance);
      const gauge = gaugeTemperatureK(263.15, mpsFromKt(kt), { temperatureRecoveryRatio: 0.85 });
      assertClose(gauge - 263.15, recoveredK, tolerance);
    }
  },
);
