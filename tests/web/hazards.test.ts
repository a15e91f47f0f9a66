import { describe, expect, it } from 'vitest';
import type { Brief, CurtainAnswer } from '../../web/src/contract.ts';
import { hazardSentence, hazardsAt, hazardWords } from '../../web/src/hazards.ts';
import { readoutAt, readoutSentence } from '../../web/src/readout/values.ts';
import { hazardBox, hazardWishes } from '../../web/src/section/hazard-places.ts';
import { placeLabels } from '../../web/src/section/label-places.ts';
import { makeSheet } from '../../web/src/section/scales.ts';

const hazard = (change: object = {}) => ({
  id: 'a',
  geometry: null,
  properties: {
    kind: 'warning',
    reportKind: 'sigmet',
    severity: 'severe',
    sentence: 'SIGMET 2: severe icing',
    issuedUtc: '2026-01-14T11:00:00Z',
    fromNm: 20,
    toNm: 60,
    lowerFt: 4000,
    upperFt: 10000,
    ...change,
  },
});
type Hazard = ReturnType<typeof hazardsAt>[number];
const asHazard = (change: object = {}) => hazard(change) as unknown as Hazard;

/** Dry air everywhere: one known cell a point, with no chance of ice. */
const dryCurtain = {
  pointCount: 2,
  cellCount: 1,
  distanceNm: [0, 100],
  etaUtc: [],
  lowestFt: 0,
  cellDepthFt: 20000,
  quantities: Object.fromEntries(
    ['icingProbability', 'intensity', 'iceKind', 'largeDrops'].map((name) => [
      name,
      { unit: '', scale: 1, values: [0, 0] },
    ]),
  ),
  state: [0, 0],
  stateWords: ['known'],
} as unknown as CurtainAnswer;

const briefOf = (...features: object[]) =>
  ({
    features,
    brief: {
      curtain: dryCurtain,
      leg: {
        points: [
          { distanceNm: 0, etaUtc: '2026-01-14T11:00:00Z' },
          { distanceNm: 100, etaUtc: '2026-01-14T12:00:00Z' },
        ],
      },
    },
  }) as unknown as Brief;

describe('hazardsAt', () => {
  it.each([
    [40, 7000, 1],
    [20, 4000, 1],
    [60, 10000, 1],
    [19.9, 7000, 0],
    [60.1, 7000, 0],
    [40, 3999, 0],
    [40, 10001, 0],
  ])('at %d NM and %d ft holds %i, edges included', (nm, ft, count) => {
    expect(hazardsAt(briefOf(hazard()), nm, ft)).toHaveLength(count);
  });

  it('holds at every altitude where no edge is stated', () => {
    const open = briefOf(hazard({ lowerFt: null, upperFt: null }));
    expect([0, 45000].map((feet) => hazardsAt(open, 40, feet).length)).toEqual([1, 1]);
  });
});

describe('the readout under a report or a warning', () => {
  const report = hazard({ kind: 'report', reportKind: 'pirep', sentence: 'light rime at 6,000 ft' });

  it('says it first, and never that no ice was found', () => {
    for (const feature of [hazard(), report]) {
      const sentence = readoutSentence(readoutAt(briefOf(feature), 40, 7000));
      expect(sentence.startsWith(`reported: ${feature.properties.sentence}`)).toBe(true);
      expect(sentence).not.toMatch(/no ice found/i);
    }
    expect(readoutSentence(readoutAt(briefOf(report), 80, 7000))).toContain('no ice found');
  });

  it('is unknown where some reports could not be read', () => {
    const notice = hazard({ reportKind: null, severity: 'unstated', sentence: 'Some reports not read' });
    const sentence = readoutSentence(readoutAt(briefOf(notice), 40, 7000));
    expect(sentence).toMatch(/^unknown: Some reports not read\. .*unknown: reports could not be read/);
    expect(hazardSentence(notice as unknown as Hazard)).not.toContain('reported');
  });
});

it.each([
  [{}, 'warning: severe ice'],
  [{ kind: 'report', reportKind: 'metar', severity: 'large-drops' }, 'reported: large drops'],
  [{ kind: 'report', reportKind: 'taf', severity: 'large-drops' }, 'forecast: large drops'],
  [{ reportKind: null, severity: 'unstated' }, 'reports not read'],
])('hazardWords of %j are "%s"', (change, words) => {
  expect(hazardWords(asHazard(change).properties)).toBe(words);
});

describe('hazardBox', () => {
  const sheet = makeSheet({
    widthPx: 700,
    rowPx: 24,
    range: { lowestFt: 0, highestFt: 12000, stepFt: 1000 },
    lengthNm: 100,
    margins: { left: 60, right: 40, top: 40, bottom: 46 },
  });

  it('stands over its stretch and its heights', () => {
    const { left, right, top, bottom } = hazardBox(asHazard(), sheet);
    expect(sheet.nmAt(left)).toBeCloseTo(20, 0);
    expect(sheet.nmAt(right)).toBeCloseTo(60, 0);
    expect(Math.abs(sheet.y(10000) - top)).toBeLessThan(3);
    expect(Math.abs(sheet.y(4000) - bottom)).toBeLessThan(3);
  });

  it('reaches the edges of the drawing where none is stated, and never leaves it', () => {
    const { plot } = sheet;
    for (const change of [
      { lowerFt: null, upperFt: null },
      { lowerFt: 30000, upperFt: 40000 },
      { lowerFt: -900, upperFt: -800, fromNm: 99.9, toNm: 120 },
    ]) {
      const box = hazardBox(asHazard(change), sheet);
      expect(box.left).toBeGreaterThanOrEqual(plot.left);
      expect(box.right).toBeLessThanOrEqual(plot.right);
      expect(box.top).toBeGreaterThanOrEqual(plot.top);
      expect(box.bottom).toBeLessThanOrEqual(plot.bottom);
      expect(Math.min(box.right - box.left, box.bottom - box.top)).toBeGreaterThanOrEqual(8 - 1e-9);
    }
    const whole = hazardBox(asHazard({ lowerFt: null, upperFt: null }), sheet);
    expect(whole.bottom - whole.top).toBeGreaterThan(plot.bottom - plot.top - 4);
  });

  it('has its words even where the stretch is narrower than they are', () => {
    const wishes = hazardWishes(asHazard({ fromNm: 40, toNm: 41 }), sheet);
    expect(wishes.some((wish) => placeLabels([wish], []).length === 1)).toBe(true);
  });
});
