import { describe, expect, it } from 'vitest';
import type { Brief, CurtainAnswer } from '../../web/src/contract.ts';
import {
  airOfCell,
  cellAt,
  hasConsistentLengths,
  nearestPointIndex,
  stretchOfPoint,
} from '../../web/src/curtain.ts';
import { lookOf } from '../../web/src/look.ts';
import { readoutAt, readoutSentence, windText } from '../../web/src/readout/values.ts';

/** Two points, three cells of 500 ft from -500 ft; the second point's upper two cells have no data. */
function curtain(): CurtainAnswer {
  const quantity = (unit: string, scale: number, values: (number | null)[]) => ({ unit, scale, values });
  return {
    pointCount: 2,
    cellCount: 3,
    distanceNm: [0, 10],
    etaUtc: ['2026-01-14T11:30:00Z', '2026-01-14T11:34:00Z'],
    latDeg: [44, 44],
    lonDeg: [-73, -72],
    lowestFt: -500,
    cellDepthFt: 500,
    quantities: {
      temperature: quantity('degC', 0.1, [-20, -31, -42, -25, null, null]),
      relativeHumidityWater: quantity('%', 1, [80, 99, 60, 70, null, null]),
      icingProbability: quantity('ratio', 0.01, [0, 62, 5, 0, null, null]),
      wingGrowth: quantity('mm/min', 0.01, [0, 31, 0, 0, null, null]),
      liquidWater: quantity('g/m3', 0.01, [0, 12, 0, 0, null, null]),
      intensity: quantity('code', 1, [0, 2, 0, 0, null, null]),
      iceKind: quantity('code', 1, [0, 3, 0, 0, null, null]),
      largeDrops: quantity('code', 1, [0, 0, 0, 0, null, null]),
      windFrom: quantity('deg true', 1, [264, 266, 268, 270, null, null]),
      windSpeed: quantity('kt', 1, [21, 24, 28, 20, null, null]),
    },
    state: [0, 0, 0, 0, 1, 1],
    stateWords: ['known', 'no-data'],
  };
}

function brief(cells: CurtainAnswer | undefined, features: readonly object[] = []): Brief {
  const points = [
    { distanceNm: 0, etaUtc: '2026-01-14T11:30:00Z' },
    { distanceNm: 10, etaUtc: '2026-01-14T11:34:00Z' },
  ];
  return {
    brief: { leg: { points }, ...(cells === undefined ? {} : { curtain: cells }) },
    features,
  } as unknown as Brief;
}

describe('cellAt', () => {
  it('gives a value its scale', () => {
    expect(cellAt(curtain(), 0, 250).value('temperature')).toBeCloseTo(-3.1, 9);
  });

  it('has no value at all where the cell is not known', () => {
    const cell = cellAt(curtain(), 1, 250);
    expect(cell.state).toBe('no-data');
    expect(cell.value('icingProbability')).toBeUndefined();
  });

  it.each([-501, 1000, 40000])('is outside the data’s levels at %i ft', (altitudeFt) => {
    expect(cellAt(curtain(), 0, altitudeFt).state).toBe('outside-profile');
  });

  it('reads a state code that it does not know as no data', () => {
    expect(cellAt({ ...curtain(), state: [9, 0, 0, 0, 1, 1] }, 0, -250).state).toBe('no-data');
  });

  it('looks unknown when the answer lacks a quantity that the look needs', () => {
    const { icingProbability: _dropped, ...quantities } = curtain().quantities;
    const cell = cellAt({ ...curtain(), quantities } as CurtainAnswer, 0, 250);
    expect(lookOf(airOfCell(cell)).kind).toBe('unknown');
  });
});

it('hasConsistentLengths refuses one value too few', () => {
  const short = curtain();
  short.quantities.temperature!.values.pop();
  expect(hasConsistentLengths(curtain())).toBe(true);
  expect(hasConsistentLengths(short)).toBe(false);
});

it('stretches of points meet half-way and cover the leg', () => {
  expect([0, 1, 2].map((index) => stretchOfPoint([0, 10, 30], index))).toEqual([
    { fromNm: 0, toNm: 5 },
    { fromNm: 5, toNm: 20 },
    { fromNm: 20, toNm: 30 },
  ]);
});

it('nearestPointIndex finds the nearer neighbor', () => {
  expect([nearestPointIndex([0, 10, 30], 4), nearestPointIndex([0, 10, 30], 21)]).toEqual([0, 2]);
});

describe('the readout', () => {
  it('says ice with its kind as "clear ice", never as a bare word', () => {
    const sentence = readoutSentence(readoutAt(brief(curtain()), 0, 250));
    expect(sentence).toContain('light clear ice');
    expect(sentence.replaceAll('clear ice', '')).not.toMatch(/\bclear\b/);
  });

  it('says place and time', () => {
    expect(readoutSentence(readoutAt(brief(curtain()), 5, 250))).toMatch(/^250 ft at 5 NM, 11:32 UTC: /);
  });

  it('says unknown and why, and no values, where there is no data', () => {
    expect(readoutSentence(readoutAt(brief(curtain()), 10, 250))).toBe(
      '250 ft at 10 NM, 11:34 UTC: unknown: no data.',
    );
  });

  it('says unknown for a single value that is missing in a known cell', () => {
    const cells = curtain();
    cells.quantities.windSpeed!.values[1] = null;
    const readout = readoutAt(brief(cells), 0, 250);
    expect(readout.kind === 'values' && readout.values.find(({ label }) => label === 'wind')?.text).toBe(
      'unknown',
    );
  });

  it.each([
    [0.2, 0.31, 0.05],
    [0.2, 0.1, 0.4],
    [0, 0, 0.02],
  ])('a whole of %d is never shown below its parts of %d and %d', (whole, light, moderate) => {
    const cells = curtain();
    const of = (ratio: number) => ({ unit: 'ratio', scale: 0.01, values: Array(6).fill(ratio * 100) });
    Object.assign(cells.quantities, {
      icingProbability: of(whole),
      lightOrWorseProbability: of(light),
      moderateOrWorseProbability: of(moderate),
    });
    const readout = readoutAt(brief(cells), 0, 250);
    const shown = ['chance of ice', 'light or worse', 'moderate or worse'].map((label) => {
      const text = readout.kind === 'values' && readout.values.find((one) => one.label === label)?.text;
      return text === 'under 2 %' ? 0 : Number.parseInt(text || '', 10);
    });
    expect(shown).toEqual(shown.toSorted((a, b) => b - a));
    expect(shown).not.toContain(Number.NaN);
  });

  it('says that an answer without cells carries no values', () => {
    expect(readoutAt(brief(undefined), 0, 0).kind).toBe('no-cells');
  });

  it('writes wind from the north as 360°', () => {
    expect(windText(2, 13)).toBe('360° 15 kt');
  });
});
