/** Oxygen for an unpressurized cabin, as the rules are published: on both sides of every limit. */
import { type OxygenNeed, type OxygenRule, oxygenNeed } from '../../worker/flight/oxygen.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';

/** Cabin altitude ft, minutes, need. */
type Row = readonly [number, number, OxygenNeed];

const ROWS: Readonly<Record<OxygenRule, readonly Row[]>> = {
  '14 CFR 135.89(a)': [
    [10000, 600, 'none'],
    [10001, 600, 'crew-after-30-minutes'],
    [11000, 30, 'none'],
    [11000, 30.1, 'crew-after-30-minutes'],
    [12000, 31, 'crew-after-30-minutes'],
    [12001, 1, 'crew'],
  ],
  '14 CFR 91.211(a)': [
    [12500, 600, 'none'],
    [12501, 600, 'crew-after-30-minutes'],
    [13000, 30, 'none'],
    [13000, 30.1, 'crew-after-30-minutes'],
    [14000, 31, 'crew-after-30-minutes'],
    [14001, 1, 'crew'],
    [15000, 1, 'crew'],
    [15001, 1, 'crew-and-occupants'],
  ],
};

for (const rule of ['14 CFR 135.89(a)', '14 CFR 91.211(a)'] as const) {
  const rows = ROWS[rule];
  const values = rule === '14 CFR 135.89(a)' ? 6 : 8;
  testPublished('oxygen by cabin altitude and time', { source: rule, tag: 'L', values }, (published) => {
    for (const [altitudeFt, minutes, need] of rows) {
      const found = oxygenNeed(rule, mFromFt(altitudeFt), minutes * 60);
      published.same(found, need, `${altitudeFt} ft for ${minutes} min`);
    }
  });
}
