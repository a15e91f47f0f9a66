import { describe, expect, it } from 'vitest';
import type { BandFeature, Brief, Candidate, RoutePoint } from '../../web/src/contract.ts';
import { courseRadAt, stripAlong } from '../../web/src/plan/along-leg.ts';
import { wallFeatures, wallLines, wallOf } from '../../web/src/plan/curtain-wall.ts';
import { placeMarkLabels } from '../../web/src/plan/mark-places.ts';
import { bandPieces, levelsAlong } from '../../web/src/plan/plan-bands.ts';
import { marksBesideWall, type PlanMark, planMarks } from '../../web/src/plan/plan-marks.ts';
import { WORSE_WITHIN_FT, worseAir } from '../../web/src/plan/worse-air.ts';

const LENGTH_NM = 120;
const points = [0, 60, 120].map(
  (distanceNm): RoutePoint => ({
    distanceNm,
    latDeg: 0,
    lonDeg: distanceNm / 60,
    etaUtc: '2026-01-14T12:00:00Z',
    fix: distanceNm === 60 ? null : `AA${distanceNm}`,
    terrainFt: 0,
    minimumAltitudeFt: 2000,
  }),
);

type Properties = BandFeature['properties'];

function makeBand(
  id: string,
  edges: readonly [number, number, number, number],
  more: Partial<Properties> = {},
) {
  const [fromNm, toNm, lowerFt, upperFt] = edges;
  const properties: Properties = {
    kind: 'icing-band',
    fromNm,
    toNm,
    lowerFt,
    upperFt,
    state: 'known',
    intensity: 'none',
    iceKind: 'none',
    probability: 0,
    growthMmPerMin: 0,
    largeDrops: 'none',
    envelopeRatio: 0,
    ...more,
  };
  const geometry = { type: 'Polygon' as const, coordinates: [] };
  return { type: 'Feature' as const, id, geometry, properties };
}

const ice = (intensity: 'trace' | 'light' | 'moderate' | 'severe'): Partial<Properties> => ({
  intensity,
  iceKind: 'rime',
  probability: 0.8,
  growthMmPerMin: 0.5,
  envelopeRatio: 0.4,
});
const unknown: Partial<Properties> = {
  state: 'no-data',
  intensity: null,
  iceKind: null,
  probability: null,
  growthMmPerMin: null,
  largeDrops: null,
  envelopeRatio: null,
};

const bands = [
  makeBand('low', [0, 60, 0, 5000], ice('moderate')),
  makeBand('low-unknown', [60, 120, 0, 5000], unknown),
  makeBand('middle', [0, 120, 5000, 9000]),
  makeBand('high', [0, 120, 9000, 30000], ice('light')),
];

function makeCandidate(
  profile: Candidate['profile'],
  way: NonNullable<Candidate['ways']>['way'] = ['not-needed', 'not-needed', 'not-needed'],
): Candidate {
  const altitudeFt = Math.max(...profile.map((level) => level.altitudeFt));
  const ways = {
    way,
    toAltitudeFt: [null, null, null],
    minutes: [null, null, null],
    builtMm: [null, null, null],
    aerodrome: [null, null, null],
  };
  return { altitudeFt, profile, ways, exposure: {} } as unknown as Candidate;
}

function makeBrief(features: readonly unknown[] = bands): Brief {
  return {
    features,
    brief: {
      leg: { points, distanceNm: LENGTH_NM },
      limits: { corridorHalfWidthNm: 10 },
      alternatives: [7000, 12000].map((altitudeFt) => makeCandidate([{ fromNm: 0, altitudeFt }])),
    },
  } as unknown as Brief;
}

const level = (altitudeFt: number) => levelsAlong(undefined, altitudeFt, LENGTH_NM);

describe('what the corridor is painted with', () => {
  it('of a stepped profile is the band of each level over its own stretch', () => {
    const stepped = makeCandidate([
      { fromNm: 0, altitudeFt: 7000 },
      { fromNm: 40, altitudeFt: 11000 },
    ]);
    const levels = levelsAlong(stepped, stepped.altitudeFt, LENGTH_NM);
    const pieces = bandPieces(bands, levels, { points, halfWidthNm: 10 });
    expect(pieces.map(({ band, fromNm, toNm }) => [band.id, fromNm, toNm])).toEqual([
      ['middle', 0, 40],
      ['high', 40, 120],
    ]);
    const [west, east] = [Math.min, Math.max].map((pick) =>
      pick(...(pieces[0]!.geometry.coordinates[0] as number[][]).map(([lonDeg]) => lonDeg!)),
    );
    expect([west, east]).toEqual([expect.closeTo(0, 6), expect.closeTo(40 / 60, 6)]);
  });

  it('of one altitude is the bands’ own ground, untouched', () => {
    const pieces = bandPieces(bands, level(3000), { points, halfWidthNm: 10 });
    expect(pieces.map(({ band }) => band.id)).toEqual(['low', 'low-unknown']);
    for (const { band, geometry } of pieces) expect(geometry).toBe(band.geometry);
  });

  it('stripAlong is as wide as asked, on both sides of the leg', () => {
    const ring = stripAlong(points, { fromNm: 30, toNm: 90 }, 6).coordinates[0]!;
    expect(ring[0]).toEqual(ring.at(-1));
    expect(Math.max(...ring.map(([, latDeg]) => latDeg))).toBeCloseTo(0.1, 6);
    expect(Math.min(...ring.map(([, latDeg]) => latDeg))).toBeCloseTo(-0.1, 6);
    expect(courseRadAt(points, 30)).toBeCloseTo(Math.PI / 2, 6);
  });
});

describe('worse air near the altitude', () => {
  it('is told above and below, with unknown as unknown', () => {
    const found = worseAir(bands, level(6500)).map(({ side, fromNm, toNm, inShort }) => [
      side,
      fromNm,
      toNm,
      inShort,
    ]);
    expect(found).toEqual([
      ['below', 0, 60, 'moderate'],
      ['below', 60, 120, 'unknown'],
    ]);
  });

  it('is not told where the altitude itself is as bad', () => {
    expect(worseAir(bands, level(3000)).map(({ side, inShort }) => [side, inShort])).toEqual([]);
  });

  it(`is looked for within ${WORSE_WITHIN_FT} ft and no further`, () => {
    expect(worseAir(bands, level(7001)).map(({ side }) => side)).toEqual(['above']);
    expect(worseAir(bands, level(6999)).some(({ side }) => side === 'above')).toBe(false);
  });

  it('counts air that no band covers as unknown', () => {
    const torn = bands.filter(({ id }) => id !== 'high');
    expect(worseAir(torn, level(8000)).map(({ side, inShort }) => [side, inShort])).toEqual([
      ['above', 'unknown'],
    ]);
  });
});

describe('marks', () => {
  const source = (id: string, name: string) => ({
    id,
    geometry: { type: 'Point', coordinates: [1, 1] },
    properties: { kind: 'source', name, dataId: id, validUtc: '', distanceNm: 10 },
  });
  const report = {
    id: 'report-1',
    geometry: { type: 'Point', coordinates: [0.5, 0] },
    properties: {
      kind: 'report',
      reportKind: 'pirep',
      severity: 'severe',
      issuedUtc: '2026-01-14T11:00:00Z',
    },
  };

  it('come in the order of what must be seen: aerodromes, no way out, reports, worse air, ways, stations', () => {
    const brief = makeBrief([...bands, source('a', '00901'), report]);
    const candidate = makeCandidate([{ fromNm: 0, altitudeFt: 6500 }], ['up', 'none', 'none']);
    const marks = planMarks(brief, candidate, level(6500));
    expect(marks.map((mark) => (mark.kind === 'way' ? mark.way : mark.kind))).toEqual([
      'fix',
      'fix',
      'none',
      'report',
      'worse',
      'worse',
      'up',
      'station',
    ]);
    expect(marksBesideWall(marks).map(({ kind }) => kind)).toEqual(['fix', 'fix', 'way', 'report']);
  });

  it('of a way out that is not needed there is none', () => {
    const marks = planMarks(makeBrief(), makeCandidate([{ fromNm: 0, altitudeFt: 6500 }]), level(6500));
    expect(marks.filter(({ kind }) => kind === 'way')).toEqual([]);
  });

  it('name a station once, however many of its ascents are there', () => {
    const marks = planMarks(makeBrief([source('a', '00901'), source('b', '00901')]), undefined, level(6500));
    expect(marks.filter(({ kind }) => kind === 'station').map(({ words }) => words)).toEqual([['00901'], []]);
  });
});

describe('placeMarkLabels', () => {
  const frame = { widthPx: 300, heightPx: 200, prefersUnder: false };
  const named = (kind: 'fix' | 'station', id: string, x: number, y: number) => ({
    mark: { kind, id, place: [0, 0], words: [id] } as PlanMark,
    x,
    y,
  });

  it('gives an aerodrome its place and lets a station beside it go without a name', () => {
    const stations = ['00001', '00002', '00003', '00004', '00005', '00006'].map((id, index) =>
      named('station', id, 140 + index * 5, 100),
    );
    const labels = placeMarkLabels([named('fix', 'KBTV', 150, 100), ...stations], frame);
    expect(labels[0]).toMatchObject({ id: 'KBTV', words: 'KBTV', x: 150 });
    expect(labels.length).toBeLessThan(7);
  });

  it('lets no two names overlap and none leave the picture', () => {
    const marks = Array.from({ length: 30 }, (_, index) =>
      named(index < 3 ? 'fix' : 'station', `ZZ${index}`, (index * 37) % 300, (index * 53) % 200),
    );
    const boxes = placeMarkLabels(marks, frame).map(({ x, y, words }) => ({
      x,
      y,
      half: words.length * 3.2,
    }));
    expect(boxes.length).toBeGreaterThan(10);
    for (const [index, one] of boxes.entries()) {
      expect(one.x - one.half).toBeGreaterThan(0);
      expect(one.x + one.half).toBeLessThan(300);
      for (const other of boxes.slice(index + 1)) {
        const isApart = Math.abs(one.x - other.x) >= one.half + other.half || Math.abs(one.y - other.y) >= 11;
        expect(isApart, `${JSON.stringify(one)} ${JSON.stringify(other)}`).toBe(true);
      }
    }
  });
});

describe('the standing curtain', () => {
  const brief = makeBrief();
  const wall = wallOf(brief);

  it('is papered with the bands of the cross-section, each once, and unknown is never paper', () => {
    const drawn = wallFeatures(brief, wall).features.flatMap(({ properties }) =>
      properties?.featureId === undefined ? [] : [[properties.featureId, properties.picture]],
    );
    expect(drawn).toEqual([
      ['low', 'wall moderate'],
      ['low-unknown', 'wall unknown'],
      ['middle', 'wall paper'],
      ['high', 'wall light'],
    ]);
  });

  it('shows what no band covers as unknown, all along and all the way up', () => {
    const [backing] = wallFeatures(makeBrief([]), wall).features;
    expect(backing!.properties).toMatchObject({ picture: 'wall unknown', baseM: 0 });
    const ring = backing!.geometry.coordinates[0]!;
    expect(Math.max(...ring.map(([lonDeg]) => lonDeg!))).toBeCloseTo(LENGTH_NM / 60, 6);
    const tops = wallFeatures(brief, wall).features.map(({ properties }) => properties?.topM as number);
    expect(backing!.properties?.topM).toBe(Math.max(...tops));
  });

  it('draws every height so many times as large as distances, as it says', () => {
    const [low] = wallFeatures(brief, wall).features;
    const fromFootFt = 5000 - wall.lowestFt;
    expect(low!.properties?.topM).toBeCloseTo(fromFootFt * 0.3048 * wall.exaggeration, 6);
    expect(wall.exaggeration).toBeGreaterThan(1);
  });

  it('carries a line at each level that is considered, over its stretch', () => {
    const stepped = makeCandidate([
      { fromNm: 0, altitudeFt: 5000 },
      { fromNm: 60, altitudeFt: 7000 },
    ]);
    const lines = wallLines(wall, levelsAlong(stepped, 7000, LENGTH_NM), 30).features;
    const levels = lines.filter(({ properties }) => properties?.line === 'level');
    const middles = levels.map(({ properties }) => (properties!.baseM + properties!.topM) / 2);
    expect(middles[1]! - middles[0]!).toBeCloseTo(2000 * 0.3048 * wall.exaggeration, 6);
  });
});
