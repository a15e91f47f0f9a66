import { describe, expect, it } from 'vitest';
import {
  countsOf,
  filtersFromQuery,
  isGrave,
  isListed,
  NO_FILTERS,
  putFilters,
} from '../../web/src/board/filters.ts';
import { heldOrder } from '../../web/src/board/held-order.ts';
import { drawnRows, rowWindow, towards } from '../../web/src/board/row-window.ts';
import { allLooked, isUnread, wentBad, withLooked, withoutHeld } from '../../web/src/board/unread.ts';
import type { BoardFlight } from '../../worker/schema/board.ts';
import { AS_OF_UTC, inventedBoard, inventedFlight, utcAt } from '../support/invented-board.ts';

const nowMs = Date.parse(AS_OF_UTC);
const toCome = { departed: null, arrived: null, cancelled: false, overdueAtUtc: null };
const flightWith = (changes: Partial<BoardFlight>) => inventedFlight(5, { ...toCome, ...changes });
const change = (seq: number, kind: 'first' | 'worse' | 'better' | 'mark') =>
  ({ seq, atUtc: AS_OF_UTC, kind, sentence: 'Another verdict.' }) as const;

describe('the filter by time', () => {
  const next2 = { ...NO_FILTERS, nextHours: 2 };

  it('lists what departs within it, and keeps what should have left or is under way', () => {
    const at = (minutes: number) => isListed(flightWith({ departureUtc: utcAt(minutes) }), next2, nowMs);
    expect([at(119), at(120), at(121), at(-300)]).toEqual([true, true, false, true]);
  });

  it('leaves out what arrived', () => {
    const arrived = flightWith({ departureUtc: utcAt(-90), arrived: { atUtc: utcAt(-5), by: 'Robin' } });
    expect([isListed(arrived, next2, nowMs), isListed(arrived, NO_FILTERS, nowMs)]).toEqual([false, true]);
  });
});

describe('the filters by place and name', () => {
  const flight = flightWith({ from: 'KBTV', to: 'KBGR', label: 'ZZ-106', tail: 'ZZ-AF' });
  const listed = (filters: Partial<typeof NO_FILTERS>) =>
    isListed(flight, { ...NO_FILTERS, ...filters }, nowMs);

  it('match where it begins and where it ends, in any case', () => {
    expect([listed({ station: 'kbtv' }), listed({ station: 'KBG' }), listed({ station: 'KALB' })]).toEqual([
      true,
      true,
      false,
    ]);
  });

  it('match label and tail', () => {
    expect([listed({ text: '106' }), listed({ text: 'af' }), listed({ text: 'kbtv' })]).toEqual([
      true,
      true,
      false,
    ]);
  });
});

describe('the counts of the head', () => {
  it('count every leg once by its verdict or as done, and the overdue beside', () => {
    const { flights } = inventedBoard(200);
    const counts = countsOf(flights, nowMs);
    const { overdue, ...others } = counts;
    expect(Object.values(others).reduce((sum, each) => sum + each, 0)).toBe(200);
    expect(Math.min(overdue, ...Object.values(others))).toBeGreaterThan(0);
  });

  it('list their legs when chosen', () => {
    const overdue = flightWith({ verdict: 'no-ice-found', overdueAtUtc: utcAt(-1) });
    const only = (...groups: readonly ('overdue' | 'unknown' | 'no-ice-found')[]) =>
      isListed(overdue, { ...NO_FILTERS, groups }, nowMs);
    expect([only('overdue'), only('no-ice-found'), only('unknown'), only('unknown', 'overdue')]).toEqual([
      true,
      true,
      false,
      true,
    ]);
    expect(isGrave(overdue, nowMs)).toBe(true);
  });
});

it('filters outlast a load by the address, and what is none is dropped', () => {
  const query = new URLSearchParams('leg=x');
  const filters = { nextHours: 6, station: 'KBTV', text: '10', groups: ['unknown', 'overdue'] as const };
  putFilters(query, filters);
  expect(filtersFromQuery(query)).toEqual({ ...filters, groups: ['unknown', 'overdue'] });
  expect(query.get('leg')).toBe('x');
  expect(filtersFromQuery(new URLSearchParams('next=7&only=clear,unknown'))).toEqual({
    ...NO_FILTERS,
    groups: ['unknown'],
  });
});

describe('the order of the list', () => {
  it('is the wanted one while nobody holds it', () => {
    expect(heldOrder(['a', 'b'], ['b', 'a'], false)).toEqual({ ids: ['b', 'a'], isBehind: false });
  });

  it('stays under the finger: what is gone keeps its place, what is new comes last', () => {
    expect(heldOrder(['a', 'b', 'c'], ['d', 'c', 'a'], true)).toEqual({
      ids: ['a', 'b', 'c', 'd'],
      isBehind: true,
    });
  });

  it('is not behind while it is the wanted one', () => {
    const shown = ['a', 'b'];
    const order = heldOrder(shown, ['a', 'b'], true);
    expect(order.isBehind).toBe(false);
    expect(order.ids).toBe(shown);
  });
});

describe('the rows that are drawn', () => {
  const measures = { topPx: -50_000, screenPx: 1000, rowPx: 100, count: 2000 };

  it('cover the screen with some to spare, wherever it is scrolled', () => {
    for (let topPx = 400; topPx > -199_000; topPx -= 137) {
      const { first, end } = rowWindow({ ...measures, topPx });
      const above = Math.max(0, -topPx / 100);
      expect(first).toBeLessThanOrEqual(above);
      expect(end).toBeGreaterThanOrEqual(Math.min(2000, (1000 - topPx) / 100));
      expect(end - first).toBeLessThan(40);
    }
  });

  it('are none of an empty list, and few before a row was measured', () => {
    expect(drawnRows(rowWindow({ ...measures, count: 0 }), -1)).toEqual([]);
    expect(rowWindow({ ...measures, rowPx: 0 })).toEqual({ first: 0, end: 1, seen: 0 });
  });

  it('come a few at a time, those on the screen first, and all of them in the end', () => {
    const target = rowWindow({ ...measures, topPx: -100_000 });
    const far = rowWindow({ ...measures, topPx: -50_000 });
    expect(towards(far, target, 2)).toEqual({ first: 1000, end: 1002, seen: 1000 });
    expect(towards({ first: 1003, end: 1030, seen: 1003 }, target, 2).first).toBe(1001);
    for (const start of [-50_000, -99_500, -100_400, -150_000]) {
      let now = rowWindow({ ...measures, topPx: start });
      let pictures = 0;
      for (; pictures < 40 && (now.first !== target.first || now.end !== target.end); pictures += 1) {
        const next = towards(now, target, 2);
        const isKept = (index: number) => index >= now.first && index < now.end;
        expect(drawnRows(next, -1).filter((index) => !isKept(index)).length).toBeLessThanOrEqual(2);
        now = next;
      }
      expect(now).toEqual(target);
      expect(pictures).toBeLessThanOrEqual(12);
    }
  });

  it('have the one with the focus among them, however far it is', () => {
    expect(drawnRows({ first: 10, end: 13 }, 2)).toEqual([2, 10, 11, 12]);
    expect(drawnRows({ first: 10, end: 13 }, 90)).toEqual([10, 11, 12, 90]);
    expect(drawnRows({ first: 10, end: 13 }, 11)).toEqual([10, 11, 12]);
  });
});

describe('a change is not looked at', () => {
  const seen = { base: 100, flights: {}, gone: {} };

  it('while its number is above what was looked at, of all or of this leg', () => {
    const flight = flightWith({ change: change(105, 'worse') });
    expect(isUnread(flight, seen)).toBe(true);
    expect(isUnread(flight, withLooked(seen, flight))).toBe(false);
    expect(isUnread(flight, allLooked(105, []))).toBe(false);
    expect(isUnread({ ...flight, change: change(106, 'better') }, withLooked(seen, flight))).toBe(true);
  });

  it('of a mark never, of a new leg where it is bad', () => {
    expect(isUnread(flightWith({ change: change(105, 'mark') }), seen)).toBe(false);
    expect(isUnread(flightWith({ change: change(105, 'first'), verdict: 'within-limits' }), seen)).toBe(
      false,
    );
    expect(isUnread(flightWith({ change: change(105, 'first'), verdict: 'unknown' }), seen)).toBe(true);
  });

  it('went bad where it got worse or came bad, not where it got better', () => {
    expect(wentBad(flightWith({ change: change(105, 'worse') }), seen)).toBe(true);
    expect(wentBad(flightWith({ change: change(105, 'first'), verdict: 'outside-limits' }), seen)).toBe(true);
    expect(wentBad(flightWith({ change: change(105, 'better') }), seen)).toBe(false);
  });
});

describe('a leg whose verdict went without a change of the board', () => {
  const held = flightWith({ change: change(90, 'better') });
  const gone = { ...held, verdict: 'unknown', why: 'The last attempt failed' } as const;
  const seen = allLooked(100, [held]);
  const again = { ...gone, evaluation: { ...gone.evaluation!, atUtc: utcAt(-1) } };

  it('got worse, until it was looked at as it is', () => {
    expect([wentBad(held, seen), wentBad(gone, seen)]).toEqual([false, true]);
    expect(wentBad(gone, withLooked(seen, held))).toBe(true);
    expect(wentBad(gone, withLooked(seen, gone))).toBe(false);
    expect(wentBad(gone, allLooked(100, [gone]))).toBe(false);
    expect(withLooked(seen, held)).toBe(seen);
  });

  it('gets worse anew once it held again, or was worked out again', () => {
    const looked = withLooked(seen, gone);
    expect(wentBad(again, looked)).toBe(true);
    expect(withoutHeld(looked, new Map([[gone.id, gone]]))).toBe(looked);
    expect(wentBad(gone, withoutHeld(looked, new Map([[held.id, held]])))).toBe(true);
  });

  it('is no news once it has arrived, and none where it was never worked out', () => {
    expect(wentBad({ ...gone, arrived: { atUtc: utcAt(-2), by: 'Kim' } }, seen)).toBe(false);
    expect(wentBad({ ...gone, evaluation: null }, seen)).toBe(false);
  });
});
