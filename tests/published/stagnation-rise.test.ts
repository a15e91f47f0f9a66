/** Temperature rise of air brought to rest: rows computed apart, V^2 / (2 cp). */
import { expect, test } from 'vitest';
import { stagnationRiseK } from '../../worker/science/heat-balance.ts';
import { mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

test('the rise at seven speeds, in full and with a recovery of 0.85, equals the rows', () => {
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
  for (const [kt, full, recovered] of rows) {
    const tolerance = { abs: 0.005, why: 'reference tolerance' };
    assertClose(stagnationRiseK(mpsFromKt(kt)), full, tolerance);
    assertClose(stagnationRiseK(mpsFromKt(kt), 0.85), recovered, tolerance);
  }
  expect(rows.length).toBe(7);
});
