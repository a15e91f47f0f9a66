/** Limits of icing intensity, AIM 7-1-19: growth on the unprotected outer wing. AC 91-74B has the same figures (from memory). */
import { INTENSITY_WORDS } from '../../worker/science/columns.ts';
import { intensityOfGrowth } from '../../worker/science/intensity.ts';
import { inPerHFromMps, mpsFromInPerH } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';

const AIM = 'Aeronautical Information Manual 7-1-19';

const wordAt = (growthMps: number) => INTENSITY_WORDS[intensityOfGrowth(growthMps)];

/** The growth at which one word becomes another, m/s, by bisection between two growths. */
function limitMps(lowInPerH: number, highInPerH: number): number {
  let lowMps = mpsFromInPerH(lowInPerH);
  let highMps = mpsFromInPerH(highInPerH);
  const word = wordAt(lowMps);
  for (let step = 0; step < 60; step += 1) {
    const middleMps = (lowMps + highMps) / 2;
    if (wordAt(middleMps) === word) lowMps = middleMps;
    else highMps = middleMps;
  }
  return (lowMps + highMps) / 2;
}

testPublished(
  'trace becomes light at 1/4, light moderate at 1, moderate severe at 3 in/h; beside them in cm/h',
  { source: AIM, tag: 'L', values: 6 },
  (published) => {
    // Search between, in/h; limit in/h; as printed in cm/h, and half of the step it is rounded to.
    const rows = [
      [0.1, 0.5, 0.25, 0.6, 0.05],
      [0.5, 2, 1, 2.5, 0.05],
      [2, 5, 3, 7.5, 0.25],
    ] as const;
    for (const [low, high, inPerH, cmPerH, halfStep] of rows) {
      const found = limitMps(low, high);
      published.close(inPerHFromMps(found), inPerH, { rel: 1e-6, why: 'the limit itself' });
      published.close(found * 100 * 3600, cmPerH, {
        abs: halfStep,
        why: 'rounded from inches in the source',
      });
    }
  },
);

testPublished('eight growths have these words', { source: AIM, tag: 'L', values: 8 }, (published) => {
  const rows = [
    [0.01, 'trace'],
    [0.24, 'trace'],
    [0.26, 'light'],
    [0.99, 'light'],
    [1.01, 'moderate'],
    [2.99, 'moderate'],
    [3.01, 'severe'],
    [10, 'severe'],
  ] as const;
  for (const [inPerH, word] of rows) published.same(wordAt(mpsFromInPerH(inPerH)), word, `${inPerH} in/h`);
});

testPublished(
  'the limits themselves, whose ranges touch in the source, are owned as we state; no growth is none',
  { source: 'Our reading of AIM 7-1-19', tag: 'C', values: 4 },
  (published) => {
    const rows = [
      [0, 'none'],
      [0.25, 'light'],
      [1, 'moderate'],
      [3, 'moderate'],
    ] as const;
    for (const [inPerH, word] of rows) published.same(wordAt(mpsFromInPerH(inPerH)), word, `${inPerH} in/h`);
  },
);
