import { describe, expect, test } from 'vitest';
import { takeChange, takeMovement } from '../../../worker/formats/warnings/movement.ts';
import { Scanner } from '../../../worker/formats/warnings/scanner.ts';
import { ktFromMps } from '../../../worker/science/units.ts';

const movement = (text: string) => takeMovement(new Scanner(text));

describe('takeMovement beyond the template', () => {
  test.each([
    ['MOV FROM 24045KT.', 60, 45],
    ['MOV FROM 03010KT.', 210, 10],
    ['MOV NE 30 KT', 45, 30],
    ['MOV S 36KMH', 180, 36 / 1.852],
    ['MOV W 10MPS', 270, (10 * 3600) / 1852],
    ['MOV TO N 05KT', 0, 5],
  ])('%s', (text, towardDeg, kt) => {
    const found = movement(text);
    expect(found).toMatchObject({ kind: 'moving', towardDeg });
    expect(found?.kind === 'moving' && ktFromMps(found.speedMps!)).toBeCloseTo(kt, 6);
  });

  test('slow is a direction without a speed', () => {
    expect(movement('MOV NE SLW')).toEqual({ kind: 'moving', towardDeg: 45, speedMps: undefined });
  });

  test('a speed with a wrong letter is left, and the direction taken', () => {
    const scanner = new Scanner('MOV ENE 2OKT INTSF');
    expect(takeMovement(scanner)).toEqual({ kind: 'moving', towardDeg: 67.5, speedMps: undefined });
    expect(scanner.takeWord()).toBe('2OKT');
  });

  test.each([
    ['QSTNR', 'stationary'],
    ['QUASI-STNR', 'stationary'],
    ['MOV LTL', 'little'],
    ['LTL MOVMT', 'little'],
  ])('%s', (text, kind) => {
    expect(movement(text)).toEqual({ kind });
  });

  test.each(['STRN', 'MOV', 'MOV NWN', 'MOV FROM 37010KT', 'NE 20KT'])('%s is no movement', (text) => {
    const scanner = new Scanner(text);
    expect(takeMovement(scanner)).toBeUndefined();
    expect(scanner.offset).toBe(0);
  });

  test('words that begin like a change are none', () => {
    expect(takeChange(new Scanner('NCW'))).toBeUndefined();
    expect(takeChange(new Scanner('WKN'))).toBe('weakening');
  });
});
