/**
 * What sixty-four draws of a curtain add up to: their marks are as frequent as the chances they come from. Noise is that of
 * 64 draws over a route some correlation lengths long; each bound says over which.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, INTENSITY, type Profile } from '../../worker/science/columns.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { type DrawnIcing, intensityOfMark, MARK } from '../../worker/science/drawn-icing.ts';
import { NO_ERROR } from '../../worker/science/error-spreads.ts';
import { drawAlong, type SourceAlong, shareMarked } from '../support/draw-along.ts';
import { even } from '../support/even-numbers.ts';
import { alongPoints, makeProfile } from '../support/make-profile.ts';
import { moistDeck } from '../support/moist-deck.ts';
import { changingSource } from '../support/random-sources.ts';

const axis = makeAltitudeAxis({ lowestM: 300, cellDepthM: 150, cellCount: 24 });
const cellAt = (hPa: number) => axis.middlePressurePa.findIndex((pressurePa) => pressurePa < hPa * 100);
const anyDeck = fc.record({ humidityPct: even(80, 104), celsius: even(-20, 8) });

describe('what the draws add up to', () => {
  it('marks cloud and ice as often as their chances, over 1,800 km, whatever the errors but of place', () => {
    const deviations: number[] = [];
    let lean = 0;
    let span = 0;
    const count = (share: number, chance: number) => {
      // Where there is nothing to choose nothing is learned.
      if (chance < 0.02 || chance > 0.98) return;
      deviations.push(share - chance);
      lean += (share - chance) * (chance - 0.5);
      span += (chance - 0.5) ** 2;
    };
    const check = (given: {
      deck: { humidityPct: number; celsius: number };
      humidityRatio: number;
      temperatureK: number;
    }) => {
      const { icing, weather, drawn } = drawAlong({
        axis,
        pointCount: 60,
        spacingM: 30_000,
        sources: [{ profileAt: () => moistDeck(given.deck), errors: { ...NO_ERROR, ...given } }],
      });
      for (let cell = 0; cell < axis.cellCount; cell += 1) {
        count(shareMarked(drawn, cell, MARK.ice), icing.icingProbability[cell]!);
        // Cloud is marked below 0 degC alone.
        if (weather.temperatureK[cell]! > FREEZING_K - 4 * given.temperatureK) continue;
        count(shareMarked(drawn, cell, MARK.moist), icing.cloudProbability[cell]!);
      }
    };
    const spread = (most: number) => fc.oneof(fc.constant(0), even(0, most));
    const given = fc.record({ deck: anyDeck, humidityRatio: spread(0.2), temperatureK: spread(1.5) });
    fc.assert(fc.property(given, check), { seed: 24, numRuns: 40 });
    const mean = deviations.reduce((sum, each) => sum + each, 0) / deviations.length;
    // 64 draws of nine correlation lengths: one standard deviation is 0.02 at most.
    expect(deviations.length).toBeGreaterThan(300);
    expect(Math.max(...deviations.map(Math.abs))).toBeLessThan(0.03);
    expect(Math.hypot(...deviations) / Math.sqrt(deviations.length)).toBeLessThan(0.006);
    expect(Math.abs(mean)).toBeLessThan(0.002);
    expect(Math.abs(lean / span), 'shares nearer to or further from a half than chances').toBeLessThan(0.002);
  });

  it('has ice in freezing rain no less often than its chance, nor more than rain or cloud apart would', () => {
    const profile = makeProfile({
      temperatureC: alongPoints([
        [1000, -4],
        [920, -4],
        [880, 3],
        [750, 3],
        [700, -1],
        [300, -30],
      ]),
      relativeHumidityPct: 97,
    });
    const { icing, drawn } = drawAlong({
      axis,
      pointCount: 60,
      spacingM: 30_000,
      sources: [{ profileAt: () => profile }],
    });
    const cell = cellAt(950);
    const [rain, cloud] = [icing.largeDropProbability[cell]!, icing.cloudProbability[cell]!];
    expect(rain).toBeGreaterThan(0.4);
    const share = shareMarked(drawn, cell, MARK.ice);
    expect(share).toBeGreaterThan(icing.icingProbability[cell]! - 0.03);
    expect(share).toBeLessThan(1 - (1 - rain) * (1 - cloud) + 0.03);
    expect(Math.abs(shareMarked(drawn, cell, MARK.largeDrops) - rain)).toBeLessThan(0.03);
  });

  it('counts each intensity with all that are worse, as its marks do; ice is moist, and nothing grows without it', () => {
    let icy = 0;
    fc.assert(
      fc.property(fc.array(changingSource, { minLength: 1, maxLength: 3 }), fc.nat(32), (sources, hole) => {
        const holed = sources.map((source) => ({
          ...source,
          profileAt: (point: number) => holedAt(source, point, hole),
        }));
        const { icing, drawn } = drawAlong({ axis, pointCount: 6, spacingM: 40_000, sources: holed });
        icy += drawn.marks.filter((mark) => (mark & MARK.ice) !== 0).length;
        expect(faultsOf(drawn)).toEqual([]);
        expect(wrongShares(drawn, icing.state)).toEqual([]);
      }),
      { seed: 25, numRuns: 40 },
    );
    expect(icy).toBeGreaterThan(10_000);
  });
});

/** The source's profile there, one of its levels without humidity at every third point. */
function holedAt(source: SourceAlong, point: number, level: number): Profile {
  const profile = source.profileAt(point);
  if (point % 3 !== 0) return profile;
  const relativeHumidityRatio = profile.relativeHumidityRatio.slice();
  relativeHumidityRatio[level] = Number.NaN;
  return { ...profile, relativeHumidityRatio };
}

function faultsOf({ marks, growthMps, catchKgPerM2S }: DrawnIcing): string[] {
  return [...marks].flatMap((mark, index) => {
    const [isMoist, isIce, hasLargeDrops] = [MARK.moist, MARK.ice, MARK.largeDrops].map(
      (bit) => (mark & bit) !== 0,
    );
    const isNone = intensityOfMark(mark) === INTENSITY.none;
    const isGrowing = growthMps[index]! > 0 || catchKgPerM2S[index]! > 0;
    const isRight = isIce ? isMoist && !isNone : isNone && !hasLargeDrops && !isGrowing;
    return isRight ? [] : [`mark ${mark} at ${index}, growth ${growthMps[index]}`];
  });
}

/** Cells whose probabilities are not the shares of draws counted here, or not NaN where the cell is unknown. */
function wrongShares({ drawCount, marks, probabilityAtLeast }: DrawnIcing, state: Uint8Array): string[] {
  const words = ['trace', 'light', 'moderate', 'severe'] as const;
  return words.flatMap((word) =>
    [...state].flatMap((code, index) => {
      const found = probabilityAtLeast[word][index]!;
      const drawn = marks.subarray(index * drawCount, (index + 1) * drawCount);
      const share = drawn.filter((mark) => intensityOfMark(mark) >= INTENSITY[word]).length / drawCount;
      const isRight = code === CELL_STATE.known ? found === share : Number.isNaN(found) && share === 0;
      return isRight ? [] : [`${word} at ${index}: ${found}, ${share} drawn`];
    }),
  );
}
