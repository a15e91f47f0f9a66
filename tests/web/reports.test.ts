import { describe, expect, it } from 'vitest';
import type { Brief } from '../../web/src/contract.ts';
import { heightWords } from '../../web/src/data/height-words.ts';
import { reportMarks, warningAreas, worstFirst } from '../../web/src/plan/report-marks.ts';

const feature = (id: string, kind: 'report' | 'warning', severity: string, change: object = {}) => ({
  id,
  geometry: { type: 'Point', coordinates: [-71, 44] },
  properties: { kind, severity, reportKind: 'metar', issuedUtc: '2026-01-14T12:00:00Z', ...change },
});
const briefOf = (...features: object[]) => ({ features }) as unknown as Brief;

describe('reportMarks', () => {
  it('marks a place once, by its most serious report', () => {
    const brief = briefOf(
      feature('a', 'report', 'unstated'),
      feature('b', 'report', 'large-drops', { reportKind: 'taf' }),
      {
        ...feature('c', 'report', 'moderate', { reportKind: 'pirep' }),
        geometry: { type: 'Point', coordinates: [-70, 44] },
      },
    );
    expect(reportMarks(brief)).toEqual([
      { id: 'b', lonDeg: -71, latDeg: 44, letter: 'F', isSerious: true },
      { id: 'c', lonDeg: -70, latDeg: 44, letter: 'P', isSerious: false },
    ]);
  });

  it('has none for a report without a place, nor for a warning', () => {
    const brief = briefOf(
      { ...feature('a', 'report', 'severe'), geometry: null },
      feature('b', 'warning', 'severe'),
    );
    expect(reportMarks(brief)).toEqual([]);
  });
});

it('warningAreas gives each area once, and none that is unknown', () => {
  const area = {
    type: 'Polygon',
    coordinates: [
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 0],
      ],
    ],
  };
  const brief = briefOf(
    { ...feature('a', 'warning', 'severe'), geometry: area },
    { ...feature('a-2', 'warning', 'severe'), geometry: area },
    { ...feature('b', 'warning', 'severe'), geometry: null },
  );
  expect(warningAreas(brief)).toHaveLength(1);
});

it('worstFirst puts the newer of equals first', () => {
  const order = worstFirst([
    feature('old', 'report', 'severe', { issuedUtc: '2026-01-14T11:00:00Z' }),
    feature('new', 'report', 'severe'),
    feature('worst', 'report', 'large-drops', { issuedUtc: '2026-01-14T10:00:00Z' }),
  ] as never[]);
  expect(order.map((each: { id: string }) => each.id)).toEqual(['worst', 'new', 'old']);
});

it.each([
  [null, null, 'at every altitude'],
  [null, 6067, 'below 6,500 ft'],
  [6067, null, 'above 6,000 ft'],
  [6067, 10100, '6,000 to 10,500 ft'],
])('heights from %j to %j are "%s", never thinner than they are', (lowerFt, upperFt, words) => {
  expect(heightWords(lowerFt, upperFt)).toBe(words);
});
