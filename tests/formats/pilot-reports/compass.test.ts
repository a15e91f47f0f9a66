import { expect, test } from 'vitest';
import { compassDeg } from '../../../worker/formats/pilot-reports/compass.ts';

test('sixteen points of the compass, and no seventeenth', () => {
  expect(['N', 'NNE', 'E', 'SSE', 'SW', 'NNW'].map(compassDeg)).toEqual([0, 22.5, 90, 157.5, 225, 337.5]);
  expect(compassDeg('NWN')).toBeUndefined();
});
