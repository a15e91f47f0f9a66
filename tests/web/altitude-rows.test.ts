import { describe, expect, it } from 'vitest';
import { unknownWords } from '../../web/src/answer/unknown-stretches.ts';
import type { Brief, Candidate, CurtainAnswer } from '../../web/src/contract.ts';
import { altitudeRange, shownCandidates } from '../../web/src/section/scales.ts';
import { gatheredRows, notShownWords } from '../../web/src/table/rows.ts';

const flown = {} as Candidate['exposure'];

function candidate(
  altitudeFt: number,
  standing: Candidate['standing'],
  exposure: Candidate['exposure'] = null,
): Candidate {
  return { altitudeFt, standing, exposure, profile: [{ fromNm: 0, altitudeFt }] } as Candidate;
}

const candidates = [
  candidate(14000, 'leg-too-short'),
  candidate(13000, 'leg-too-short'),
  candidate(12000, 'acceptable', flown),
  candidate(11000, 'recommended', flown),
  candidate(10000, 'below-minimum-altitude'),
];

const briefOf = (alternatives: Candidate[], cloudTopsFt: number[] = []) =>
  ({
    brief: { alternatives },
    features: cloudTopsFt.map((upperFt) => ({ properties: { kind: 'cloud-band', upperFt } })),
  }) as unknown as Brief;

describe('the altitude axis', () => {
  it('ends over the highest altitude that can be flown', () => {
    const brief = briefOf(candidates);
    const range = altitudeRange(brief);
    expect(range.highestFt).toBeGreaterThan(12000);
    expect(shownCandidates(brief.brief, range).map((one) => one.altitudeFt)).toEqual([12000, 11000, 10000]);
  });

  it('reaches over the tops of cloud that is higher', () => {
    expect(altitudeRange(briefOf(candidates, [12800])).highestFt).toBeGreaterThan(13800);
  });

  it('is not stretched to cloud far above all that can be flown', () => {
    const high = [candidate(25000, 'leg-too-short'), ...candidates];
    expect(altitudeRange(briefOf(high, [24000])).highestFt).toBeLessThan(16500);
  });

  it('has every candidate where none can be flown', () => {
    const none = candidates.map((one) => ({ ...one, exposure: null }));
    expect(altitudeRange(briefOf(none)).highestFt).toBeGreaterThan(14000);
  });
});

describe('rows', () => {
  it('that cannot be flown for one reason are one run; a single one keeps its row', () => {
    expect(gatheredRows(candidates).map((row) => row.kind)).toEqual([
      'run',
      'candidate',
      'candidate',
      'candidate',
    ]);
    expect(gatheredRows(candidates)[0]).toMatchObject({ lowerFt: 13000, upperFt: 14000 });
  });

  it('of two reasons are two runs', () => {
    const mixed = [
      ...candidates.slice(0, 2),
      candidate(12500, 'above-ceiling'),
      candidate(12400, 'above-ceiling'),
    ];
    expect(gatheredRows(mixed)).toHaveLength(2);
  });

  it('without a place on the axis are said in words', () => {
    expect(notShownWords(candidates.slice(0, 2))).toBe(
      'Not shown: 13,000 to 14,000 ft, the leg is too short to climb there',
    );
    expect(notShownWords([])).toBe('');
  });
});

describe('unknown in the headline', () => {
  const curtain = (states: number[]): CurtainAnswer =>
    ({
      pointCount: states.length,
      cellCount: 1,
      distanceNm: states.map((_, index) => index * 10),
      lowestFt: 0,
      cellDepthFt: 20000,
      quantities: {},
      state: states,
      stateWords: ['known', 'no-data', 'too-old'],
    }) as unknown as CurtainAnswer;
  const nine = candidate(9000, 'unknown', flown);
  const words = (states: number[]) =>
    unknownWords({ curtain: curtain(states) }, nine).replaceAll('\u2060', '');

  it('names place and cause', () => {
    expect(words([0, 0, 1, 1, 1])).toBe('No data 15–40 NM');
  });

  it('keeps two causes that touch apart', () => {
    expect(words([0, 1, 2])).toBe('No data 5–15 NM; Data too old 15–20 NM');
  });

  it('names each cause with its own places', () => {
    expect(words([1, 0, 2, 0, 1])).toBe('No data 0–5, 35–40 NM; Data too old 15–25 NM');
  });

  it('says nothing where all is known', () => {
    expect(words([0, 0, 0])).toBe('');
  });
});
