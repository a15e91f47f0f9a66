import { describe, expect, it } from 'vitest';
import { ageAt, dataAgeWords, oldestData } from '../../web/src/age.ts';
import { answerAgeWords, inventedWords, pastWords, staleWords } from '../../web/src/answer/age-line.ts';
import type { DataUsed } from '../../web/src/contract.ts';
import { durationWords } from '../../worker/flight/words.ts';

const MINUTE_MS = 60_000;
const departureMs = Date.parse('2026-01-14T11:30:00Z');

function dataUsed(changes: Partial<DataUsed>): DataUsed {
  return {
    kind: 'sounding',
    id: 'a',
    name: '00901',
    runUtc: null,
    validUtc: '2026-01-14T11:00:00Z',
    usedUpToMinutes: 90,
    alongNm: [[0, 60]],
    lacks: [],
    nearestNm: 12,
    share: 1,
    invented: false,
    attribution: '',
    ...changes,
  };
}

describe('durationWords', () => {
  it.each([
    [0, '0 min'],
    [59, '59 min'],
    [60, '1 h'],
    [72, '1 h 12 min'],
    [47 * 60 + 59, '47 h 59 min'],
    [48 * 60, '2 d'],
    [51 * 60, '2 d 3 h'],
  ])('says %i minutes as %s', (minutes, words) => {
    expect(durationWords(minutes * MINUTE_MS)).toBe(words);
  });
});

describe('dataAgeWords', () => {
  it('gives invented data its age at departure only, however long ago the scenario lies', () => {
    const years = departureMs + 3 * 365 * 24 * 60 * MINUTE_MS;
    expect(dataAgeWords(dataUsed({ invented: true }), departureMs, years)).toBe(
      '30 min old at departure, invented data',
    );
  });

  it('gives real data its age now before departure', () => {
    expect(dataAgeWords(dataUsed({}), departureMs, departureMs - 10 * MINUTE_MS)).toBe('20 min old now');
  });

  it('gives real data both ages after departure', () => {
    expect(dataAgeWords(dataUsed({}), departureMs, departureMs + 60 * MINUTE_MS)).toBe(
      '1 h 30 min old now, 30 min old at departure',
    );
  });

  it('counts the run of a grid, not the hour it is valid for', () => {
    const grid = dataUsed({ kind: 'grid', runUtc: '2026-01-14T06:00:00Z', validUtc: '2026-01-14T12:00:00Z' });
    expect(dataAgeWords(grid, departureMs, departureMs - 30 * MINUTE_MS)).toBe('5 h old now');
  });
});

it('ageAt says of a later instant that it lies after, never a negative age', () => {
  expect(ageAt(departureMs + 30 * MINUTE_MS, departureMs, 'at departure')).toBe(
    'valid 30 min after departure',
  );
});

it('oldestData picks by run for grids and by hour for soundings', () => {
  const grid = dataUsed({
    id: 'grid',
    kind: 'grid',
    runUtc: '2026-01-14T06:00:00Z',
    validUtc: '2026-01-14T12:00:00Z',
  });
  expect(oldestData([dataUsed({}), grid])?.id).toBe('grid');
});

describe('the answer’s age line', () => {
  const leg = { departureUtc: '2026-01-14T11:30:00Z' } as Parameters<typeof answerAgeWords>[0]['leg'];

  it('says in words that no data reaches the leg', () => {
    expect(answerAgeWords({ data: [], leg }, departureMs)).toBe('none reaches this leg');
  });

  it('counts the hours of a model as one source, and says when one of them lacks something', () => {
    const hour = (validH: number, lacks: string[] = []) =>
      dataUsed({
        kind: 'grid',
        name: 'fine',
        runUtc: '2026-01-14T10:00:00Z',
        validUtc: `2026-01-14T${validH}:00:00Z`,
        lacks,
      });
    const words = (...data: DataUsed[]) => answerAgeWords({ data, leg }, departureMs);
    expect(words(hour(11), hour(12))).toBe('fine, 1 h 30 min old now');
    expect(words(hour(11), hour(12), dataUsed({}))).toBe('2 sources, the oldest 1 h 30 min old now');
    expect(words(hour(11), hour(12, ['4 messages of its file refused']))).toBe(
      'fine, 1 h 30 min old now; incomplete: see Data',
    );
  });

  it('calls a brief of real data stale once its time has come, and an invented one never', () => {
    const staleAtUtc = '2026-01-14T12:00:00Z';
    const afterMs = Date.parse('2026-01-14T12:01:00Z');
    expect(staleWords({ data: [dataUsed({})], staleAtUtc }, afterMs)).toBe(
      'Stale since 14 Jan 12:00 UTC: brief the leg again.',
    );
    expect(staleWords({ data: [dataUsed({})], staleAtUtc }, afterMs - 2 * MINUTE_MS)).toBeUndefined();
    expect(staleWords({ data: [dataUsed({ invented: true })], staleAtUtc }, afterMs)).toBeUndefined();
  });
});

describe('what makes an answer one of the past', () => {
  const leg = { departureUtc: '2026-01-14T11:30:00Z' } as Parameters<typeof pastWords>[0]['leg'];
  const brief = { data: [dataUsed({})], leg, staleAtUtc: '2026-01-14T11:20:00Z' };
  const atMs = (utc: string) => Date.parse(`2026-01-14T${utc}Z`);

  it('is nothing before it is stale', () => {
    expect(pastWords(brief, atMs('11:19:59'))).toEqual([]);
  });

  it('is that newer data is due, or that it has departed, with the year', () => {
    expect(pastWords(brief, atMs('11:20:00'))).toEqual(['Stale since 14 Jan 2026 11:20 UTC']);
    expect(pastWords(brief, atMs('11:30:01'))).toEqual([
      'Departed 14 Jan 2026 11:30 UTC',
      'Stale since 14 Jan 2026 11:20 UTC',
    ]);
    expect(pastWords({ ...brief, staleAtUtc: null }, atMs('11:30:01'))).toEqual([
      'Departed 14 Jan 2026 11:30 UTC',
    ]);
  });

  it('is never the age of a scenario that is wholly invented', () => {
    const invented = dataUsed({ invented: true });
    expect(pastWords({ ...brief, data: [invented] }, atMs('23:00:00'))).toEqual([]);
    expect(pastWords({ ...brief, data: [invented, dataUsed({})] }, atMs('23:00:00'))).toHaveLength(2);
  });

  it('says whether all or part of the data is invented', () => {
    const invented = dataUsed({ invented: true });
    expect(inventedWords({ data: [invented] })).toBe('Invented data, for trying only');
    expect(inventedWords({ data: [invented, dataUsed({})] })).toBe('Partly invented data, for trying only');
    expect(inventedWords({ data: [dataUsed({})] })).toBeUndefined();
  });
});
