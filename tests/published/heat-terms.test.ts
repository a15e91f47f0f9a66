/**
 * The terms of the heat balance one by one, against the percentages of the Aircraft Icing Handbook. Convection takes up the
 * deficit to 0 degC; so much of its percentage is each other term as it is of the deficit.
 */
import { airColdK, dropColdK, stagnationRiseK } from '../../worker/science/heat-balance.ts';
import { kFromC } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';
import { HANDBOOK, HANDBOOK_ROWS } from './handbook-heat-rows.ts';

/** Less than this says nothing when it is printed without decimals, %. */
const LEAST_PCT = 3;

/** Half a per cent in the term, and half a per cent in the one it is scaled by. */
const rounding = (found: number, scalePct: number) => 0.5 + (found * 0.5) / scalePct;

testPublished('heat of the air brought to rest', { source: HANDBOOK, tag: 'L', values: 39 }, (published) => {
  for (const { celsius, speedMps, viscousPct, convectionPct } of HANDBOOK_ROWS) {
    if (viscousPct < LEAST_PCT) continue;
    const found = (stagnationRiseK(speedMps) / -celsius) * convectionPct;
    published.close(found, viscousPct, {
      abs: rounding(found, convectionPct),
      why: 'whole percentages',
    });
  }
});

testPublished('heat taken by evaporation', { source: HANDBOOK, tag: 'L', values: 42 }, (published) => {
  for (const { celsius, speedMps, evaporationPct, convectionPct } of HANDBOOK_ROWS) {
    const coldK = airColdK(kFromC(celsius), 101325, speedMps);
    const evaporationK = coldK - (-celsius - stagnationRiseK(speedMps));
    const found = (evaporationK / -celsius) * convectionPct;
    published.close(found, evaporationPct, {
      abs: rounding(found, convectionPct),
      rel: celsius < -20 ? 0.065 : 0.02,
      why: 'whole percentages; theirs is less by 1 % at -6 degC, 2 % at -20 and 6 % at -26',
    });
  }
});

testPublished('heat of the speed of the drops', { source: HANDBOOK, tag: 'L', values: 13 }, (published) => {
  for (const { celsius, speedMps, kineticPct, warmingPct } of HANDBOOK_ROWS) {
    if (kineticPct < LEAST_PCT) continue;
    // Scaled by the warming of the water, which is the same mass of drops.
    const found = ((-celsius - dropColdK(kFromC(celsius), speedMps)) / -celsius) * warmingPct;
    published.close(found, kineticPct, { abs: rounding(found, warmingPct), why: 'whole percentages' });
  }
});
