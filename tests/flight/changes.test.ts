/** What would change the decision. */
import { describe, expect, test } from 'vitest';
import type { ChooseInput } from '../../worker/flight/types.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { choose, codesOf } from './choose.ts';
import {
  type CellAt,
  DRY,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
} from './make-curtain.ts';

const changes = (cellAt: CellAt, altitudesFt: readonly number[], change: Partial<ChooseInput> = {}) =>
  choose(cellAt, {
    aircraft: ROUND_AIRCRAFT,
    candidateAltitudesM: altitudesFt.map(mFromFt),
    planned: NOTHING_PLANNED,
    ...change,
  }).changes;

describe('the facts that would change the decision', () => {
  test('in dry air are none', () => {
    expect(changes(DRY, [9000])).toEqual([]);
  });

  // At 11,000 ft 22 NM of climb and 55 of descent leave 109 NM of cruise: 36.3 min. The cell flown begins at 11,000 ft, the last of
  // the deck at 8,500: five steps of 500 ft.
  test('higher tops are named with the height that brings the ice to the cruise', () => {
    expect(changes(layer(0, 9000, LIGHT_ICE), [11000])).toEqual([
      {
        code: 'if-tops-are-higher',
        sentence: 'If tops are 2,500 ft higher, 11,000 ft is in ice for 35 min more',
        numbers: { higherFt: 2500, moreMinutes: 36, altitudeFt: 11000 },
      },
    ]);
    expect(codesOf(changes(layer(0, 6500, LIGHT_ICE), [11000]))).toEqual([]);
  });

  test('colder air is named where cloud on the cruise is too warm by a little', () => {
    const warmCloud = (temperatureC: number) =>
      changes(layer(11000, 11500, { cloudProbability: 0.9, temperatureC }), [11000]);
    expect(warmCloud(1.5)[0]).toMatchObject({
      code: 'if-air-is-colder',
      sentence: 'If it is 2 °C colder, 35 min of cloud on the cruise is below freezing',
      numbers: { colderC: 2, moreMinutes: 36 },
    });
    expect(warmCloud(4.5)).toEqual([]);
  });

  // 9 min in the deck need 4 + 4.05 + 13.5 = 21.55 L.
  test('fluid is named when a quarter or less of it is left over', () => {
    const left = (onBoardL: number) =>
      changes(layer(6000, 9000, LIGHT_ICE), [15000], { fluidOnBoardM3: onBoardL / 1000 });
    expect(left(28)[0]).toMatchObject({
      code: 'if-more-fluid-is-used',
      // 6 L, said as what is surely there.
      sentence: expect.stringMatching(/^Only 5 L of fluid to spare/),
    });
    expect(left(30)).toEqual([]);
  });

  test('the next altitude is named when it has more ice or none is within limits', () => {
    const severe = { ...LIGHT_ICE, intensity: 4 };
    expect(changes(layer(8500, 9500, LIGHT_ICE), [5000, 9000])[0]).toMatchObject({
      code: 'if-not-given',
      numbers: { nextAltitudeFt: 9000 },
    });
    expect(changes(layer(8500, 9500, severe), [5000, 9000])[0]).toMatchObject({
      sentence: 'If 5,000 ft is not given, no other altitude is within limits',
    });
  });

  test('are three at most', () => {
    const sky: CellAt = (_, middleFt) => {
      if (middleFt > 7000 && middleFt < 9000) return LIGHT_ICE;
      return middleFt > 11000 && middleFt < 11500 ? { cloudProbability: 0.9, temperatureC: 1 } : {};
    };
    const found = codesOf(changes(sky, [8000, 11000], { fluidOnBoardM3: 0.025 }));
    expect(found).toEqual(['if-tops-are-higher', 'if-air-is-colder', 'if-more-fluid-is-used']);
  });
});

describe('when only fluid is short', () => {
  // 186 NM at 4,000 ft in moderate icing take 68 min: more than 60 L at 0.9 L/min, 4 and 13.5.
  test('the quantity that would do is named', () => {
    const [first, ...more] = changes(layer(0, 4500, MODERATE_ICE, [0, 20]), [4000], { fluidOnBoardM3: 0.03 });
    expect(first).toMatchObject({ code: 'with-more-fluid' });
    expect(more).toEqual([]);
  });

  test('nothing is promised that the tank does not hold', () => {
    // With hold and approach the leg needs 130 L, and the tank holds 80.
    const found = changes(layer(0, 9000, MODERATE_ICE), [8000], { fluidOnBoardM3: 0.08, planned: undefined });
    expect(codesOf(found)).not.toContain('with-more-fluid');
  });

  test('nothing is promised while another limit stands', () => {
    const aircraft = { ...ROUND_AIRCRAFT, icedCeilingM: mFromFt(7000) };
    const found = changes(layer(6000, 9000, MODERATE_ICE, [0, 20]), [8000], {
      fluidOnBoardM3: 0.03,
      aircraft,
    });
    expect(codesOf(found)).not.toContain('with-more-fluid');
  });
});
