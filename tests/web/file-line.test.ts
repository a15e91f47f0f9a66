import { describe, expect, it } from 'vitest';
import { rangeText, refusedRanges, wayStretches } from '../../web/src/answer/file-line.ts';
import { outsOf } from '../../web/src/answer/out-lines.ts';
import type { CurtainAnswer, RoutePoint, WayOut } from '../../web/src/contract.ts';

const way = (
  distanceNm: number,
  word: WayOut['way'],
  toAltitudeFt: number | null = null,
  more: Partial<WayOut> = {},
): WayOut => ({
  distanceNm,
  way: word,
  toAltitudeFt,
  minutes: null,
  builtMm: null,
  aerodrome: null,
  ...more,
});

/** One cell a point: 0 known, 1 without data. */
const curtain = (state: number[]) =>
  ({
    cellCount: 1,
    distanceNm: [0, 10],
    state,
    stateWords: ['known', 'no-data'],
  }) as unknown as CurtainAnswer;

const point = (distanceNm: number, minimumAltitudeFt: number | null) =>
  ({ distanceNm, minimumAltitudeFt }) as RoutePoint;

describe('refusedRanges', () => {
  it('says neighbors with one reason once', () => {
    const refuse = [
      { altitudeFt: 7000, reason: 'in the deck' },
      { altitudeFt: 9000, reason: 'top of the deck' },
      { altitudeFt: 8000, reason: 'in the deck' },
    ];
    const ranges = refusedRanges({ refuse, acceptFt: { lowerFt: 11_000, upperFt: 13_000 } });
    expect(ranges).toEqual([
      { lowerFt: 9000, upperFt: 9000, reason: 'top of the deck' },
      { lowerFt: 7000, upperFt: 8000, reason: 'in the deck' },
    ]);
  });

  it('never spans what may be accepted', () => {
    const refuse = [9000, 10_000, 12_000].map((altitudeFt) => ({ altitudeFt, reason: 'fluid short' }));
    const ranges = refusedRanges({ refuse, acceptFt: { lowerFt: 11_000, upperFt: 11_000 } });
    expect(ranges.map(({ lowerFt, upperFt }) => [lowerFt, upperFt])).toEqual([
      [12_000, 12_000],
      [9000, 10_000],
    ]);
  });

  it('writes one altitude as one figure', () => {
    expect([
      rangeText({ lowerFt: 9000, upperFt: 9000 }),
      rangeText({ lowerFt: 9000, upperFt: 11000 }),
    ]).toEqual(['9,000', '9,000 to 11,000']);
  });
});

describe('ways out', () => {
  it('join to stretches that cover the leg without a gap', () => {
    const stretches = wayStretches([
      way(0, 'up', 9000),
      way(10, 'up', 9000),
      way(20, 'none'),
      way(30, 'none'),
    ]);
    expect(stretches).toMatchObject([
      { fromNm: 0, toNm: 15, way: 'up', toAltitudeFt: 9000 },
      { fromNm: 15, toNm: 30, way: 'none', toAltitudeFt: null },
    ]);
  });

  it('joined, tell the farthest altitude, the longest time and the most ice of their points', () => {
    const [stretch] = wayStretches([
      way(0, 'up', 10500, { minutes: 2, builtMm: 0.3 }),
      way(10, 'up', 11000, { minutes: 7, builtMm: 0.1 }),
      way(20, 'up', 10500, { minutes: 3, builtMm: 0.2 }),
    ]);
    expect(stretch).toMatchObject({ toNm: 20, toAltitudeFt: 11000, minutes: 7, builtMm: 0.3 });
  });

  it('to altitudes further apart than 500 ft stay apart, however they come', () => {
    const targets = (...feet: number[]) =>
      wayStretches(feet.map((ft, at) => way(10 * at, 'down', ft))).map(({ toAltitudeFt }) => toAltitudeFt);
    expect(targets(10_500, 10_500, 9500, 9500)).toEqual([10_500, 9500]);
    expect(targets(10_500, 10_000, 9500)).toEqual([10_000, 9500]);
    expect(targets(10_000, 10_500, 9500)).toEqual([10_000, 9500]);
  });

  it('to two aerodromes stay two', () => {
    expect(
      linesOf([
        way(0, 'aerodrome', null, { aerodrome: 'KBTV' }),
        way(10, 'aerodrome', null, { aerodrome: 'KBGR' }),
      ]),
    ).toEqual(['0–5 NM land at KBTV', '5–10 NM land at KBGR']);
  });

  it('that are unknown only for want of a minimum altitude say so', () => {
    const ways = [way(0, 'unknown'), way(10, 'unknown')];
    const words = (minimumFt: number | null, states: number[]) =>
      linesOf(ways, { points: [point(0, minimumFt), point(10, minimumFt)], curtain: curtain(states) })[0];
    expect(words(null, [0, 0])).toContain('for want of a minimum altitude');
    expect(words(5000, [0, 0])).not.toContain('minimum');
    expect(words(null, [0, 1])).not.toContain('minimum');
  });

  const mixed = [
    way(0, 'up', 9000),
    way(10, 'not-needed'),
    way(20, 'none'),
    way(30, 'unknown'),
    way(40, 'down', 5000),
  ];

  it('stand one line a stretch in the order of the leg, after those where there is none', () => {
    expect(linesOf(mixed)).toEqual([
      '!15–25 NM none',
      '!25–35 NM unknown',
      '0–5 NM climb to 9,000 ft',
      '35–40 NM descend to 5,000 ft',
    ]);
  });

  it.each<[readonly WayOut[], string]>([
    [mixed, 'up or down on part of the leg; none 15–25 NM; unknown 25–35 NM'],
    [
      [way(0, 'up', 9000), way(80, 'down', 5000), way(96, 'none'), way(100, 'none')],
      'down or up nearly everywhere; none 88–100 NM',
    ],
    [[way(0, 'up', 9000), way(10, 'up', 9000)], 'up everywhere'],
    [[way(0, 'up', 9000), way(10, 'not-needed')], 'up wherever needed'],
    [[way(0, 'none'), way(10, 'none')], 'none 0–10 NM'],
    [[way(0, 'not-needed'), way(10, 'not-needed')], 'not needed on the whole path'],
    [[], 'unknown'],
  ])('%# are summed up first', (ways, summary) => {
    expect(plain(outsOf(ways).summary)).toBe(summary);
  });
});

const plain = (text: string) => text.replaceAll('\u2060', '');

/** A bold line starts with "!". */
function linesOf(ways: readonly WayOut[], air?: Parameters<typeof outsOf>[1]): string[] {
  return outsOf(ways, air).lines.map(({ words, isBad }) => `${isBad ? '!' : ''}${plain(words)}`);
}
