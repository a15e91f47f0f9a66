import { describe, expect, test } from 'vitest';
import { isNullIcing } from '../../../worker/formats/pilot-reports/report.ts';
import { ktFromMps } from '../../../worker/science/units.ts';
import { testPublished } from '../../support/published-values.ts';
import { readOne } from './report-context.ts';

describe('a routine air-report', () => {
  test('position, time, level, temperature and true wind', () => {
    const report = readOne('ARP TST1738 3816N 09429W 1400 F390 MS55 292/049KT TB LGT=');
    expect(report).toMatchObject({
      form: 'airep',
      urgency: 'routine',
      aircraft: 'TST1738',
      timeMs: Date.UTC(2026, 0, 15, 14, 0),
      level: { kind: 'altitude', altitudeFt: 39_000 },
      wind: { directionDeg: 292, north: 'true' },
      icing: { kind: 'not-reported' },
      turbulence: { layers: [{ heaviest: 'light', band: { lowerFt: 39_000, isStated: false } }] },
      unread: [],
    });
    expect(report.temperatureK).toBeCloseTo(273.15 - 55, 9);
    expect(ktFromMps(report.wind!.speedMps)).toBeCloseTo(49, 9);
    expect(report.place).toMatchObject({ points: [{ lonDeg: -(94 + 29 / 60) }] });
  });

  test.each([
    ['ICE MOD', 'moderate', 'unstated'],
    ['MOD ICE', 'moderate', 'unstated'],
    ['ICE SEV', 'severe', 'unstated'],
    ['IC LGT RIME', 'light', 'rime'],
    ['TB LGT IC MOD MX', 'moderate', 'mixed'],
    ['SEV TURB SEV ICE', 'severe', 'unstated'],
    ['TB LGT SEV ICE', 'severe', 'unstated'],
    ['ICE NIL', 'none', 'unstated'],
  ])('%s', (phrase, heaviest, what) => {
    const report = readOne(`ARP TST12 12N 130E 1400 F140 MS08 ${phrase}`);
    expect(report.icing).toMatchObject({ layers: [{ heaviest, what }] });
    expect(report.unread).toEqual([]);
  });

  test('turbulence beside icing keeps its own intensity', () => {
    const report = readOne('ARP TST12 12N 130E 1400 F140 TB MOD CHOP SEV ICE');
    expect(report.turbulence).toMatchObject({ layers: [{ heaviest: 'moderate', what: 'chop' }] });
    expect(report.icing).toMatchObject({ layers: [{ heaviest: 'severe' }] });
  });

  test('the word for icing without an intensity is unreadable, not a null report', () => {
    const report = readOne('ARP TST12 12N 130E 1400 F370 TB OCNL LGT CHOP IC');
    expect(report.icing).toEqual({ kind: 'unreadable', text: 'IC' });
    expect(isNullIcing(report)).toBe(false);
    expect(report.unread).toMatchObject([{ element: 'ICE', text: 'IC' }]);
  });

  test('freezing rain is weather beside the icing', () => {
    expect(readOne('ARS TST12 5230N02015W 1400 F060 SEV ICE (FZRA)')).toMatchObject({
      weather: { phenomena: ['FZRA'] },
      icing: { layers: [{ heaviest: 'severe' }] },
      unread: [],
    });
  });

  test('a fix with a radial as position; the next position and time stay unread', () => {
    const report = readOne('ARP TST12 ABC090060 1400 F140 DEF 1430 MS08');
    expect(report.place).toMatchObject({ kind: 'point', points: [{ radialNorth: 'variation-of-fix' }] });
    expect(report.unread.map(({ text }) => text)).toEqual(['DEF', '1430']);
  });

  test('remarks are text', () => {
    expect(readOne('ARP TST12 3746N 08107W 1404 F370 MS46 TB LGT RM SEV ICE OV ABC')).toMatchObject({
      remarks: 'SEV ICE OV ABC',
      icing: { kind: 'not-reported' },
    });
  });

  test('AIREP SPECIAL and ARS are urgent, AIREP and ARP routine', () => {
    const urgency = (start: string) => readOne(`${start} TST12 12N 130E 1400 F140 SEV ICE`).urgency;
    expect(['AIREP SPECIAL', 'ARS', 'AIREP ARS', 'AIREP', 'ARP', 'AIREP ARP'].map(urgency)).toEqual([
      'urgent',
      'urgent',
      'urgent',
      'routine',
      'routine',
      'routine',
    ]);
  });

  test.each([
    ['minutes of time', 'ARP TST12 12N 130E 1460 F140', '1460'],
    ['level', 'ARP TST12 12N 130E 1400 F999', 'F999'],
    ['direction', 'ARP TST12 12N 130E 1400 F140 372/049KT', '372/049KT'],
    ['latitude', 'ARP TST12 92N 130E 1400 F140', '92N'],
  ])('a wrong figure of %s is unread', (_, text, word) => {
    expect(readOne(text).unread.map((each) => each.text)).toContain(word);
  });
});

testPublished(
  'special air-reports sent up to aircraft read as the template says',
  {
    source: 'Regulation (EU) 2017/373, annex V, appendix 5B, examples; identification changed',
    tag: 'L',
    values: 12,
  },
  (published) => {
    const read = (phenomenon: string, position: string, level: string) =>
      readOne(`ARS TST812 ${phenomenon} OBS AT 1210Z ${position} ${level}`);
    const ice = read('SEV ICE', 'N2020W07005', 'FL390');
    const point = ice.place.kind === 'unknown' ? undefined : ice.place.points[0];
    const why = 'degrees and minutes as printed';
    published.close(point!.latDeg, 20 + 20 / 60, { abs: 1e-9, why });
    published.close(point!.lonDeg, -(70 + 5 / 60), { abs: 1e-9, why });
    published.close(ice.timeMs!, Date.UTC(2026, 0, 15, 12, 10), { abs: 0, why });
    published.same(ice.icing.kind === 'reported' && ice.icing.layers[0]!.heaviest, 'severe', 'SEV ICE');
    published.same(ice.level.kind === 'altitude' ? ice.level.altitudeFt : undefined, 39_000, 'FL390');
    const moderate = read('MOD ICE', 'S4812E01036', 'FL180/210');
    published.same(
      moderate.icing.kind === 'reported' && moderate.icing.layers[0]!.heaviest,
      'moderate',
      'MOD ICE',
    );
    published.same(moderate.level.kind === 'layer' ? moderate.level.lowerFt : undefined, 18_000, 'FL180');
    published.same(moderate.level.kind === 'layer' ? moderate.level.upperFt : undefined, 21_000, '210');
    const wave = read('SEV MTW', 'S4812E01036', '12000FT');
    published.same(
      wave.turbulence.kind === 'reported' && wave.turbulence.layers[0]!.what,
      'mountain-wave',
      'MTW',
    );
    published.same(wave.level.kind === 'altitude' ? wave.level.altitudeFt : undefined, 12_000, '12000FT');
    const metric = read('MOD TURB', 'S4812E01036', '3000M');
    published.close(metric.level.kind === 'altitude' ? metric.level.altitudeFt : 0, 3000 / 0.3048, {
      abs: 0.5,
      why: 'rounded to whole feet',
    });
    published.same(
      metric.turbulence.kind === 'reported' && metric.turbulence.layers[0]!.heaviest,
      'moderate',
      'MOD',
    );
  },
);

describe('rime, and icing in the remarks of an air-report', () => {
  test.each([
    ['MOD RIME', 'moderate'],
    ['MOD RIME ICE', 'moderate'],
    ['TB LGT SEV RIME', 'severe'],
    ['TB LGT RIME', 'unstated'],
  ])('%s is icing without another word for it', (phrase, heaviest) => {
    expect(readOne(`ARP TST12 12N 130E 1400 F090 MS06 ${phrase}`)).toMatchObject({
      icing: { layers: [{ heaviest, what: 'rime', band: { lowerFt: 9000 } }] },
      unread: [],
    });
  });

  test('remarks that name ice are a mention, not a layer', () => {
    expect(readOne('AIREP TST12 12N 130E 1400 F090 MS06 RMK SEV ICE BLW FL070')).toMatchObject({
      icing: { kind: 'not-reported' },
      icingMentions: [{ element: 'RM', text: 'SEV ICE BLW FL070' }],
    });
  });

  test.each(['FRZA', '-ZR', 'RAX'])('%s stays unread, and the weather is not whole', (word) => {
    expect(readOne(`ARP TST12 12N 130E 1400 F090 ${word}`).weather).toMatchObject({ isWhole: false });
    expect(readOne('ARP TST12 12N 130E 1400 F090 WORDS').weather).toMatchObject({ isWhole: true });
  });

  test.each(['OVER ABC VOR 1235', 'OVR ABC 1235', 'ABC NDB 1235'])('%s: the fix is ABC', (position) => {
    expect(readOne(`ARS TST12 ${position} F090 SEV ICE`)).toMatchObject({
      location: { kind: 'points', points: [{ kind: 'fix', identifier: 'ABC' }] },
      timeMs: Date.UTC(2026, 0, 15, 12, 35),
      unread: [],
    });
  });
});
