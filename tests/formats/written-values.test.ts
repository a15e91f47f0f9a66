import { describe, expect, it } from 'vitest';
import { writtenInstantMs, writtenNumber } from '../../worker/formats/written-values.ts';

describe('writtenNumber', () => {
  it.each([
    ['12', 12],
    ['-73.83', -73.83],
    ['+0.5', 0.5],
    ['7.', 7],
  ])('%s', (text, value) => {
    expect(writtenNumber(text)).toBe(value);
  });

  it.each(['', ' ', '0x10', '1e3', 'Infinity', '12,5', '.', '1 2', undefined])('not %j', (text) => {
    expect(writtenNumber(text)).toBeNaN();
  });
});

describe('writtenInstantMs', () => {
  it.each([
    ['2026-01-14T12:00:00Z', Date.UTC(2026, 0, 14, 12)],
    ['2026-01-14T12:00Z', Date.UTC(2026, 0, 14, 12)],
    ['2026-01-14T12:00', Date.UTC(2026, 0, 14, 12)],
    ['2026-01-14T12:00+01:00', Date.UTC(2026, 0, 14, 11)],
    ['2026-01-14', Date.UTC(2026, 0, 14)],
  ])('%s', (text, instantMs) => {
    expect(writtenInstantMs(text)).toBe(instantMs);
  });

  it.each([
    '1',
    '2026',
    'March 7',
    '2026-02-31T00:00Z',
    '2026-1-14',
    '-271821-04-20T00:00:00Z',
    '2026-01-14T25:00Z',
    '',
  ])('not %j', (text) => {
    expect(writtenInstantMs(text)).toBeNaN();
  });
});
