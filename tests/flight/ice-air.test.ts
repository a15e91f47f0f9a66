/** In what air a part of a flight meets its ice: worked out by hand on the flight of the round-number aeroplane. */
import { expect, test } from 'vitest';
import type { Exposure } from '../../worker/flight/types.ts';
import { LARGE_DROPS } from '../../worker/science/columns.ts';
import { cFromK, ftFromM, ktFromMps, mmPerMinFromMps, nmFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { exposure, exposureIn } from './fly-curtain.ts';
import {
  DRY,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  makeCurtain,
  makeTestRoute,
  TEST_DRAWS,
  UNKNOWN,
} from './make-curtain.ts';

const BY_HAND_F32 = { abs: 1e-5, rel: 1e-6, why: 'by hand, columns are 32-bit' };
const partOf = (flown: Exposure, part: string) => flown.parts.find((each) => each.part === part)!;

test('a deck from 6,000 to 9,000 ft is met in climb and descent, in its own air, and not in the cruise above', () => {
  const flown = exposure(layer(6000, 9000, { ...LIGHT_ICE, temperatureC: -7 }));
  const climb = partOf(flown, 'climb');
  assertClose(cFromK(climb.iceAir!.temperatureK), -7, BY_HAND_F32);
  assertClose(mmPerMinFromMps(climb.growthMps!.high), 0.3, BY_HAND_F32);
  assertClose(ktFromMps(climb.iceAir!.trueAirspeedMps), 180, BY_HAND_F32);
  // The middles of the first and the last step in it, which are at most a cell of 500 ft deep.
  assertClose(ftFromM(climb.iceAir!.lowestM), 6125, { abs: 125, why: 'by hand' });
  assertClose(ftFromM(climb.iceAir!.highestM), 8875, { abs: 125, why: 'by hand' });
  // 120 kt up at 1,000 ft/min: 6 and 9 min after lift-off, 12 and 18 NM.
  assertClose(nmFromM(climb.iceAir!.alongM!.fromM), 12, { abs: 0.01, why: 'by hand' });
  assertClose(nmFromM(climb.iceAir!.alongM!.toM), 18, { abs: 0.01, why: 'by hand' });
  expect(partOf(flown, 'cruise')).toMatchObject({ growthMps: undefined, iceAir: undefined });
});

test('7,500 ft of the standard atmosphere in the middle of the deck is 767 hPa', () => {
  const flown = exposure(layer(6000, 9000, LIGHT_ICE));
  // ICAO standard atmosphere: 1013.25 (1 - 0.0065 * 2286 / 288.15) ^ 5.2559 = 767.0 hPa.
  assertClose(partOf(flown, 'climb').iceAir!.pressurePa, 76_700, {
    abs: 60,
    why: 'standard atmosphere, by hand',
  });
});

test('growth is that of the draws with ice alone: a chance of one in five does not make it a fifth', () => {
  const flown = exposure(layer(6000, 9000, { ...LIGHT_ICE, icingProbability: 0.2 }));
  const { growthMps, builtM } = partOf(flown, 'climb');
  assertClose(mmPerMinFromMps(growthMps!.low), 0.3, BY_HAND_F32);
  assertClose(mmPerMinFromMps(growthMps!.high), 0.3, BY_HAND_F32);
  expect(builtM.middle).toBe(0);
});

test('the time in either of two decks weighs their growth and their air', () => {
  const flown = exposure((point, ft) => ({
    ...layer(4000, 6000, { ...LIGHT_ICE, temperatureC: -4 })(point, ft),
    ...layer(7000, 8000, { ...MODERATE_ICE, temperatureC: -10 })(point, ft),
  }));
  const climb = partOf(flown, 'climb');
  // Two minutes at 0.3 and one at 0.6 mm/min; two at -4 and one at -10 degrees.
  assertClose(mmPerMinFromMps(climb.growthMps!.middle), 0.4, BY_HAND_F32);
  assertClose(cFromK(climb.iceAir!.temperatureK), -6, BY_HAND_F32);
});

test('draws differ in their growth, and the spread is theirs', () => {
  const curtain = makeCurtain(
    makeTestRoute().pointCount,
    layer(6000, 9000, { ...LIGHT_ICE, icingProbability: 1 }),
  );
  const { drawn } = curtain;
  for (let at = 0; at < drawn.growthMps.length; at += 1) drawn.growthMps[at]! *= 1 + (at % TEST_DRAWS);
  const { growthMps } = partOf(exposureIn(curtain), 'climb');
  // 0.3 to 3.0 mm/min in ten steps: the second lowest, the mean of the middle two, the ninth.
  assertClose(mmPerMinFromMps(growthMps!.low), 0.6, BY_HAND_F32);
  assertClose(mmPerMinFromMps(growthMps!.middle), 1.65, BY_HAND_F32);
  assertClose(mmPerMinFromMps(growthMps!.high), 2.7, BY_HAND_F32);
});

test('named large drops on a part are said, and dry or unknown air holds no ice air', () => {
  const drops = exposure(layer(2000, 3000, { ...LIGHT_ICE, largeDrops: LARGE_DROPS.freezingRain }));
  expect(partOf(drops, 'climb').iceAir?.hasLargeDrops).toBe(true);
  expect(partOf(exposure(layer(2000, 3000, LIGHT_ICE)), 'climb').iceAir?.hasLargeDrops).toBe(false);
  for (const cells of [DRY, layer(0, 30000, UNKNOWN)]) {
    expect(partOf(exposure(cells), 'climb')).toMatchObject({ growthMps: undefined, iceAir: undefined });
  }
});
