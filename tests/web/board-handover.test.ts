import { describe, expect, it } from 'vitest';
import { type SheetRow, sheetOf } from '../../web/src/board/handover/sheet.ts';
import { localClock, utcMinute } from '../../web/src/board/handover/sheet-times.ts';
import type { BoardAnswer, BoardFlight, Evaluation } from '../../worker/schema/board.ts';

const atUtc = '2026-01-14T12:10:00Z';

const evaluation = {
  atUtc: '2026-01-14T11:00:00Z',
  verdict: 'within-limits',
  sentence: 'Light rime',
  radio: 'File one one thousand.',
  altitudeFt: 11_000,
  fluid: { onBoardL: 60, neededHighL: 25, coversHighEstimate: true },
  fluidUnknownWhy: '',
  destination: { aerodrome: 'KBGR', standing: 'above', sentence: 'TAF 11 UTC: 2,500 ft' },
  alternate: null,
  oldestDataUtc: '2026-01-14T06:00:00Z',
  hasInventedData: false,
} as unknown as Evaluation;

function flight(id: string, given: Partial<BoardFlight> = {}): BoardFlight {
  return {
    id,
    label: id,
    tail: 'TAIL-1',
    from: 'KBTV',
    to: 'KBGR',
    departureUtc: '2026-01-14T13:30:00Z',
    verdict: 'within-limits',
    why: 'Light rime',
    evaluation,
    failure: null,
    inoperative: [],
    change: null,
    acknowledged: null,
    shared: null,
    departed: null,
    arrived: null,
    overdueAtUtc: null,
    cancelled: false,
    ...given,
  } as BoardFlight;
}

function sheet(...flights: BoardFlight[]) {
  const board = { id: 'b', name: 'Invented', timeZone: 'America/New_York', standsAtUtc: null };
  return sheetOf({ board, asOfUtc: atUtc, flights, waiting: 0, cautions: [] } as unknown as BoardAnswer);
}

const rowOf = (given: Partial<BoardFlight>) => sheet(flight('RW1', given)).rows[0]!;
const words = (row: SheetRow, cell: 'time' | 'altitude' | 'equipment' | 'weather' | 'change') =>
  row[cell].map(({ text }) => text.replaceAll('\u00a0', ' '));

describe('the hand-over sheet', () => {
  it('has the worst first, and says who arrived or is cancelled apart', () => {
    const { rows, counts, done } = sheet(
      flight('fine', { verdict: 'no-ice-found' }),
      flight('bad', { verdict: 'outside-limits' }),
      flight('dark', { verdict: 'unknown', evaluation: null }),
      flight('home', { verdict: 'outside-limits', arrived: { atUtc, by: 'AB' } }),
      flight('off', { cancelled: true }),
    );
    expect(rows.map(({ id }) => id)).toEqual(['bad', 'dark', 'fine']);
    expect(counts.map(({ verdict, count }) => `${verdict} ${count}`)).toEqual([
      'outside-limits 1',
      'unknown 1',
      'within-limits 0',
      'no-ice-found 1',
    ]);
    expect(done).toEqual([
      'home TAIL-1 KBTV–KBGR of 14 Jan 13:30Z, arrived 12:10Z',
      'off TAIL-1 KBTV–KBGR of 14 Jan 13:30Z, cancelled',
    ]);
  });

  it('tells the age of the oldest data, and how many flights have none', () => {
    const { age } = sheet(flight('a'), flight('b', { evaluation: null, verdict: 'unknown' }));
    expect(age).toBe('Oldest data in use 14 Jan 06:00Z, 6 h 10 min old; 1 of 2 flights without data');
    expect(sheet(flight('a', { evaluation: null })).age).toBe('No data in use; 1 of 1 flights without data');
  });

  it('gives both times and the marks, and says overdue from its minute on', () => {
    expect(words(rowOf({}), 'time')).toEqual(['14 Jan 13:30Z', '08:30 local', 'not departed']);
    const departed = { atUtc: '2026-01-14T10:00:00Z', by: 'AB' };
    expect(words(rowOf({ departed, overdueAtUtc: atUtc }), 'time')).toContain('OVERDUE since 12:10Z');
    expect(sheet(flight('a', { overdueAtUtc: '2026-01-14T12:10:01Z' })).overdue).toBe(0);
  });

  it('gives no altitude to file of a verdict that no longer holds', () => {
    expect(words(rowOf({}), 'altitude')).toEqual(['11,000 ft', '“File one one thousand.”']);
    expect(words(rowOf({ verdict: 'unknown' }), 'altitude')).toEqual([
      'not to be held to',
      'at 11:00Z it was within limits, 11,000 ft',
    ]);
    expect(words(rowOf({ evaluation: null }), 'altitude')).toEqual(['none: never worked out']);
  });

  it('gives no fluid and no weather of a verdict that no longer holds, nor of one that is unknown for another reason', () => {
    for (const gone of [
      rowOf({ verdict: 'unknown', why: 'The last attempt failed' }),
      rowOf({ evaluation: { ...evaluation, verdict: 'unknown' }, verdict: 'unknown', why: 'Data too old' }),
    ]) {
      expect(words(gone, 'altitude')[0]).toBe('not to be held to');
      expect(words(gone, 'equipment')[0]).toBe('fluid unknown: what was worked out is not to be held to');
      expect(words(gone, 'weather')).toEqual(['unknown: what was worked out is not to be held to']);
    }
  });

  it('never takes unknown fluid or weather for none', () => {
    const dark = { ...evaluation, fluid: null, fluidUnknownWhy: 'nobody entered it' };
    expect(words(rowOf({ evaluation: dark }), 'equipment')[0]).toBe('fluid unknown: nobody entered it');
    const row = rowOf({ evaluation: null });
    expect(words(row, 'equipment')[0]).toBe('fluid unknown: never worked out');
    expect(words(row, 'weather')).toEqual(['unknown: never worked out']);
  });

  it('rounds fluid away from comfort and marks what does not cover', () => {
    const fluid = { onBoardL: 30.9, neededHighL: 30.2, coversHighEstimate: false };
    const { equipment } = rowOf({ evaluation: { ...evaluation, fluid } });
    expect(equipment[0]).toEqual({
      text: 'fluid 30\u00a0L, needs up to 31\u00a0L: SHORT',
      isGrave: true,
    });
  });

  it('marks weather that is below or unknown, and names the alternate', () => {
    const alternate = { ...evaluation.destination, aerodrome: 'KPWM', standing: 'unknown' as const };
    const { weather } = rowOf({ evaluation: { ...evaluation, alternate } });
    expect(weather.map(({ text, isGrave }) => [text, isGrave])).toEqual([
      ['KBGR above minima: TAF 11 UTC: 2,500 ft', false],
      ['alternate KPWM unknown: TAF 11 UTC: 2,500 ft', true],
    ]);
  });

  it('says who acknowledged the last change, and not one before it', () => {
    const change = { seq: 5, atUtc, kind: 'worse' as const, sentence: 'Outside limits' };
    const seen = (seq: number) => words(rowOf({ change, acknowledged: { seq, by: 'AB', atUtc } }), 'change');
    expect(seen(5)).toEqual(['12:10Z Outside limits', 'seen by AB 12:10Z']);
    expect(seen(4)).toEqual(['12:10Z Outside limits', 'NOT ACKNOWLEDGED']);
  });

  it('says what is another since a brief was shared', () => {
    const shared = { id: 's', atUtc, since: ['altitude 9,000 ft'] };
    expect(words(rowOf({ shared }), 'change')).toEqual(['shared 12:10Z, since then: altitude 9,000 ft']);
    expect(words(rowOf({ shared: { ...shared, since: [] } }), 'change')).toEqual([
      'shared 12:10Z, the same verdict and altitude since',
    ]);
  });
});

it('times are UTC and the board’s, whatever the device; no time of a zone that is not known', () => {
  expect(utcMinute('2026-01-14T23:59:00Z')).toBe('14 Jan 23:59Z');
  expect(utcMinute('no instant')).toBe('?');
  expect(localClock('2026-07-14T04:30:00Z', 'America/New_York')).toBe('00:30');
  expect(localClock(atUtc, 'Nowhere/At_All')).toBeUndefined();
});
