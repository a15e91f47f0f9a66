/** Small chances over the trip and what is planned beyond it, and what is said of them. */
import { describe, expect, test } from 'vitest';
import { defaultPlanned } from '../../worker/flight/planned.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { choose, codesOf } from './choose.ts';
import { exposure } from './fly-curtain.ts';
import { LIGHT_ICE, layer, makeTestRoute, NOTHING_PLANNED, ROUND_AIRCRAFT } from './make-curtain.ts';

const DESTINATION = makeTestRoute().pointCount - 1;
/** In one draw of ten: the high estimate has none. */
const RARE = { ...LIGHT_ICE, icingProbability: 0.1 };
const inHold = layer(5000, 5500, RARE, [DESTINATION, DESTINATION]);

describe('chances of everything', () => {
  test('ice in one draw of the hold is a chance of a tenth of the whole, and a tenth of its time', () => {
    const found = exposure(inHold, { planned: { ...NOTHING_PLANNED, holdS: 1800 } });
    assertClose(found.wholeIceChance, 0.1, { abs: 1e-9, why: 'by hand' });
    assertClose(found.wholeExpectedIcingS, 180, { abs: 1e-6, why: 'by hand' });
    expect([found.iceChance, found.expectedIcingS, found.planned.icingHighS]).toEqual([0, 0, 0]);
  });

  test('that of the trip counts in it', () => {
    const found = exposure(layer(10000, 10500, RARE));
    expect(found.wholeIceChance).toBe(found.iceChance);
    expect(found.wholeExpectedIcingS).toBe(found.expectedIcingS);
    expect(found.iceChance).toBeCloseTo(0.1, 9);
  });
});

describe('what is filed with a small chance of ice in the hold alone', () => {
  const choice = choose(inHold, {
    aircraft: ROUND_AIRCRAFT,
    planned: defaultPlanned(0),
    candidateAltitudesM: [mFromFt(9000)],
  });

  test('is within limits, and the ice is told as not excluded', () => {
    expect(choice.verdict.code).toBe('within-limits');
    expect(codesOf(choice.verdict.reasons)).toEqual(['ice-not-excluded']);
  });

  test('does not say that the chance lies over much of the path, which has none', () => {
    expect(choice.verdict.sentence).not.toMatch(/much of the path/);
    expect(choice.verdict.reasons[0]?.sentence).not.toMatch(/on the path/);
  });
});
