import { describe, expect, test } from 'vitest';
import { inspectRoute } from '../../../worker/formats/route/inspect-route.ts';
import { type RoutePointItem, readRoute } from '../../../worker/formats/route/read-route.ts';
import { assertClose } from '../../support/assert-close.ts';

function pointsOf(text: string): RoutePointItem[] {
  return readRoute(text).items.filter((item): item is RoutePointItem => item.kind === 'point');
}

/** Turns of phrase as the examples of Doc 4444, appendix 2, item 15 (c) (2) to (5), print them. */
describe('readRoute on the examples of the standard', () => {
  test('reads 46N078W, 4620N07805W and DUB180040 as the text beside them says', () => {
    const [degrees, minutes, bearing] = pointsOf('46N078W 4620N07805W DUB180040').map(({ point }) => point);
    expect(degrees).toMatchObject({ kind: 'coordinates', latDeg: 46, lonDeg: -78 });
    expect(minutes).toMatchObject({ kind: 'coordinates' });
    if (minutes?.kind !== 'coordinates') throw new Error('no coordinates');
    assertClose(minutes.latDeg, 46.3333333, { abs: 1e-6, why: '20 minutes are a third of a degree' });
    assertClose(minutes.lonDeg, -78.0833333, { abs: 1e-6, why: '5 minutes are a twelfth' });
    // 40 NM, 180 degrees magnetic from DUB; 1 NM is 1852 m.
    expect(bearing).toEqual({
      kind: 'bearing-distance',
      text: 'DUB180040',
      identifier: 'DUB',
      bearingMagneticDeg: 180,
      distanceM: 74_080,
    });
  });

  test.each([
    ['LN/N0284A045', { kind: 'true-airspeed', speed: 146.1 }, { kind: 'altitude', heightM: 1371.6 }],
    [
      'MAY/N0305F180',
      { kind: 'true-airspeed', speed: 156.91 },
      { kind: 'pressure-altitude', heightM: 5486.4 },
    ],
    [
      'HADDY/N0420F330',
      { kind: 'true-airspeed', speed: 216.07 },
      { kind: 'pressure-altitude', heightM: 10_058.4 },
    ],
    [
      '4602N07805W/N0500F350',
      { kind: 'true-airspeed', speed: 257.22 },
      { kind: 'pressure-altitude', heightM: 10_668 },
    ],
    ['46N078W/M082F330', { kind: 'mach', speed: 0.82 }, { kind: 'pressure-altitude', heightM: 10_058.4 }],
    ['DUB180040/N0350M0840', { kind: 'true-airspeed', speed: 180.06 }, { kind: 'altitude', heightM: 8400 }],
    [
      'LN/K0830S1130',
      { kind: 'true-airspeed', speed: 230.56 },
      { kind: 'pressure-altitude', heightM: 11_300 },
    ],
  ])('reads the change of speed and level of %s', (word, speed, level) => {
    const change = pointsOf(`KBTV ${word}`)[1]!.change!;
    const read = change.level;
    if (read.kind === 'vfr') throw new Error('no level');
    expect([change.speed.kind, read.kind]).toEqual([speed.kind, level.kind]);
    const spoken = change.speed.kind === 'mach' ? change.speed.mach : change.speed.trueAirspeedMps;
    assertClose(spoken, speed.speed, { abs: 0.006, why: 'half of the last figure written here' });
    const at = read.kind === 'altitude' ? read.altitudeM : read.pressureAltitudeM;
    assertClose(at, level.heightM, { abs: 0.01, why: 'feet and tens of metres are exact' });
  });

  test('reads cruise climbs, between two levels and above one', () => {
    const [, between, above] = pointsOf('KBTV C/48N050W/M082F290F350 C/48N050W/M082F290PLUS');
    expect(between!.point.text).toBe('48N050W');
    expect(between!.cruiseClimb).toMatchObject({
      speed: { kind: 'mach', mach: 0.82 },
      lower: { kind: 'pressure-altitude' },
      upper: { kind: 'pressure-altitude' },
    });
    expect(above!.cruiseClimb!.upper).toBeUndefined();
  });

  test('reads changes of flight rules after a point, with and without a change of speed', () => {
    const [, first, second] = pointsOf('KBTV LN VFR DCT LN/N0284A050 IFR DCT KBGR');
    expect(first).toMatchObject({ rulesAfter: 'VFR', change: undefined });
    expect(second).toMatchObject({ rulesAfter: 'IFR', change: { text: 'N0284A050' } });
  });
});

describe('readRoute', () => {
  test('reads seconds', () => {
    const { point } = pointsOf('KBTV 442036S0713012E')[1]!;
    if (point.kind !== 'coordinates') throw new Error('no coordinates');
    assertClose(point.latDeg, -44.3433333, { abs: 1e-6, why: '20 min 36 s are 0.34333 degrees' });
    assertClose(point.lonDeg, 71.5033333, { abs: 1e-6, why: '30 min 12 s are 0.50333 degrees' });
  });

  test('gives every item its word and where it begins in the text as typed', () => {
    const text = '  n0150vfr kbtv..dct  mpv/N0160A110 ->KBGR';
    const { items, initial } = readRoute(text);
    expect(initial).toMatchObject({ text: 'N0150VFR', level: { kind: 'vfr' } });
    expect(items.map(({ kind, word, offset }) => [kind, word, offset])).toEqual([
      ['point', 'KBTV', 11],
      ['direct', 'DCT', 17],
      ['point', 'MPV/N0160A110', 22],
      ['point', 'KBGR', 38],
    ]);
    for (const { word, offset } of items) {
      expect(text.slice(offset, offset + word.length).toUpperCase()).toBe(word);
    }
  });

  test('keeps offsets where a capital is longer than its small letter', () => {
    expect(readRoute('ßß KBTV KBGR').items[1]).toMatchObject({ word: 'KBTV', offset: 3 });
  });

  test('says that a route ending in T is truncated', () => {
    expect(readRoute('KBTV DCT MPV T').isTruncated).toBe(true);
    expect(readRoute('KBTV DCT MPV').isTruncated).toBe(false);
  });

  test('takes a designator for what the lookup says it is', () => {
    const kinds = new Map([
      ['V3', 'airway'],
      ['J95', 'place'],
      ['BCN1', 'procedure'],
      ['KODAP2A', 'procedure'],
    ] as const);
    const kindOf = (word: string) => (kinds as Map<string, 'place' | 'airway' | 'procedure'>).get(word);
    const { items } = readRoute('KBTV BCN1 MPV V3 J95 KODAP2A KBGR', { kindOf });
    expect(items.map(({ kind }) => kind)).toEqual([
      'point',
      'procedure',
      'point',
      'airway',
      'point',
      'procedure',
      'point',
    ]);
    expect(() => readRoute('KBTV V3 BCN1 KBGR', { kindOf })).toThrow('BCN1 between two places');
    expect(() => readRoute('KBTV V3/N0150F110 KBGR', { kindOf })).toThrow('not on a designator');
    expect(() => readRoute('KBTV V3', { kindOf })).toThrow('after V3');
    expect(() => readRoute('KBTV UL607 KBGR', { kindOf })).toThrow('airway designators');
  });
});

describe('inspectRoute', () => {
  test('shows the route and its items in degrees and nautical miles', () => {
    expect(inspectRoute('N0150F090 KBTV DCT DUB180040/N0350M0840 VFR 4420N07130W T')).toEqual([
      { kind: 'route', speedLevel: 'N0150F090', isTruncated: true },
      {
        kind: 'point',
        word: 'KBTV',
        offset: 10,
        identifier: 'KBTV',
        speedLevel: null,
        cruiseClimb: null,
        rulesAfter: null,
      },
      { kind: 'direct', word: 'DCT', offset: 15 },
      {
        kind: 'point',
        word: 'DUB180040/N0350M0840',
        offset: 19,
        identifier: 'DUB',
        bearingMagneticDeg: 180,
        distanceNm: 40,
        speedLevel: 'N0350M0840',
        cruiseClimb: null,
        rulesAfter: 'VFR',
      },
      {
        kind: 'point',
        word: '4420N07130W',
        offset: 44,
        latDeg: 44.3333,
        lonDeg: -71.5,
        speedLevel: null,
        cruiseClimb: null,
        rulesAfter: null,
      },
    ]);
  });

  test('shows what is not read as one refusal', () => {
    expect(inspectRoute('KBTV V3 KBGR')).toEqual([
      { kind: 'refused', reason: expect.stringContaining('"V3" (word 2)') },
    ]);
  });
});

describe('readRoute on pasted texts', () => {
  const wordsOf = (text: string) => readRoute(text).items.map(({ word, offset }) => `${word}@${offset}`);

  test('dashes part words and blanks of any kind are blanks; offsets stay those of the text', () => {
    expect(wordsOf('\ufeffKBTV\u2013MPV\u00a0DCT\u2003KBGR')).toEqual([
      'KBTV@1',
      'MPV@6',
      'DCT@10',
      'KBGR@14',
    ]);
    expect(wordsOf('KBTV \u2014 KBGR')).toEqual(['KBTV@0', 'KBGR@7']);
  });

  const FPL =
    '(FPL-NZZZZ-IG\n-C172/L-SDFG/C\n-KBTV1300\n-N0110F090 DCT MPV DCT\n-KBGR0130 KPWM\n-DOF/260115)';

  test('a whole flight plan message gives departure, item 15 and destination', () => {
    expect(wordsOf(FPL)).toEqual(['KBTV@30', 'DCT@50', 'MPV@54', 'DCT@58', 'KBGR@63']);
    const [departure] = pointsOf(FPL);
    expect(departure!.change).toMatchObject({ text: 'N0110F090' });
    expect(FPL.slice(63, 67)).toBe('KBGR');
  });

  test.each([
    ['without its items', '(FPL-NZZZZ-IG-C172/L-S/C-KBTV1300)', 'without items 13, 15 and 16'],
    ['of a departure without indicator', FPL.replace('KBTV', 'ZZZZ'), 'ZZZZ in a flight plan message'],
  ])('a message %s says what to paste', (_, text, found) => {
    expect(() => readRoute(text)).toThrow(new RegExp(`${found}.*, expected the route alone`));
  });

  test('at either end a word in the form of an airway is a place; between it needs a lookup', () => {
    const identifiers = (text: string, lookup?: Parameters<typeof readRoute>[1]) =>
      readRoute(text, lookup).items.map(({ kind, word }) => `${kind} ${word}`);
    expect(identifiers('B21/N0110F090 MPV V31 VFR')).toEqual([
      'point B21/N0110F090',
      'point MPV',
      'point V31',
    ]);
    expect(identifiers('N0110F090 B21 DCT B19 N0120F070')).toEqual(['point B21', 'direct DCT', 'point B19']);
    expect(() => readRoute('KBTV B21 KBGR')).toThrow('airway designators');
    const kindOf = (word: string) => (word === 'B21' ? ('place' as const) : undefined);
    expect(identifiers('KBTV B21 KBGR', { kindOf })).toEqual(['point KBTV', 'point B21', 'point KBGR']);
  });

  test.each(['KBTV F090 MPV KBGR', 'KBTV N0110 KBGR', 'KBTV FL090 KBGR', 'KBTV K0200 KBGR'])(
    '%s: half of a speed and level group is no place',
    (text) => {
      expect(() => readRoute(text)).toThrow(/\(word 2\), expected speed and level together, as N0110F090/);
    },
  );

  test.each(['LEB IFR/N0150F080 KBGR', 'LEB VFR/N0150F080 KBGR', 'LEB DCT/N0150F080 KBGR'])(
    '%s: a word of rules is no place',
    (text) => {
      expect(() => readRoute(text)).toThrow(/\(word 2\), expected a place .* as LEB\/N0150F080 IFR/);
    },
  );
});
