/** Flights of a board on D1: their numbers, what dispatchers enter of them, and what does not read back. */
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import type { Mark } from '../../worker/schema/board.ts';
import { createBoardRepository } from '../../worker/store/board-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import {
  BOARD,
  type Boards,
  CHANGE,
  emptied,
  flightIdOf,
  H,
  held,
  makeBoard,
  makeEvaluation,
  makeFlight,
  makeOutcome,
  NOON_MS,
  seqOf,
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

const UTC = '2026-01-14T13:05:00Z';
const markOf = (mark: Mark['mark'], atUtc: string | null = UTC): Mark => ({ mark, atUtc, by: 'Ann' });
const found = async (letters: string) => (await boards.flight(BOARD, flightIdOf(letters)))!;
const lettersOf = (flights: readonly { readonly id: string }[]) => flights.map(({ id }) => id[0]).join('');
const onBoard = async () => lettersOf(await boards.flights(BOARD, WINDOW.fromMs, WINDOW.toMs));
const waiting = () => boards.waiting(BOARD, WINDOW.fromMs);

it('flights come as they were wanted, by departure, within the instants asked for', async () => {
  await withFlights(boards, [makeFlight('b', 3), makeFlight('a', 1), makeFlight('c', 5)]);
  expect(await onBoard()).toBe('abc');
  expect(lettersOf(await boards.flights(BOARD, NOON_MS + H, NOON_MS + 3 * H))).toBe('ab');
  expect(await found('a')).toEqual({
    ...makeFlight('a', 1),
    ...{
      boardId: BOARD,
      seq: 1,
      isRemoved: false,
      evaluation: undefined,
      failure: undefined,
      change: undefined,
    },
    ...{
      acknowledged: undefined,
      shared: undefined,
      departed: undefined,
      arrived: undefined,
      cancelled: undefined,
    },
  });
  expect(await boards.flight(BOARD, 'none')).toBeUndefined();
});

it('changes come by number, and those of one number never apart', async () => {
  await withFlights(boards, [makeFlight('a'), makeFlight('b')]);
  await boards.agree(
    BOARD,
    [makeFlight('a'), makeFlight('b'), makeFlight('c'), makeFlight('d'), makeFlight('e')],
    WINDOW,
  );
  await boards.putTail(BOARD, 'N9', { fluidOnBoardL: 1, inoperative: [], note: '', by: 'Ann' }, at(NOON_MS));
  const since = async (seq: number, limit: number) => {
    const { flights, tails } = await boards.changedSince(BOARD, seq, limit);
    return `${lettersOf(flights)} ${tails.length}`;
  };
  expect(await since(0, 10)).toBe('abcde 1');
  expect(await since(0, 1)).toBe('ab 0');
  expect(await since(0, 2)).toBe('ab 0');
  expect(await since(0, 3)).toBe('abcde 0');
  expect(await since(1, 2)).toBe('cde 0');
  expect(await since(2, 2)).toBe(' 1');
  expect(await since(3, 2)).toBe(' 0');
  expect(await seqOf(boards)).toBe(3);
});

it('marks are set and taken off, each with a number; what is so already takes none', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const mark = (one: Mark) => boards.mark(BOARD, flightIdOf('a'), one);
  expect(await mark(markOf('arrived'))).toMatchObject({
    arrived: { atMs: Date.parse(UTC), by: 'Ann' },
    seq: 2,
  });
  expect(await mark(markOf('arrived'))).toMatchObject({ seq: 2, change: undefined });
  expect(await mark(markOf('cancelled'))).toMatchObject({
    cancelled: { by: 'Ann' },
    departed: undefined,
    seq: 3,
  });
  expect(await mark(markOf('cancelled', null))).toMatchObject({ cancelled: undefined, seq: 4 });
  expect(await mark(markOf('departed', null))).toMatchObject({ seq: 4 });
  expect(await boards.mark(BOARD, 'none', markOf('arrived'))).toBeUndefined();
  await boards.mark(BOARD, flightIdOf('a'), markOf('arrived', null));
  await boards.agree(BOARD, [], WINDOW);
  expect(await mark(markOf('departed'))).toBeUndefined();
  expect(await seqOf(boards)).toBe(6);
});

it('20 who write at once take 20 numbers', async () => {
  const letters = Array.from({ length: 20 }, (_, at) => `n${at}n`);
  await withFlights(
    boards,
    letters.map((each) => makeFlight(each)),
  );
  const marked = await Promise.all(
    letters.map((each) => boards.mark(BOARD, flightIdOf(each), markOf('departed'))),
  );
  expect(marked.map((flight) => flight!.seq).sort((a, b) => a - b)).toEqual(letters.map((_, at) => at + 2));
  expect(await seqOf(boards)).toBe(21);
});

it('what is entered of an aeroplane has its flights worked out again that have not arrived, under one number', async () => {
  await withFlights(boards, [makeFlight('a'), makeFlight('b'), makeFlight('c', 1, { tail: 'N2' })]);
  for (const each of ['a', 'b', 'c']) await workedOut(boards, each);
  await boards.mark(BOARD, flightIdOf('b'), markOf('arrived'));
  await workedOut(boards, 'a');
  const before = (await seqOf(boards))!;
  await boards.putTail(
    BOARD,
    'N1',
    { fluidOnBoardL: null, inoperative: ['windshield'], note: 'n', by: 'Ann' },
    at(NOON_MS),
  );
  expect(await waiting()).toBe(1);
  const { flights, tails } = await boards.changedSince(BOARD, before, 10);
  expect(flights.map(({ id, seq }) => [id[0], seq])).toEqual([['a', before + 1]]);
  const tail = {
    tail: 'N1',
    fluidOnBoardL: undefined,
    inoperative: ['windshield'],
    note: 'n',
    fluidEnteredMs: undefined,
    enteredMs: NOON_MS,
    by: 'Ann',
  };
  expect(tails).toEqual([tail]);
  await boards.putTail(
    BOARD,
    'N1',
    { fluidOnBoardL: 40, inoperative: [], note: '', by: 'Ben' },
    at(NOON_MS + 1),
  );
  expect(await boards.tails(BOARD)).toEqual([
    {
      tail: 'N1',
      fluidOnBoardL: 40,
      fluidEnteredMs: NOON_MS + 1,
      inoperative: [],
      note: '',
      enteredMs: NOON_MS + 1,
      by: 'Ben',
    },
  ]);
  expect(await seqOf(boards)).toBe(before + 2);
  // An equipment box that is ticked later makes no old figure new.
  await boards.putTail(BOARD, 'N1', { inoperative: ['ice-light'], note: '', by: 'Cy' }, at(NOON_MS + 9));
  expect((await boards.tails(BOARD))[0]).toMatchObject({
    fluidOnBoardL: 40,
    fluidEnteredMs: NOON_MS + 1,
    inoperative: ['ice-light'],
    enteredMs: NOON_MS + 9,
  });
});

it('what was shared of a flight stands beside it', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const { verdict, altitudeFt, acceptFt, exposure, reasonCodes, destination, alternate } = makeEvaluation();
  const evaluation = { verdict, altitudeFt, acceptFt, exposure, reasonCodes, destination, alternate };
  const shared = { id: 's', atMs: NOON_MS, evaluation };
  await boards.setShared(BOARD, flightIdOf('a'), shared);
  expect(await found('a')).toMatchObject({ shared, seq: 2 });
  await boards.setShared(BOARD, 'none', shared);
  expect(await seqOf(boards)).toBe(2);
});

it('flights of long ago are deleted, but not of a board that stands at an instant', async () => {
  await withFlights(boards, [makeFlight('a', 1), makeFlight('b', 2)]);
  const standing = 's'.repeat(22);
  await boards.create(makeBoard({ id: standing, standsMs: NOON_MS }), []);
  await boards.agree(standing, [makeFlight('a', 1)], WINDOW);
  expect(await boards.forgetFlights(NOON_MS + 2 * H)).toBe(1);
  expect([await onBoard(), (await boards.flights(standing, 0, 1e15)).length]).toEqual(['b', 1]);
});

const UNREADABLE = { sentence: expect.stringMatching(/could not be read$/) };
it.each([
  [
    'leg',
    {
      evaluation: undefined,
      failure: { sentence: 'The leg could not be read' },
      leg: { label: '?', tail: 'N1' },
    },
  ],
  ['evaluation', { evaluation: undefined, failure: UNREADABLE }],
  ['failure', { failure: UNREADABLE }],
  ['change', { change: UNREADABLE }],
  ['departed', { departed: undefined }],
  ['acknowledged', { acknowledged: undefined }],
  ['shared', { shared: undefined }],
])(
  'a flight whose %s does not read back stays on the board and never looks better for it',
  async (column, expected) => {
    await withFlights(boards, [makeFlight('a')]);
    await workedOut(boards, 'a', { change: CHANGE });
    await boards.mark(BOARD, flightIdOf('a'), markOf('departed'));
    for (const damage of ['{"atMs":', '{"verdict":"no-ice-found"}']) {
      await local.db.prepare(`UPDATE board_flights SET ${column} = ?1`).bind(damage).run();
      expect((await boards.flights(BOARD, 0, 1e15))[0]).toMatchObject({
        ...expected,
        departureMs: NOON_MS + H,
      });
    }
  },
);

it('agreement mends a leg that does not read, and an aeroplane whose entry does not read has nothing that works', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await boards.putTail(
    BOARD,
    'N1',
    { fluidOnBoardL: 5, inoperative: [], note: 'ok', by: 'Ann' },
    at(NOON_MS),
  );
  await local.db.batch([
    local.db.prepare("UPDATE board_flights SET leg = 'x'"),
    local.db.prepare("UPDATE board_tails SET inoperative = 'x'"),
  ]);
  const [tail] = await boards.tails(BOARD);
  expect(tail!.inoperative).toHaveLength(8);
  expect(tail!.note).toMatch(/could not be read/);
  await boards.agree(BOARD, [makeFlight('a')], WINDOW);
  expect((await found('a')).leg).toEqual(makeFlight('a').leg);
});

it('a change that fails half-way changes nothing and takes no number', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const claim = await held(boards, 'a');
  await local.db
    .prepare(
      "CREATE TRIGGER no_number BEFORE UPDATE OF seq ON boards BEGIN SELECT RAISE(ABORT, 'made to fail'); END",
    )
    .run();
  try {
    const before = await found('a');
    await expect(boards.settle(claim, makeOutcome({ change: CHANGE }))).rejects.toThrow(/made to fail/);
    await expect(boards.mark(BOARD, flightIdOf('a'), markOf('departed'))).rejects.toThrow(/made to fail/);
    await expect(boards.agree(BOARD, [makeFlight('b')], WINDOW)).rejects.toThrow(/made to fail/);
    await expect(
      boards.putTail(BOARD, 'N1', { fluidOnBoardL: 5, inoperative: [], note: '', by: 'A' }, at(1)),
    ).rejects.toThrow(/made/);
    expect([await found('a'), await onBoard(), await boards.tails(BOARD)]).toEqual([before, 'a', []]);
  } finally {
    await local.db.prepare('DROP TRIGGER no_number').run();
  }
  expect(await seqOf(boards)).toBe(1);
  expect(await boards.settle(claim, makeOutcome())).toBe(true);
});

it('a window of more flights than an answer holds is refused, rather than read', async () => {
  const legs = Array.from({ length: 4001 }, (_, at) => at);
  await boards.putLegs(BOARD, [], true);
  await local.db
    .prepare(
      `INSERT INTO board_flights (board_id, flight_id, leg_id, leg, departure_ms, seq)
       SELECT ?1, 'f' || value, 'l', '{}', ?2, 1 FROM json_each(?3)`,
    )
    .bind(BOARD, NOON_MS, JSON.stringify(legs))
    .run();
  await expect(boards.flights(BOARD, NOON_MS - 1, NOON_MS + 1)).rejects.toMatchObject({ field: 'toUtc' });
});
