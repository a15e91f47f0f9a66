import { describe, expect, it } from 'vitest';
import {
  bestOf,
  type Choosable,
  candidateOf,
  givenFromText,
  givenText,
  levelAtFt,
  levelsText,
  waysOf,
} from '../../web/src/considered.ts';
import type { Candidate, RoutePoint } from '../../web/src/contract.ts';

function candidate(altitudeFt: number, more: Partial<Candidate> = {}): Candidate {
  return { altitudeFt, profile: [{ fromNm: 0, altitudeFt }], rank: null, ...more } as Candidate;
}

const stepped = candidate(11000, {
  profile: [
    { fromNm: 0, altitudeFt: 9000 },
    { fromNm: 80, altitudeFt: 11000 },
  ],
});

function choosable(more: Partial<Choosable> = {}): Choosable {
  return {
    file: { altitudeFt: 11000 } as Choosable['file'],
    alternatives: [candidate(11000), candidate(9000)],
    stepped: null,
    recommended: candidate(11000),
    ...more,
  };
}

describe('what is considered', () => {
  it('begins with the altitude to file', () => {
    expect(bestOf(choosable())).toEqual({ altitudeFt: 11000, isStepped: false });
  });

  it('begins with the stepped profile where that is recommended', () => {
    const brief = choosable({ recommended: stepped });
    const best = bestOf(brief)!;
    expect(best.isStepped).toBe(true);
    expect(candidateOf(brief, best)).toBe(stepped);
  });

  it('begins with the least bad altitude where there is none to file', () => {
    const alternatives = [candidate(11000, { rank: 2 }), candidate(9000, { rank: 1 })];
    expect(bestOf(choosable({ file: null, recommended: null, alternatives }))?.altitudeFt).toBe(9000);
  });
});

describe('what was given, in the address', () => {
  it('is not written while the altitude to file is considered', () => {
    expect(givenText({ altitudeFt: 11000, isStepped: false }, choosable())).toBeUndefined();
  });

  it.each([
    { altitudeFt: 9000, isStepped: false },
    { altitudeFt: 11000, isStepped: true },
  ])('comes back as it was written: $altitudeFt ft, stepped $isStepped', (given) => {
    const brief = choosable({ stepped });
    expect(givenFromText(givenText(given, brief), brief)).toEqual(given);
  });

  it.each(['8000', 'high', '', 'stepped'])('"%s" is nothing that this brief has figures of', (text) => {
    expect(givenFromText(text, choosable())).toBeUndefined();
  });
});

describe('a stepped profile', () => {
  it('is named by its levels', () => {
    expect(levelsText(stepped)).toBe('9,000 then 11,000');
  });

  it.each([
    [0, 9000],
    [79.9, 9000],
    [80, 11000],
    [180, 11000],
  ])('is over %i NM at %i ft', (nm, feet) => {
    expect(levelAtFt(stepped, nm)).toBe(feet);
  });
});

describe('ways out of a candidate', () => {
  const points = [{ distanceNm: 0 }, { distanceNm: 10 }] as RoutePoint[];

  it('stand at the points of the route', () => {
    const ways = {
      way: ['up', 'none'],
      toAltitudeFt: [9000, null],
      minutes: [2, null],
      builtMm: [0.1, null],
      aerodrome: [null, null],
    } as Candidate['ways'];
    expect(waysOf(candidate(7000, { ways }), points)).toMatchObject([
      { distanceNm: 0, way: 'up', toAltitudeFt: 9000 },
      { distanceNm: 10, way: 'none' },
    ]);
  });

  it('are unknown where the answer has too few, never not needed', () => {
    const ways = {
      way: ['up'],
      toAltitudeFt: [],
      minutes: [],
      builtMm: [],
      aerodrome: [],
    } as Candidate['ways'];
    expect(waysOf(candidate(7000, { ways }), points)[1]?.way).toBe('unknown');
  });

  it('are none at all where none were worked out', () => {
    expect(waysOf(candidate(7000, { ways: null }), points)).toEqual([]);
  });
});
