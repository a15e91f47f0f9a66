/** Who works at a flight, and what becomes of the outcome: of two at once one, and nothing is lost with a crash. */
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { createBoardRepository } from '../../worker/store/board-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import {
  BOARD,
  type Boards,
  CHANGE,
  DUE_RULE,
  emptied,
  flightIdOf,
  held,
  LEASE_MS,
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

const A = { boardId: BOARD, flightId: flightIdOf('a') };
const claim = (nowMs = NOON_MS) => boards.claim(A, { leaseMs: LEASE_MS, nowMs });
const found = async () => (await boards.flight(BOARD, A.flightId))!;
const waiting = () => boards.waiting(BOARD, WINDOW.fromMs);
const taken = async (nowMs: number) => (await boards.takeDue({ ...DUE_RULE, nowMs })).length;
const MARK = { atUtc: '2026-01-14T12:30:00Z', by: 'Ann' };
const TAIL = { fluidOnBoardL: 40, inoperative: [], note: '', by: 'Ann' };

it('a claim has the flight, its board and a word that proves it', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const { board, flight, token } = await held(boards, 'a');
  expect([board.id, board.seq, flight.leg, flight.departureMs]).toEqual([
    ...[BOARD, 1, makeFlight('a').leg, makeFlight('a').departureMs],
  ]);
  expect(token).toMatch(/^[0-9a-f-]{36}$/);
});

it('of many that reach for a flight at once one has it, until its lease is over', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const claims = await Promise.all(Array.from({ length: 8 }, () => claim()));
  expect(claims.filter((each) => each !== undefined)).toHaveLength(1);
  expect(await claim(NOON_MS + LEASE_MS - 1)).toBeUndefined();
  expect(await claim(NOON_MS + LEASE_MS)).toBeDefined();
});

it('a claim from a clock that is far ahead holds nobody off', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await claim(NOON_MS + 10 * LEASE_MS);
  expect(await taken(NOON_MS)).toBe(1);
  expect(await claim()).toBeDefined();
});

it('an outcome, its number and its change are one: the change bears the number that was taken', async () => {
  await withFlights(boards, [makeFlight('a'), makeFlight('b')]);
  await workedOut(boards, 'b');
  expect(await boards.settle(await held(boards, 'a'), makeOutcome({ change: CHANGE }))).toBe(true);
  expect(await found()).toMatchObject({
    seq: 3,
    change: { ...CHANGE, seq: 3 },
    evaluation: makeEvaluation(),
  });
  expect(await seqOf(boards)).toBe(3);
});

it('a message that comes again after the outcome has nothing worked out again', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await boards.takeDue(DUE_RULE);
  await workedOut(boards, 'a');
  expect(await claim(NOON_MS + 1)).toBeUndefined();
  expect(await claim(NOON_MS + 10 * LEASE_MS)).toBeUndefined();
  expect([await waiting(), await seqOf(boards)]).toEqual([0, 2]);
});

it('an outcome that is the same again takes a number, since its age is shown, and keeps the change', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await workedOut(boards, 'a', { change: CHANGE });
  await boards.ask(A, NOON_MS + 5);
  const evaluation = makeEvaluation({ atUtc: '2026-01-14T12:30:00.000Z' });
  await workedOut(boards, 'a', { startedMs: NOON_MS + 5, evaluation });
  expect(await found()).toMatchObject({ seq: 3, evaluation, change: { seq: 2 } });
});

it('who lost the claim to another writes nothing and takes no number', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const late = await held(boards, 'a');
  const newer = await held(boards, 'a', NOON_MS + LEASE_MS);
  expect(await boards.settle(late, makeOutcome({ change: CHANGE }))).toBe(false);
  expect([(await found()).evaluation, await seqOf(boards)]).toEqual([undefined, 1]);
  expect(await boards.settle(newer, makeOutcome())).toBe(true);
  expect(await boards.settle(newer, makeOutcome())).toBe(false);
  expect(await seqOf(boards)).toBe(2);
});

it('after a crash a flight is still due, and taken again once asking and lease are over', async () => {
  await withFlights(boards, [makeFlight('a')]);
  expect(await taken(NOON_MS)).toBe(1);
  expect(await taken(NOON_MS + LEASE_MS - 1)).toBe(0);
  await claim(NOON_MS + LEASE_MS - 1);
  expect(await waiting()).toBe(1);
  expect(await taken(NOON_MS + 2 * LEASE_MS - 2)).toBe(0);
  expect(await taken(NOON_MS + 2 * LEASE_MS - 1)).toBe(1);
  expect(await claim(NOON_MS + 2 * LEASE_MS)).toBeDefined();
});

it('what is entered of the aeroplane while its flight is worked out has it worked out once more', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const working = await held(boards, 'a');
  await boards.putTail(BOARD, 'N1', TAIL, at(NOON_MS + 1));
  expect(await boards.settle(working, makeOutcome())).toBe(true);
  expect([await waiting(), await taken(NOON_MS + 2)]).toEqual([1, 1]);
  await workedOut(boards, 'a', { startedMs: NOON_MS + 3 });
  expect([await waiting(), await taken(NOON_MS + 4)]).toEqual([0, 0]);
});

it('so does a change of the schedule, and of another route meanwhile the outcome is not taken at all', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const working = await held(boards, 'a');
  await boards.agree(BOARD, [makeFlight('a', 1, { label: '9' })], WINDOW);
  expect(await boards.settle(working, makeOutcome())).toBe(true);
  expect(await waiting()).toBe(1);
  const again = await held(boards, 'a', NOON_MS + 1);
  await boards.agree(BOARD, [makeFlight('a', 1, { label: '9', route: 'AAAA DCT CCCC' })], WINDOW);
  expect(await boards.settle(again, makeOutcome())).toBe(false);
  expect([(await found()).evaluation, await taken(NOON_MS + 2)]).toEqual([undefined, 1]);
});

it('a flight that was removed, cancelled or has arrived is not worked out, nor is one that is not there', async () => {
  await withFlights(boards, [makeFlight('a'), makeFlight('b')]);
  for (const mark of ['cancelled', 'arrived'] as const) {
    await boards.mark(BOARD, A.flightId, { mark, ...MARK });
    expect([await claim(), await boards.ask(A, NOON_MS), await waiting()]).toEqual([undefined, false, 1]);
    await boards.mark(BOARD, A.flightId, { mark, atUtc: null, by: 'Ann' });
  }
  const working = await held(boards, 'a');
  await boards.agree(BOARD, [makeFlight('b')], WINDOW);
  expect(await boards.settle(working, makeOutcome())).toBe(false);
  expect(await claim(NOON_MS + LEASE_MS)).toBeUndefined();
  expect(await boards.claim({ boardId: BOARD, flightId: 'none' }, { leaseMs: 1, nowMs: 1 })).toBeUndefined();
});

it('a flight that went and came back meanwhile is worked out anew', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const working = await held(boards, 'a');
  await boards.agree(BOARD, [], WINDOW);
  await boards.agree(BOARD, [makeFlight('a')], WINDOW);
  expect(await boards.settle(working, makeOutcome())).toBe(false);
  expect(await claim()).toBeDefined();
});

it('an attempt that fails says so beside the last evaluation, and the next that succeeds takes it off', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await workedOut(boards, 'a');
  await boards.ask(A, NOON_MS + 1);
  const failed = { startedMs: NOON_MS + 2, failure: 'The store gave no answer' };
  expect(await boards.settle(await held(boards, 'a', NOON_MS + 2), failed)).toBe(true);
  const failure = { atMs: NOON_MS + 2, sentence: failed.failure };
  expect(await found()).toMatchObject({ failure, evaluation: makeEvaluation(), seq: 3 });
  await boards.ask(A, NOON_MS + 3);
  await workedOut(boards, 'a', { startedMs: NOON_MS + 4 });
  expect(await found()).toMatchObject({ failure: undefined, seq: 4 });
});

it('an attempt without a word of either kind has failed: the last evaluation does not pass for its outcome', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await workedOut(boards, 'a');
  await boards.ask(A, NOON_MS + 1);
  await boards.settle(await held(boards, 'a', NOON_MS + 1), { startedMs: NOON_MS + 1 });
  expect((await found()).failure).toEqual({ atMs: NOON_MS + 1, sentence: 'Working it out came to nothing' });
});

it('a leg that does not read is handed to nobody and stays due', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await local.db.prepare("UPDATE board_flights SET leg = 'x'").run();
  expect([await claim(), await waiting()]).toEqual([undefined, 1]);
});
