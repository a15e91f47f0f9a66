/** Temperature rise of air brought to rest: rows computed apart, V^2 / (2 cp), and by the Mach number. */
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

testPublished(
  'the total temperature T (1 + 0.2 r M^2) by the Mach number, at two temperatures, recoveries 1 and 0.85',
  { source: 'Isentropic relation, ratio of specific heats 1.4, R 287.053 J/kg/K', tag: 'C', values: 12 },
  (published) => {
    // Speed of sound 325.20 and 312.59 m/s. kt, K, K; the speed alone makes the rise.
    const rows = [
      [100, 1.317, 1.12],
      [150, 2.963, 2.519],
      [200, 5.268, 4.478],
    ] as const;
    const tolerance = { abs: 0.0008, why: 'printed to 0.001; 3.5 R for cp differs by 2e-5' };
    for (const staticK of [263.15, 243.15]) {
      for (const [kt, fullK, recoveredK] of rows) {
        const gaugeK = (temperatureRecoveryRatio: number) =>
          gaugeTemperatureK(staticK, mpsFromKt(kt), { temperatureRecoveryRatio });
        published.close(gaugeK(1), staticK + fullK, tolerance);
        published.close(gaugeK(0.85), staticK + recoveredK, tolerance);
      }
    }
  },
);
