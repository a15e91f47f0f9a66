import { describe, expect, test } from 'vitest';
import type { Amount } from '../../../worker/formats/aerodrome-reports/remarks.ts';
import { assertClose } from '../../support/assert-close.ts';
import { body, metar, remarksOf } from './read-one.ts';

const INCH = { abs: 1e-9, why: '25.4 mm an inch' };
const at = (hour: number, minute: number, day = 15) => Date.UTC(2026, 0, day, hour, minute);

function assertAmount(amount: Amount | null | undefined, mm: number, isTrace = false): void {
  assertClose(amount?.mm ?? Number.NaN, mm, INCH);
  expect(amount!.isTrace).toBe(isTrace);
}

describe('ice', () => {
  test('accretion over one, three and six hours', () => {
    const { iceAccretion, unread } = remarksOf('AO2 I1001 I3003 I6012');
    expect(iceAccretion.map(({ hours }) => hours)).toEqual([1, 3, 6]);
    assertAmount(iceAccretion[0], 0.254);
    assertAmount(iceAccretion[1], 0.762);
    assertAmount(iceAccretion[2], 3.048);
    expect(unread).toEqual([]);
  });

  test('a trace is ice, slashes are unknown', () => {
    expect(remarksOf('I1000 I6///').iceAccretion).toEqual([
      { hours: 1, mm: 0, isTrace: true },
      { hours: 6, mm: null, isTrace: false },
    ]);
  });

  test('a time that comes twice, another time and too few figures are kept', () => {
    expect(remarksOf('I1001 I1002 I2001 I101')).toMatchObject({ unread: ['I1002', 'I2001', 'I101'] });
  });

  test('ice and frost that a sensor or an observer sees', () => {
    expect(remarksOf('ICG SLP106')).toMatchObject({ isIceDetected: true, isFrostOnIndicator: false });
    expect(remarksOf('CI1 FROIN')).toMatchObject({ isIceDetected: false, isFrostOnIndicator: true });
  });

  test('icing in the air above', () => {
    expect(remarksOf('QFE755 MOD ICE INC 1200M-1800M')).toMatchObject({
      icing: [{ intensity: 'moderate', isInCloud: true, lowerM: 1200, upperM: 1800 }],
      unread: ['QFE755'],
    });
    expect(remarksOf('SEV ICE').icing).toEqual([
      { intensity: 'severe', isInCloud: false, lowerM: null, upperM: null },
    ]);
    expect(remarksOf('MOD TURB').unread).toEqual(['MOD', 'TURB']);
  });
});

describe('sensors that are out', () => {
  test.each([
    ['FZRANO', 'freezing-rain'],
    ['PNO', 'precipitation-amount'],
    ['PWINO', 'present-weather'],
    ['TSNO', 'thunderstorm'],
    ['RVRNO', 'runway-visual-range'],
    ['SLPNO', 'sea-level-pressure'],
    ['VISNO', 'visibility-at-second-place'],
    ['CHINO', 'ceiling-at-second-place'],
    ['TS INFO NOT AVBL', 'thunderstorm'],
    ['WND MISG', 'wind'],
    ['WX MISG', 'present-weather'],
    ['ICG MISG', 'icing'],
    ['T MISG', 'temperature'],
    ['PCPN MISG', 'precipitation-amount'],
  ])('%s', (words, element) => {
    const report = body(`00000KT 10SM CLR RMK AO2 ${words} $`);
    expect(report.notObserved).toEqual([element]);
    expect(report.remarks).toMatchObject({ unread: [], isMaintenanceNeeded: true });
  });

  test('AO1 cannot tell rain from snow, AO2 can', () => {
    expect(body('00000KT RMK AO1')).toMatchObject({ notObserved: ['precipitation-type'] });
    expect(body('00000KT RMK A02A')).toMatchObject({ notObserved: [], remarks: { stationType: 'AO2A' } });
  });

  test('an element is listed once, with those of the body first', () => {
    const { notObserved } = body('/////KT //// // ////// ///// Q//// RMK PWINO FZRANO');
    expect(notObserved).toEqual([
      'present-weather',
      'temperature',
      'dew-point',
      'altimeter',
      'wind',
      'visibility',
      'cloud',
      'freezing-rain',
    ]);
  });

  test('MISG of something else is kept', () => {
    expect(remarksOf('DENSITY ALT MISG').unread).toEqual(['DENSITY', 'ALT', 'MISG']);
  });
});

describe('begin and end of weather', () => {
  const events = (groups: string) =>
    remarksOf(groups).weatherEvents.map(({ weather, event, timeMs }) => [weather.text, event, timeMs]);

  test('minutes are of the hour that ends with the report, at 14:53', () => {
    expect(events('FZRAB05E20SNB20E50')).toEqual([
      ['FZRA', 'began', at(14, 5)],
      ['FZRA', 'ended', at(14, 20)],
      ['SN', 'began', at(14, 20)],
      ['SN', 'ended', at(14, 50)],
    ]);
    expect(events('PLB53')).toEqual([['PL', 'began', at(14, 53)]]);
    expect(events('PLB1453')).toEqual([['PL', 'began', at(14, 53)]]);
    expect(events('PLB54')).toEqual([['PL', 'began', at(13, 54)]]);
  });

  test('hours are given where the minutes are not enough', () => {
    expect(events('SNB2258E1403')).toEqual([
      ['SN', 'began', at(22, 58, 14)],
      ['SN', 'ended', at(14, 3)],
    ]);
  });

  test('a weather that comes and goes', () => {
    expect(events('RAB31E49DZB49E51RAB52').map(([, event]) => event)).toEqual([
      'began',
      'ended',
      'began',
      'ended',
      'began',
    ]);
    expect(events('SNB20E21B25').map(([text, event]) => `${text} ${event}`)).toEqual([
      'SN began',
      'SN ended',
      'SN began',
    ]);
  });

  test('a report a minute before midnight', () => {
    const { remarks } = metar('KZZZ 160001Z AUTO UP RMK AO2 UPB00SNE00 BLSNB2358=');
    expect(remarks!.weatherEvents.map(({ timeMs }) => timeMs)).toEqual([
      at(0, 0, 16),
      at(0, 0, 16),
      at(23, 58),
    ]);
  });

  test.each(['BASE400', 'E2336', 'RAB', 'RAB7', 'RAB61', 'SNB2561', 'XXB05', 'RAB05X', 'RAB05E'])(
    '%s is kept whole',
    (group) => {
      expect(remarksOf(group)).toMatchObject({ weatherEvents: [], unread: [group] });
    },
  );
});
