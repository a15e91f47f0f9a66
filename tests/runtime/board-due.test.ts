/** Which flights are taken to be worked out, by mark and by age, and by which indexes. */
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { createBoardRepository } from '../../worker/store/board-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import {
  BOARD,
  type Boards,
  DUE_RULE,
  emptied,
  flightIdOf,
  H,
  held,
  LEASE_MS,
  makeBoard,
  makeFlight,
  NOON_MS,
  REACH,
  WINDOW,
  withFlights,
  workedOut,
} from '../support/stored-board.ts';

/** Of a board that goes with the clock. */
const at = (nowMs: number) => ({ nowMs, boardMs: nowMs });

let local: LocalD1;
let boards: Boards;
beforeAll(async () => {
  local = await startLocalD1();
  boards = createBoardRepository(local.db);
});
afterAll(() => local.stop());
beforeEach(() => emptied(local));

type Rule = Parameters<Boards['takeDue']>[0];
const LATER_MS = NOON_MS + 60_000;
const takenOf = async (rule: Partial<Rule> = {}) =>
  (await boards.takeDue({ ...DUE_RULE, nowMs: LATER_MS, ...rule }))
    .map(({ flightId }) => flightId[0])
    .join('');

/** A flight that was worked out at noon. */
async function settledFlight(standsMs?: number) {
  await boards.create(makeBoard({ standsMs }), []);
  await boards.agree(BOARD, [makeFlight('a', 1)], WINDOW);
  await workedOut(boards, 'a');
}

describe('by mark', () => {
  it('the next departure comes first, those that left last, at most so many', async () => {
    await withFlights(boards, [
      makeFlight('c', 3),
      makeFlight('d', -1),
      makeFlight('a', 1),
      makeFlight('b', 2),
    ]);
    expect(await takenOf({ limit: 2 })).toBe('ab');
    expect(await takenOf()).toBe('cd');
    expect(await takenOf()).toBe('');
  });

  it('the flights of a board that stands long ago do not go before those of now', async () => {
    await withFlights(boards, [makeFlight('a', 1)]);
    const id = 's'.repeat(22);
    await boards.create(makeBoard({ id, standsMs: NOON_MS - 1000 * H }), []);
    const ofThen = { ...makeFlight('s', 2 - 1000), id: flightIdOf('s') };
    await boards.agree(id, [ofThen], { ...WINDOW, fromMs: 0 });
    expect(await takenOf()).toBe('as');
  });

  it('two rounds at once take each flight once', async () => {
    await withFlights(boards, [makeFlight('a'), makeFlight('b'), makeFlight('c')]);
    const rounds = await Promise.all([takenOf({ limit: 2 }), takenOf({ limit: 2 })]);
    expect(rounds.join('').split('').sort().join('')).toBe('abc');
  });

  it.each(['arrived', 'cancelled'] as const)(
    'one that is marked %s is not taken, nor one that was removed',
    async (mark) => {
      await withFlights(boards, [makeFlight('a'), makeFlight('b'), makeFlight('c')]);
      await boards.mark(BOARD, flightIdOf('a'), { mark, atUtc: '2026-01-14T12:30:00Z', by: 'Ann' });
      await boards.agree(BOARD, [makeFlight('a'), makeFlight('b')], WINDOW);
      expect(await takenOf()).toBe('b');
    },
  );

  it('one whose end is past is not taken: by its reach, or half a day after departure without one', async () => {
    await withFlights(boards, [makeFlight('a', 1), makeFlight('b', 1)]);
    await workedOut(boards, 'a', { reach: { ...REACH, toMs: NOON_MS + 2 * H } });
    await boards.ask({ boardId: BOARD, flightId: flightIdOf('a') }, 1);
    expect(await takenOf({ nowMs: NOON_MS + 2 * H })).toBe('ab');
    expect(await takenOf({ nowMs: NOON_MS + 2 * H + LEASE_MS })).toBe('b');
    expect(await takenOf({ nowMs: NOON_MS + 13 * H })).toBe('b');
    expect(await takenOf({ nowMs: NOON_MS + 13 * H + LEASE_MS })).toBe('');
  });

  it('one that somebody works at is left to them', async () => {
    await withFlights(boards, [makeFlight('a')]);
    await held(boards, 'a', LATER_MS);
    await boards.putTail(BOARD, 'N1', { fluidOnBoardL: 1, inoperative: [], note: '', by: 'A' }, at(LATER_MS));
    expect(await takenOf({ nowMs: LATER_MS + LEASE_MS - 1 })).toBe('');
    expect(await takenOf({ nowMs: LATER_MS + LEASE_MS })).toBe('a');
  });
});

describe('by age', () => {
  const ages = [
    { withinMs: 2 * H, mostMs: 600_000 },
    { withinMs: 6 * H, mostMs: H },
    { withinMs: Number.POSITIVE_INFINITY, mostMs: 3 * H },
  ];

  it.each([
    ['within two hours of departure', 1, 600_000],
    ['after departure', -1, 600_000],
    ['within six hours', 5, H],
    ['a day ahead', 25, 3 * H],
  ])('a flight %s is worked out again after its own time, not before', async (_, afterH, mostMs) => {
    await withFlights(boards, [makeFlight('a', afterH + mostMs / H)]);
    await workedOut(boards, 'a', { reach: { ...REACH, toMs: NOON_MS + 50 * H } });
    expect(await takenOf({ ages, nowMs: NOON_MS + mostMs })).toBe('');
    expect(await takenOf({ ages, nowMs: NOON_MS + mostMs + 1 })).toBe('a');
  });

  it('beyond the last rule, and on a board that stands at an instant, nothing gets too old', async () => {
    await settledFlight();
    expect(await takenOf({ ages: [{ withinMs: H / 2, mostMs: 1 }], nowMs: NOON_MS + H / 4 })).toBe('');
    await emptied(local);
    await settledFlight(NOON_MS);
    expect(await takenOf({ ages, nowMs: NOON_MS + 1000 * H })).toBe('');
  });

  it('what failed is tried again when a lease is over, also where time stands', async () => {
    await boards.create(makeBoard({ standsMs: NOON_MS }), []);
    await boards.agree(BOARD, [makeFlight('a')], WINDOW);
    await boards.settle(await held(boards, 'a'), { startedMs: NOON_MS, failure: 'No answer' });
    expect(await takenOf({ nowMs: NOON_MS + LEASE_MS - 1 })).toBe('');
    expect(await takenOf({ nowMs: NOON_MS + LEASE_MS })).toBe('a');
  });
});

describe('by indexes', () => {
  it('walks each board from two days ago on, and data by their arrival', async () => {
    const steps: string[] = [];
    const explaining = {
      prepare: (text: string) => ({
        bind: (...values: unknown[]) => ({
          all: async () => {
            const plan = local.db.prepare(`EXPLAIN QUERY PLAN ${text}`).bind(...values);
            steps.push(...(await plan.all<{ detail: string }>()).results.map(({ detail }) => detail));
            return { results: [] };
          },
        }),
      }),
    };
    await createBoardRepository(explaining as unknown as LocalD1['db']).takeDue(DUE_RULE);
    // Boards are few; the others are gathered by the statement itself.
    const scans = steps.filter((step) => /^SCAN (?!.*(VIRTUAL TABLE|CONSTANT ROW))/.test(step));
    expect(new Set(scans)).toEqual(new Set(['SCAN b', 'SCAN f', 'SCAN s', 'SCAN flights']));
    expect(steps).toContain(
      'SEARCH f USING INDEX board_flights_by_departure (board_id=? AND departure_ms>?)',
    );
    // Gathered for the boards, and asked for a flight.
    for (const table of ['grid_hours', 'soundings', 'reports'])
      expect(
        steps.filter((step) => step === `SEARCH ${table} USING INDEX ${table}_by_arrival (ingested_ms>?)`),
      ).toHaveLength(2);
  });
});
