/** The log of acknowledgements, the audit, and a person's right to be forgotten, on D1. */
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { createBoardRepository } from '../../worker/store/board-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import {
  BOARD,
  type Boards,
  CHANGE,
  emptied,
  flightIdOf,
  makeFlight,
  makeKey,
  makeSubscriber,
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

const FLIGHT = flightIdOf('a');
const acknowledge = (seq: number, by = 'Ann', atMs = NOON_MS + 1) =>
  boards.acknowledge({ boardId: BOARD, flightId: FLIGHT, seq, by, atMs });
const found = async () => (await boards.flight(BOARD, FLIGHT))!;
const TAIL = { fluidOnBoardL: 1, inoperative: [], note: '', by: 'Ann' };

/** A flight whose change has number 2. */
async function changedFlight() {
  await withFlights(boards, [makeFlight('a')]);
  await workedOut(boards, 'a', { change: CHANGE });
}

/** Another change of it. */
async function changedAgain(sentence: string) {
  await boards.ask({ boardId: BOARD, flightId: FLIGHT }, NOON_MS);
  await workedOut(boards, 'a', { change: { ...CHANGE, sentence } });
}

it('an acknowledgement is in the log and at the flight, which has a number of its own then', async () => {
  await changedFlight();
  const entry = {
    boardId: BOARD,
    flightId: FLIGHT,
    flightName: 'AAAA-BBBB 123',
    seq: 2,
    sentence: CHANGE.sentence,
    by: 'Ann',
    atMs: NOON_MS + 1,
  };
  expect(await acknowledge(2)).toEqual(entry);
  expect(await boards.log(BOARD)).toEqual([entry]);
  expect(await found()).toMatchObject({
    seq: 3,
    change: { seq: 2 },
    acknowledged: { seq: 2, by: 'Ann', atMs: NOON_MS + 1 },
  });
  expect(await seqOf(boards)).toBe(3);
});

it('what has not happened, is removed or not there cannot be acknowledged, and takes no number', async () => {
  await withFlights(boards, [makeFlight('a')]);
  expect(await acknowledge(1)).toBeUndefined();
  await workedOut(boards, 'a', { change: CHANGE });
  expect(await acknowledge(3)).toBeUndefined();
  expect(
    await boards.acknowledge({ boardId: BOARD, flightId: 'none', seq: 1, by: 'A', atMs: 1 }),
  ).toBeUndefined();
  expect(await seqOf(boards)).toBe(2);
  await boards.agree(BOARD, [], WINDOW);
  expect(await acknowledge(2)).toBeUndefined();
  expect(await boards.log(BOARD)).toEqual([]);
});

it('a change that does not read can be acknowledged by nobody', async () => {
  await changedFlight();
  await local.db.prepare("UPDATE board_flights SET change = 'x'").run();
  expect([await acknowledge(2), await boards.log(BOARD)]).toEqual([undefined, []]);
});

it('an older change that is acknowledged hides no newer one, nor does the log say that the newer was seen', async () => {
  await changedFlight();
  await changedAgain('Outside limits');
  expect(await found()).toMatchObject({ change: { seq: 3 } });
  expect(await acknowledge(2)).toMatchObject({ seq: 2, sentence: 'Number 2, before: Outside limits' });
  expect(await found()).toMatchObject({ change: { seq: 3 }, acknowledged: { seq: 2 } });
  expect(await acknowledge(3, 'Ben')).toMatchObject({ sentence: 'Outside limits' });
  // Late out of somebody's pocket.
  expect(await acknowledge(2, 'Cy')).toMatchObject({ seq: 2, by: 'Cy' });
  expect(await found()).toMatchObject({ acknowledged: { seq: 3, by: 'Ben' } });
});

it('the same acknowledgement sent again is one, and a second person has an entry too', async () => {
  await changedFlight();
  const first = await acknowledge(2);
  expect(await acknowledge(2, 'Ann', NOON_MS + 99)).toEqual(first);
  expect(await acknowledge(2, 'Ben')).toMatchObject({ by: 'Ben' });
  expect((await boards.log(BOARD)).map(({ by }) => by)).toEqual(['Ann', 'Ben']);
  expect([(await found()).acknowledged?.by, await seqOf(boards)]).toEqual(['Ann', 3]);
});

it('an acknowledgement that fails half-way is not in the log either', async () => {
  await changedFlight();
  await local.db
    .prepare(
      "CREATE TRIGGER no_word BEFORE UPDATE OF acknowledged ON board_flights BEGIN SELECT RAISE(ABORT, 'made to fail'); END",
    )
    .run();
  await expect(acknowledge(2)).rejects.toThrow(/made to fail/);
  await local.db.prepare('DROP TRIGGER no_word').run();
  expect([await boards.log(BOARD), await seqOf(boards)]).toEqual([[], 2]);
});

it('the audit has the newest first, of its own board, and is forgotten by time', async () => {
  const entry = { boardId: BOARD, atMs: 1, principal: 'key k', action: 'mark', target: 't', status: 200 };
  const entries = [entry, { ...entry, atMs: 2, status: 403 }, { ...entry, atMs: 3, boardId: 'other' }];
  for (const each of entries) await boards.audit(each);
  expect(await boards.auditOf(BOARD, 10)).toEqual([entries[1], entries[0]]);
  expect(await boards.auditOf(BOARD, 1)).toEqual([entries[1]]);
  await boards.forgetAudit(2);
  expect(await boards.auditOf(BOARD, 10)).toEqual([entries[1]]);
  expect(await boards.auditOf('other', 10)).toEqual([entries[2]]);
});

it('a person is forgotten however the name was written, and the marks stay', async () => {
  await changedFlight();
  await boards.putKey(makeKey('k'));
  const atUtc = '2026-01-14T13:00:00Z';
  const spellings = ['Élodie Groß', ' ÉLODIE GROSS', 'élodie groß ', 'Élodie Groß'] as const;
  await acknowledge(2, spellings[0]);
  await boards.mark(BOARD, FLIGHT, { mark: 'departed', atUtc, by: spellings[1] });
  await boards.mark(BOARD, FLIGHT, { mark: 'arrived', atUtc, by: 'Ann' });
  await boards.mark(BOARD, FLIGHT, { mark: 'cancelled', atUtc, by: spellings[2] });
  await boards.putTail(BOARD, 'N1', { ...TAIL, by: spellings[3] }, at(NOON_MS));
  await boards.subscribe(makeSubscriber(1, { by: spellings[1] }), NOON_MS);
  await boards.subscribe(makeSubscriber(2, { by: 'Ann' }), NOON_MS);
  const audit = { boardId: BOARD, atMs: 1, action: 'mark', target: 't', status: 200 };
  await boards.audit({ ...audit, principal: `sign-in ${spellings[2]}` });
  await boards.audit({ ...audit, principal: 'sign-in Ann' });
  const before = (await seqOf(boards))!;
  // One flight, one log entry, one aeroplane, one browser, one line of the audit.
  expect(await boards.forgetPerson(BOARD, '  élodie GROß')).toBe(5);
  const { acknowledged, departed, arrived, cancelled, seq } = await found();
  expect([acknowledged?.by, departed?.by, arrived?.by, cancelled?.by]).toEqual(['', '', 'Ann', '']);
  expect(departed?.atMs).toBe(Date.parse(atUtc));
  expect((await boards.tails(BOARD)).map(({ by }) => by)).toEqual(['']);
  expect(await boards.log(BOARD)).toEqual([]);
  expect((await boards.subscribers(BOARD)).map(({ by }) => by)).toEqual(['Ann']);
  expect((await boards.auditOf(BOARD, 9)).map(({ principal }) => principal)).toEqual([
    'sign-in Ann',
    'sign-in',
  ]);
  expect([seq, await seqOf(boards)]).toEqual([before + 1, before + 1]);
  expect((await boards.changedSince(BOARD, before, 9)).tails).toHaveLength(1);
  for (const table of ['board_flights', 'board_tails', 'board_log', 'board_audit', 'board_push'])
    expect(JSON.stringify((await local.db.prepare(`SELECT * FROM ${table}`).all()).results)).not.toMatch(
      /lodie/i,
    );
});

it('nobody else is forgotten, and no number is taken for what viewers do not see', async () => {
  await changedFlight();
  await acknowledge(2, 'Ann');
  await acknowledge(2, 'Annabel');
  expect(await boards.forgetPerson(BOARD, 'Annabel')).toBe(1);
  expect((await boards.log(BOARD)).map(({ by }) => by)).toEqual(['Ann']);
  expect([await boards.forgetPerson(BOARD, 'An'), await boards.forgetPerson(BOARD, ' ')]).toEqual([0, 0]);
  expect([await boards.forgetPerson('other', 'Ann'), await seqOf(boards)]).toEqual([0, 3]);
});
