/** Water along a route against the certified envelope, window by window: what more water, gaps and unknown cells do. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { extentFactor } from '../../worker/science/certified-envelope.ts';
import { greatestWindowRatio, makeEnvelopeWindows } from '../../worker/science/envelope-windows.ts';
import { mFromNm } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { even } from '../support/even-numbers.ts';

const RUNS = { seed: 15, numRuns: 500 };
/** Of sums of at most 25 numbers. */
const ROUNDING = 1e-12;

/** Points 1 to 30 NM apart; at each a ratio, about a third without water. */
const route = fc
  .array(fc.record({ stepNm: even(1, 30), ratio: fc.oneof(even(0, 3), fc.constant(0), even(0, 0.3)) }), {
    minLength: 1,
    maxLength: 25,
  })
  .map((points) => ({
    distanceM: Float64Array.from(points, (_, point) =>
      points.slice(0, point).reduce((sumM, { stepNm }) => sumM + mFromNm(stepNm), 0),
    ),
    ratios: Float64Array.from(points, ({ ratio }) => ratio),
  }));

const greatest = (distanceM: Float64Array, ratios: Float64Array) =>
  greatestWindowRatio(makeEnvelopeWindows(distanceM), ratios);

/** Each point stands for the air to midway to its neighbors; the ends for that on their one side. */
function stretchesM(distanceM: Float64Array): number[] {
  return Array.from(distanceM, (hereM, point) => {
    const beforeM = point === 0 ? 0 : hereM - distanceM[point - 1]!;
    const afterM = point === distanceM.length - 1 ? 0 : distanceM[point + 1]! - hereM;
    return (beforeM + afterM) / 2;
  });
}

/** Mean ratio from one point's stretch to another's over the factor of that extent. */
function ratioOver(distanceM: Float64Array, ratios: Float64Array, first: number, last: number): number {
  const lengthsM = stretchesM(distanceM).slice(first, last + 1);
  const lengthM = lengthsM.reduce((sum, each) => sum + each, 0);
  const water = lengthsM.reduce((sum, each, index) => sum + each * ratios[first + index]!, 0);
  return water / lengthM / extentFactor(lengthM);
}

describe('greatestWindowRatio', () => {
  it('is the mean over the factor of figure 3 where all of a route is equally wet', () => {
    const factors = [
      [4, 1.34],
      [10, 1.16],
      [17.4, 1],
      [50, 0.67],
      [170, 0.32],
      [310, 0.2],
      [600, 0.2],
    ] as const;
    for (const [extentNm, factor] of factors) {
      const distanceM = Float64Array.from({ length: 11 }, (_, point) => mFromNm((extentNm * point) / 10));
      const found = greatest(distanceM, new Float64Array(11).fill(0.6));
      assertClose(found, 0.6 / factor, { rel: 1e-9, why: 'rounding' });
    }
  });

  it('is never below the mean of the whole wet stretch over its factor, nor of any part of it', () => {
    fc.assert(
      fc.property(route, fc.nat(24), fc.nat(24), ({ distanceM, ratios }, one, other) => {
        fc.pre(distanceM.length > 1);
        const found = greatest(distanceM, ratios);
        const wet = [...ratios.keys()].filter((point) => ratios[point]! > 0);
        const part = [one % ratios.length, other % ratios.length].sort((a, b) => a - b);
        for (const [first, last] of [[wet[0] ?? 0, wet.at(-1) ?? 0], part] as const) {
          expect(found).toBeGreaterThanOrEqual(ratioOver(distanceM, ratios, first!, last!) * (1 - ROUNDING));
        }
      }),
      RUNS,
    );
  });

  it('is that of some window: never above the greatest of them all', () => {
    fc.assert(
      fc.property(route, ({ distanceM, ratios }) => {
        fc.pre(distanceM.length > 1);
        const all = [...ratios.keys()].flatMap((first) =>
          [...ratios.keys()].slice(first).map((last) => ratioOver(distanceM, ratios, first, last)),
        );
        assertClose(greatest(distanceM, ratios), Math.max(...all), { rel: ROUNDING, why: 'rounding' });
      }),
      { seed: 16, numRuns: 150 },
    );
  });

  it('never falls as water is added anywhere', () => {
    let rises = 0;
    fc.assert(
      fc.property(route, fc.nat(24), even(0, 2), ({ distanceM, ratios }, at, more) => {
        const wetter = ratios.slice();
        wetter[at % ratios.length]! += more;
        const [was, is] = [greatest(distanceM, ratios), greatest(distanceM, wetter)];
        expect(is).toBeGreaterThanOrEqual(was * (1 - ROUNDING));
        if (is > was) rises += 1;
      }),
      RUNS,
    );
    expect(rises).toBeGreaterThan(200);
  });

  it('goes in proportion to water', () => {
    fc.assert(
      fc.property(route, even(0.01, 50), ({ distanceM, ratios }, factor) => {
        const scaled = greatest(
          distanceM,
          ratios.map((ratio) => ratio * factor),
        );
        assertClose(scaled, factor * greatest(distanceM, ratios), { rel: ROUNDING, why: 'rounding' });
      }),
      RUNS,
    );
  });

  it('ends a window at an unknown point: the greater of the two sides, each by itself', () => {
    let cut = 0;
    fc.assert(
      fc.property(route, fc.nat(24), ({ distanceM, ratios }, at) => {
        const gap = at % ratios.length;
        const known = (isKnown: (point: number) => boolean) =>
          greatest(
            distanceM,
            ratios.map((ratio, point) => (isKnown(point) ? ratio : Number.NaN)),
          );
        const both = known((point) => point !== gap);
        expect(both).toBe(
          Math.max(
            known((point) => point < gap),
            known((point) => point > gap),
          ),
        );
        const whole = greatest(distanceM, ratios);
        expect(both).toBeLessThanOrEqual(whole);
        if (both < whole) cut += 1;
      }),
      RUNS,
    );
    expect(cut, 'greatest windows that the point was in').toBeGreaterThan(50);
  });

  it('does not reach across an unknown point, but across a dry one', () => {
    const distanceM = Float64Array.from({ length: 41 }, (_, point) => mFromNm(5 * point));
    const wetBut = (ratio: number) => new Float64Array(41).fill(0.6).fill(ratio, 20, 21);
    // 97.5 NM to either side; 200 NM across, of which 195 are wet.
    const [side, across] = [97.5, 200].map((extentNm) => extentFactor(mFromNm(extentNm)));
    assertClose(greatest(distanceM, wetBut(Number.NaN)), 0.6 / side!, { rel: 1e-9, why: 'rounding' });
    const found = greatest(distanceM, wetBut(0));
    assertClose(found, (0.6 * 195) / 200 / across!, { rel: 1e-9, why: 'rounding' });
  });

  it('is 0 without water, and where nothing is known', () => {
    const distanceM = Float64Array.of(0, 10_000, 30_000);
    expect(greatest(distanceM, new Float64Array(3))).toBe(0);
    expect(greatest(distanceM, new Float64Array(3).fill(Number.NaN))).toBe(0);
  });
});
