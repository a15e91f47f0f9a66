import { describe, expect, test } from 'vitest';
import { takeFreezingRange, takeLevels, withFreezingRange } from '../../../worker/formats/warnings/levels.ts';
import { Scanner } from '../../../worker/formats/warnings/scanner.ts';

const levels = (text: string) => takeLevels(new Scanner(text));
const flightLevel = (altitudeFt: number) => ({ kind: 'flight-level', altitudeFt });
const altitude = (altitudeFt: number) => ({ kind: 'altitude', altitudeFt });
const FREEZING = { kind: 'freezing-level', lowestFt: undefined, highestFt: undefined };

describe('takeLevels beyond the template', () => {
  test.each([
    ['BTN FRZLVL AND FL200', { kind: 'layer', lower: FREEZING, upper: flightLevel(20_000) }],
    ['BTN 040 AND FL220', { kind: 'layer', lower: altitude(4000), upper: flightLevel(22_000) }],
    ['BTN 050 AND 160', { kind: 'layer', lower: altitude(5000), upper: altitude(16_000) }],
    [
      'BTN GND/FL150',
      { kind: 'layer', lower: { kind: 'surface', altitudeFt: 0 }, upper: flightLevel(15_000) },
    ],
    ['FRZLVL/FL180', { kind: 'layer', lower: FREEZING, upper: flightLevel(18_000) }],
    ['FL080-120', { kind: 'layer', lower: flightLevel(8000), upper: flightLevel(12_000) }],
    ['FL050/FL100', { kind: 'layer', lower: flightLevel(5000), upper: flightLevel(10_000) }],
    ['FL80', { kind: 'at', level: flightLevel(8000) }],
    ['1000FT/FL150', { kind: 'layer', lower: altitude(1000), upper: flightLevel(15_000) }],
    ['BLW FL120', { kind: 'below', upper: flightLevel(12_000) }],
    ['BLW 100', { kind: 'below', upper: altitude(10_000) }],
    ['ABV FRZLVL', { kind: 'above', lower: FREEZING }],
    ['TOPS TO FL320', { kind: 'top', upper: flightLevel(32_000), top: 'at' }],
    ['TOPS ABV FL450', { kind: 'top', upper: flightLevel(45_000), top: 'above' }],
  ])('%s', (text, expected) => {
    expect(levels(text)).toEqual(expected);
  });

  test('a layer printed top first is put in order', () => {
    expect(levels('FL180/100')).toEqual({
      kind: 'layer',
      lower: flightLevel(10_000),
      upper: flightLevel(18_000),
    });
  });

  test.each([
    '100',
    'FL1800',
    'FL',
    'N54',
    '2100Z',
    'STNR',
    'FL100KT',
    'BTN 040',
    'FL990',
    '99999FT',
    'BLW 100M5',
  ])('%s is no level, and nothing is taken', (text) => {
    const scanner = new Scanner(text);
    expect(takeLevels(scanner)).toBeUndefined();
    expect(scanner.offset).toBe(0);
  });
});

describe('the freezing level beside the levels', () => {
  test.each([
    ['FRZLVL 060-110.', { lowestFt: 6000, highestFt: 11_000 }],
    ['FRZLVL SFC-040', { lowestFt: 0, highestFt: 4000 }],
    ['FRZLVL 080', { lowestFt: 8000, highestFt: 8000 }],
  ])('%s', (text, range) => {
    expect(takeFreezingRange(new Scanner(text))).toEqual(range);
  });

  test.each(['FRZLVL 251', 'FRZLVL 020-999', 'FRZLVL 20', 'FRZLVL'])(
    '%s is none, and nothing is taken',
    (text) => {
      const scanner = new Scanner(text);
      expect(takeFreezingRange(scanner)).toBeUndefined();
      expect(scanner.offset).toBe(0);
    },
  );

  test('fills the levels that name it, and no others', () => {
    const range = { lowestFt: 6000, highestFt: 11_000 };
    expect(withFreezingRange(levels('BTN FRZLVL AND FL240'), range)).toEqual({
      kind: 'layer',
      lower: { kind: 'freezing-level', ...range },
      upper: flightLevel(24_000),
    });
    expect(withFreezingRange(levels('BLW FL120'), range)).toEqual(levels('BLW FL120'));
    expect(withFreezingRange(undefined, range)).toBeUndefined();
  });
});
