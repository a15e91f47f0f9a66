/** What must not change the draws of a curtain, to the last bit. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { type DrawnIcing, MARK } from '../../worker/science/drawn-icing.ts';
import { drawAlong, type SourceAlong } from '../support/draw-along.ts';
import { even } from '../support/even-numbers.ts';
import { changingSource } from '../support/random-sources.ts';

const axis = makeAltitudeAxis({ lowestM: 300, cellDepthM: 150, cellCount: 24 });
const flown = (sources: readonly SourceAlong[]) =>
  drawAlong({ axis, pointCount: 6, spacingM: 40_000, sources });

const DRAWN = ['marks', 'growthMps', 'catchKgPerM2S'] as const;
const expectSameDraws = (one: DrawnIcing, other: DrawnIcing) => {
  for (const name of DRAWN) {
    expect(
      one[name].findIndex((value, index) => !Object.is(value, other[name][index])),
      name,
    ).toBe(-1);
  }
};

describe('what does not change the draws', () => {
  const several = fc.array(changingSource, { minLength: 1, maxLength: 3 });
  const RUNS = { numRuns: 12 };

  it('drawing again', () => {
    fc.assert(
      fc.property(several, (sources) => expectSameDraws(flown(sources).drawn, flown(sources).drawn)),
      { seed: 26, ...RUNS },
    );
  });

  it('a second source that says the same with the same errors, at any weight: not even noise', () => {
    fc.assert(
      fc.property(changingSource, even(0.01, 5), (source, weight) => {
        expectSameDraws(flown([source, { ...source, weight }]).drawn, flown([source]).drawn);
      }),
      { seed: 27, ...RUNS },
    );
  });

  it('a source of weight 0, and all weights doubled', () => {
    fc.assert(
      fc.property(several, changingSource, (sources, silent) => {
        const before = flown(sources).drawn;
        expectSameDraws(flown([{ ...silent, weight: 0 }, ...sources]).drawn, before);
        expectSameDraws(
          flown(sources.map((source) => ({ ...source, weight: 2 * source.weight }))).drawn,
          before,
        );
      }),
      { seed: 28, ...RUNS },
    );
  });

  it('a source split into two of half its weight', () => {
    fc.assert(
      fc.property(several, fc.nat(2), (sources, at) => {
        const halved = sources.flatMap((source, index) => {
          const half = { ...source, weight: source.weight / 2 };
          return index === at % sources.length ? [half, half] : [source];
        });
        expectSameDraws(flown(halved).drawn, flown(sources).drawn);
      }),
      { seed: 29, ...RUNS },
    );
  });

  it('errors of water and of drop size, as far as where there is ice goes; its growth they change', () => {
    let changed = 0;
    fc.assert(
      fc.property(changingSource, even(0.2, 1.5), even(0.2, 1), (source, lnWater, lnDiameter) => {
        const exact = flown([{ ...source, errors: { ...source.errors, lnWater: 0, lnDiameter: 0 } }]).drawn;
        const unsure = flown([{ ...source, errors: { ...source.errors, lnWater, lnDiameter } }]).drawn;
        const kinds = ({ marks }: DrawnIcing) =>
          marks.map((mark) => mark & (MARK.moist | MARK.ice | MARK.largeDrops));
        const kindsExact = kinds(exact);
        expect(kinds(unsure).findIndex((kind, index) => kind !== kindsExact[index])).toBe(-1);
        if (unsure.growthMps.some((growthMps, index) => growthMps !== exact.growthMps[index])) changed += 1;
      }),
      { seed: 30, ...RUNS },
    );
    expect(changed).toBeGreaterThan(6);
  });
});
