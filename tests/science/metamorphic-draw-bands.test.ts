/**
 * How an error widens the spread of the draws. Said of one error alone and inside a deck: at its edge, with other errors there
 * too, one that makes cloud less probable may narrow the band, and rightly so.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { MARK } from '../../worker/science/drawn-icing.ts';
import { type ErrorSpread, NO_ERROR } from '../../worker/science/error-spreads.ts';
import { type DrawnAlong, drawAlong, pointsMarked } from '../support/draw-along.ts';
import { even } from '../support/even-numbers.ts';
import { moistDeck } from '../support/moist-deck.ts';

const axis = makeAltitudeAxis({ lowestM: 300, cellDepthM: 150, cellCount: 24 });
const cellAt = (hPa: number) => axis.middlePressurePa.findIndex((pressurePa) => pressurePa < hPa * 100);

/** From the 10th to the 90th percentile of the time in ice in the middle of the deck, in points of 40. */
function bandOf({ drawn }: DrawnAlong): number {
  const counts = pointsMarked(drawn, cellAt(800), MARK.ice);
  return counts[57]! - counts[6]!;
}

describe('the 10 to 90 % band of the time in ice inside a deck, one error growing while all else is exact', () => {
  /** 360 km; past a front, if there is one, the second half is drier. */
  const along = (over: { humidityPct: number; celsius: number; hasFront: boolean }, errors: ErrorSpread) =>
    drawAlong({
      axis,
      pointCount: 40,
      spacingM: 9000,
      sources: [
        {
          profileAt: (point) =>
            moistDeck(over.hasFront && point >= 20 ? { ...over, humidityPct: over.humidityPct - 20 } : over),
          errors,
        },
      ],
    });
  const growing = fc.constantFrom(
    { name: 'humidityRatio', most: 0.2 },
    { name: 'temperatureK', most: 2 },
    { name: 'heightM', most: 400 },
    { name: 'placeM', most: 160_000 },
  );

  it('never narrows by more than 2 points of 40, the noise of a percentile of 64 draws', () => {
    const given = fc.record({
      growing,
      humidityPct: even(85, 104),
      celsius: even(-12, 10),
      hasFront: fc.boolean(),
    });
    fc.assert(
      fc.property(given, even(0, 1), even(0, 1), ({ growing: { name, most }, ...over }, one, other) => {
        const [narrow, wide] = [Math.min(one, other), Math.max(one, other)].map((part) =>
          bandOf(along(over, { ...NO_ERROR, [name]: part * most })),
        );
        expect(wide!, name).toBeGreaterThanOrEqual(narrow! - 2);
      }),
      { seed: 31, numRuns: 40 },
    );
  });

  it.each([
    ['humidityRatio', 0.2, { humidityPct: 95, celsius: 0, hasFront: false }],
    ['temperatureK', 2, { humidityPct: 100, celsius: 5.8, hasFront: false }],
    ['heightM', 400, { humidityPct: 98, celsius: 0, hasFront: false }],
    ['placeM', 160_000, { humidityPct: 98, celsius: 0, hasFront: true }],
  ] as const)('widens by half or more with an error of %s of %d', (name, most, over) => {
    const [exact, unsure] = [0, most].map((error) => bandOf(along(over, { ...NO_ERROR, [name]: error })));
    expect(unsure!).toBeGreaterThan(1.5 * exact!);
  });
});
