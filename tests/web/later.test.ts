import { describe, expect, it } from 'vitest';
import {
  isFlown,
  isRecommendedAt,
  type LaterCell,
  type LaterDeparture,
  laterBy,
  recommendedText,
  type Way,
  wayName,
} from '../../web/src/later/later-words.ts';

const departure = (more: Partial<LaterDeparture> = {}): LaterDeparture => ({
  departureUtc: '2026-01-14T12:30:00.000Z',
  verdict: { code: 'within-limits', sentence: 'File 11,000 ft' },
  recommendedAltitudeFt: 11000,
  profile: null,
  lacks: [],
  byAltitude: [],
  ...more,
});

describe('a later departure', () => {
  it.each([
    ['2026-01-14T12:30:00Z', '+1 h'],
    ['2026-01-14T13:00:00Z', '+1:30'],
    ['2026-01-15T00:30:00Z', '+13 h'],
  ])('at %s is %s after the leg', (at, words) => {
    expect(laterBy(at, '2026-01-14T11:30:00Z')).toBe(words);
  });

  it('marks its altitude to file, and no other', () => {
    for (const one of [departure(), departure({ profile: [{ fromNm: 0, altitudeFt: 11000 }] })])
      expect([isRecommendedAt(one, 11000), isRecommendedAt(one, 9000)]).toEqual([true, false]);
  });

  it('with a stepped profile names the levels and marks no single altitude', () => {
    const profile = [
      { fromNm: 0, altitudeFt: 9000 },
      { fromNm: 60, altitudeFt: 11000 },
    ];
    expect(recommendedText(departure({ profile }))).toBe('9,000 then 11,000');
    expect(isRecommendedAt(departure({ profile }), 11000)).toBe(false);
  });

  it('without an altitude to file says none', () => {
    expect(recommendedText(departure({ recommendedAltitudeFt: null }))).toBeUndefined();
  });

  it.each([
    ['leg-too-short', false],
    ['needs-oxygen', false],
    ['unknown', true],
    ['outside-limits', true],
  ] as const)('has at an altitude of standing %s a verdict: %s', (standing, flown) => {
    expect(isFlown({ standing } as LaterCell)).toBe(flown);
  });
});

it.each([
  [{ kind: 'cancel', id: 'cancel' }, 'Not going'],
  [{ kind: 'wait', id: 'wait', departureUtc: null }, 'Waiting'],
  [{ kind: 'wait', id: 'wait', departureUtc: '2026-01-14T13:30:00Z' }, 'Waiting until 13:30 UTC'],
  [{ kind: 'route', id: 'filed', routeText: 'A DCT B' }, 'As filed: A DCT B'],
  [{ kind: 'route', id: 'other-1', routeText: 'A DCT C DCT B' }, 'A DCT C DCT B'],
] as const)('the way %o is named "%s"', (way, name) => {
  expect(wayName(way as unknown as Way)).toBe(name);
});
