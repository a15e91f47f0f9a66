import { describe, expect, test } from 'vitest';
import { pirepElements } from '../../../worker/formats/pilot-reports/elements.ts';
import { readOne } from './report-context.ts';

const codes = (text: string) =>
  [...pirepElements(text).texts].map(([code, texts]) => `${code}=${texts.join('|')}`).join(' ');

describe('pirepElements', () => {
  test.each([
    ['/OV ABC/TM 1412/FL090', 'OV=ABC TM=1412 FL=090'],
    ['/OV ABC /TM 1412 /FL090 /TP ZZZZ', 'OV=ABC TM=1412 FL=090 TP=ZZZZ'],
    ['/FL120//TP ZZZZ', 'FL=120 TP=ZZZZ'],
    ['/SK BKN030/OVC100/TA M01', 'SK=BKN030/OVC100 TA=M01'],
    ['/SK OVC100-TOP110/ SKC/TA M01', 'SK=OVC100-TOP110/ SKC TA=M01'],
    ['/OVCVG330025/TM 1412', 'OV=CVG330025 TM=1412'],
    ['/ICLGT RIME/ICMOD', 'IC=LGT RIME|MOD'],
    [
      '/IC LGT RIME/RM ICE ON WINGS/ICE ON TAIL/TAIL ICED',
      'IC=LGT RIME RM=ICE ON WINGS/ICE ON TAIL/TAIL ICED',
    ],
    ['/TB LGT/ICE LGT RIME/TA M01', 'TB=LGT IC=LGT RIME TA=M01'],
    ['/ICING MOD/ICG SEV/ICELAND', 'IC=MOD|SEV|ELAND'],
    ['/FLDURC/FLUNKN', 'FL=DURC|UNKN'],
    ['/OV', 'OV='],
    ['WORDS', ''],
  ])('%s', (text, expected) => {
    expect(codes(text)).toBe(expected);
  });

  test('words before the first element are the head', () => {
    expect(pirepElements('SKED /OV ABC').head).toBe('SKED');
  });
});

describe('elements typed after the remarks', () => {
  test('count where they are missing before, and stay in the remarks', () => {
    expect(readOne('ABC UA /OV ABC/TM 1400/RM SMTH RIDE /IC LGT RIME 060')).toMatchObject({
      icing: { kind: 'reported', layers: [{ heaviest: 'light', band: { lowerFt: 6000 } }] },
      remarks: 'SMTH RIDE /IC LGT RIME 060',
    });
  });

  test('never replace those before', () => {
    const report = readOne('ABC UA /OV ABC/TM 1400/TA 03/IC NEG/RM /TA 05 070 /IC MOD RIME');
    expect(report.temperatureK).toBeCloseTo(276.15, 9);
    expect(report.icing).toMatchObject({ layers: [{ heaviest: 'none' }] });
  });

  test('are remarks where they cannot be read', () => {
    expect(readOne('ABC UA /OV ABC/TM 1400/RM /SK BTWN LYR /IC FM TOWER')).toMatchObject({
      sky: { kind: 'not-reported' },
      icing: { kind: 'not-reported' },
      unread: [],
    });
  });

  test('NEG ICE in the remarks is text, not a null report', () => {
    const report = readOne('ABC UA /OV ABC/TM 1400/TB NEG/RM TA UNKN SMTH NEG ICE');
    expect(report.icing).toEqual({ kind: 'not-reported' });
    expect(report.remarks).toBe('TA UNKN SMTH NEG ICE');
  });
});

describe('single elements', () => {
  const report = (elements: string) => readOne(`ABC UA /OV ABC/TM 1400${elements}`);

  test.each([
    ['/TA M08', -8],
    ['/TA -06', -6],
    ['/TA 15', 15],
    ['/TA +05', 5],
    ['/TA M03C', -3],
    ['/TA 00', 0],
    ['/TAM10', -10],
  ])('%s', (text, celsius) => {
    expect(report(text).temperatureK).toBeCloseTo(273.15 + celsius, 9);
  });

  test.each(['/TA UNKN', '/TA'])('%s is unknown without a fault', (text) => {
    expect(report(text)).toMatchObject({ temperatureK: undefined, unread: [] });
  });

  test.each(['/TA M8O', '/TA 61', '/TA 123', '/TA COLD'])('%s is kept as unread', (text) => {
    const { temperatureK, unread } = report(text);
    expect(temperatureK).toBeUndefined();
    expect(unread).toMatchObject([{ element: 'TA', text: text.slice(4) }]);
  });

  test.each([
    ['/WV 28035KT', 280, 35],
    ['/WV 310050', 310, 50],
    ['/WV 36010', 0, 10],
    ['/WV 270/45', 270, 45],
    ['/WV 000000', 0, 0],
  ])('%s', (text, directionDeg, kt) => {
    const { wind } = report(text);
    expect(wind).toMatchObject({ directionDeg, north: 'magnetic' });
    expect((wind!.speedMps * 3600) / 1852).toBeCloseTo(kt, 9);
  });

  test.each(['/WV 36110KT', '/WV 280350', '/WV 2803', '/WV VRB05'])('%s is kept as unread', (text) => {
    const { wind, unread } = report(text);
    expect(wind).toBeUndefined();
    expect(unread).toMatchObject([{ element: 'WV' }]);
  });

  test.each([
    ['/FL085', { kind: 'altitude', altitudeFt: 8500 }, undefined],
    ['/FL 085', { kind: 'altitude', altitudeFt: 8500 }, undefined],
    ['/FL80', { kind: 'altitude', altitudeFt: 8000 }, undefined],
    ['/FL8500', { kind: 'altitude', altitudeFt: 8500 }, undefined],
    ['/FL060-090', { kind: 'layer', lowerFt: 6000, upperFt: 9000 }, undefined],
    ['/FLUNKN', { kind: 'unknown' }, undefined],
    ['/FLDURC', { kind: 'unknown' }, 'climb'],
    ['/FLDURD', { kind: 'unknown' }, 'descent'],
    ['/FL085 DURC', { kind: 'altitude', altitudeFt: 8500 }, 'climb'],
    ['/FLSFC', { kind: 'altitude', altitudeFt: 0 }, undefined],
    ['/FL085/RM DURGD', { kind: 'altitude', altitudeFt: 8500 }, 'descent'],
  ])('%s', (text, level, phase) => {
    expect(report(text)).toMatchObject({ level, phase, unread: [] });
  });

  test('a level of two figures too many is no level', () => {
    expect(report('/FL08500')).toMatchObject({
      level: { kind: 'unknown' },
      unread: [{ element: 'FL', text: '08500' }],
    });
  });

  test.each(['2IE7', '2460', '24', '14:12'])(
    'time %s is no time, and the report is kept without one',
    (text) => {
      expect(readOne(`ABC UA /OV ABC/TM ${text}/FL280/TB MTW`)).toMatchObject({
        timeMs: undefined,
        level: { altitudeFt: 28_000 },
        unread: [{ element: 'TM', text }],
      });
    },
  );

  test('visibility and groups of weather; FV99SM is unrestricted; older letters stay unread', () => {
    expect(report('/WX FV05SM -FZRA BR').weather).toMatchObject({ phenomena: ['-FZRA', 'BR'] });
    expect(report('/WX FV99SM').weather.visibilityM).toBe(Number.POSITIVE_INFINITY);
    expect(report('/WX FV02 R H')).toMatchObject({ unread: [{ element: 'WX', text: 'R H' }] });
    expect(report('').weather).toEqual({ visibilityM: undefined, phenomena: [], isWhole: true });
  });

  test('a second element of one code is kept as unread, of sky, icing and turbulence read', () => {
    expect(report('/TA M01/TA M05')).toMatchObject({ unread: [{ element: 'TA', text: 'M05' }] });
    expect(report('/IC LGT RIME 060/IC MOD CLR 080')).toMatchObject({
      icing: { layers: [{ heaviest: 'light' }, { heaviest: 'moderate' }] },
      unread: [],
    });
    expect(report('/TB LGT/TB MOD 080').turbulence).toMatchObject({
      layers: [{ heaviest: 'light' }, { heaviest: 'moderate' }],
    });
  });
});

describe('sky', () => {
  const sky = (text: string) => readOne(`ABC UA /OV ABC/TM 1400/SK ${text}`);

  test('bases and tops by name, with a base that varies', () => {
    expect(sky('BASES 060-070 TOPS 260').sky).toMatchObject({
      layers: [{ thickest: 'unstated', base: { lowerFt: 6000, upperFt: 7000 }, top: { lowerFt: 26_000 } }],
    });
  });

  test('IMC says in cloud, and no layer', () => {
    expect(sky('IMC')).toMatchObject({ isInCloud: true, sky: { kind: 'not-reported' }, unread: [] });
    expect(sky('OVC010')).toMatchObject({ isInCloud: false });
  });

  test('a base unknown before its amount does not turn the top into a base', () => {
    expect(sky('UNKN OVC 045').sky).toMatchObject({ layers: [{ base: undefined, top: { lowerFt: 4500 } }] });
  });

  test('heights beside words that say something else are not used', () => {
    expect(sky('BTN LYRS 060-080')).toMatchObject({
      sky: { kind: 'unreadable' },
      unread: [{ element: 'SK' }],
    });
  });
});

describe('heights with a comma', () => {
  test('of sky and of the flight', () => {
    expect(readOne('ABC UA /OV ABC/TM 1400/FL 6,000/SK OVC 3,000 TOPS 7,000')).toMatchObject({
      level: { kind: 'altitude', altitudeFt: 6000 },
      sky: { layers: [{ thickest: 'overcast', base: { lowerFt: 3000 }, top: { lowerFt: 7000 } }] },
      unread: [],
    });
  });

  test('and never a ground of three noughts', () => {
    expect(readOne('ABC UA /OV ABC/TM 1400/SK OVC 3 000').sky).toMatchObject({
      layers: [{ base: undefined }],
    });
  });
});

describe('freezing precipitation in words and mistyped', () => {
  const wx = (text: string) => readOne(`ABC UA /OV ABC/TM 1400/WX ${text}`);

  test.each([
    ['FZ RA', ['FZRA']],
    ['-FZ DZ', ['-FZDZ']],
    ['FREEZING RAIN', ['FZRA']],
    ['FV02SM LGT FREEZING DRIZZLE BR', ['-FZDZ', 'BR']],
    ['HVY FRZG RAIN', ['+FZRA']],
    ['FRZG DRZL', ['FZDZ']],
    ['FZRA-', ['-FZRA']],
    ['FZ FG', ['FZFG']],
  ])('%s is read', (text, phenomena) => {
    expect(wx(text)).toMatchObject({ weather: { phenomena, isWhole: true }, unread: [] });
  });

  test.each(['FRZA', 'ZR', 'FZ', 'FRZING'])('%s stays unread, and the weather is not whole', (text) => {
    const report = wx(text);
    expect(report).toMatchObject({
      weather: { phenomena: [], isWhole: false },
      unread: [{ element: 'WX', text, reason: expect.stringContaining('expected FVnnSM') }],
    });
  });
});
