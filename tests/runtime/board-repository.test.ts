/** Boards, links, legs and what is to be told, on D1. */
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { AppBug, InvalidRequestError } from '../../worker/errors.ts';
import { createBoardRepository } from '../../worker/store/board-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import {
  BOARD,
  type Boards,
  emptied,
  idOf,
  makeBoard,
  makeFlight,
  makeKey,
  makeLeg,
  makeSubscriber,
  NOON_MS,
  seqOf,
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

const OTHER = 'c'.repeat(22);
const storedLeg = (letters: string, label = '123') => ({ id: idOf(letters), leg: makeLeg({ label }) });
const rowsOf = async (table: string) =>
  (await local.db.prepare(`SELECT COUNT(*) AS count FROM ${table}`).first<{ count: number }>())?.count;

it('gives back a board as it was made, to its operator alone in a list', async () => {
  await boards.create(makeBoard(), [makeKey('k')]);
  await boards.create(makeBoard({ id: OTHER, operator: 'other', standsMs: NOON_MS }), []);
  expect(await boards.find(BOARD)).toEqual(makeBoard());
  expect(await boards.list('other')).toEqual([
    makeBoard({ id: OTHER, operator: 'other', standsMs: NOON_MS }),
  ]);
  expect((await boards.all()).map(({ id }) => id)).toEqual([BOARD, OTHER]);
  expect(await boards.find('none')).toBeUndefined();
});

it('a board whose links cannot all be kept is not made at all', async () => {
  const twice = [makeKey('k'), makeKey('l', { sha256: makeKey('k').sha256 })];
  await expect(boards.create(makeBoard(), twice)).rejects.toThrow(/UNIQUE/);
  expect([await boards.find(BOARD), await boards.keys(BOARD)]).toEqual([undefined, []]);
});

it('a link opens its own board alone, by exactly its hash, until it is revoked', async () => {
  await boards.create(makeBoard(), [makeKey('k')]);
  await boards.create(makeBoard({ id: OTHER }), []);
  await boards.putKey(makeKey('l', { access: 'view' }));
  const { sha256 } = makeKey('l');
  expect(await boards.findKey(BOARD, sha256)).toEqual(makeKey('l', { access: 'view' }));
  expect(await boards.findKey(OTHER, sha256)).toBeUndefined();
  expect(await boards.findKey(BOARD, sha256.toUpperCase())).toBeUndefined();
  expect(await boards.revokeKey(OTHER, 'l', NOON_MS)).toBe(false);
  expect(await boards.revokeKey(BOARD, 'l', NOON_MS)).toBe(true);
  expect(await boards.revokeKey(BOARD, 'l', NOON_MS + 1)).toBe(false);
  expect(await boards.findKey(BOARD, sha256)).toBeUndefined();
  expect((await boards.keys(BOARD)).map(({ keyId, revokedMs }) => [keyId, revokedMs])).toEqual([
    ['k', undefined],
    ['l', NOON_MS],
  ]);
});

it('a removed board leaves nothing behind, and the others alone', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await boards.create(makeBoard({ id: OTHER }), [makeKey('o', { boardId: OTHER })]);
  await boards.putKey(makeKey('k'));
  await boards.putLegs(BOARD, [storedLeg('a')], false);
  await boards.putTail(BOARD, 'N1', { fluidOnBoardL: 1, inoperative: [], note: '', by: 'Ann' }, at(NOON_MS));
  await workedOut(boards, 'a', { change: { atUtc: '2026-01-14T12:00:00Z', kind: 'first', sentence: 'New' } });
  const { change, id } = (await boards.flights(BOARD, 0, 1e15))[0]!;
  await boards.acknowledge({ boardId: BOARD, flightId: id, seq: change!.seq, by: 'Ann', atMs: NOON_MS });
  await boards.audit({
    boardId: BOARD,
    atMs: 1,
    principal: 'key k',
    action: 'mark',
    target: '',
    status: 200,
  });
  await boards.subscribe(makeSubscriber(1), NOON_MS);
  const tables = ['board_legs', 'board_flights', 'board_tails', 'board_log', 'board_audit', 'board_push'];
  expect(await Promise.all(tables.map(rowsOf))).toEqual(tables.map(() => 1));
  await boards.remove(BOARD);
  expect(await Promise.all(tables.map(rowsOf))).toEqual(tables.map(() => 0));
  expect((await boards.all()).map(({ id }) => id)).toEqual([OTHER]);
  expect(await boards.keys(OTHER)).toHaveLength(1);
});

it('legs are added, changed in their place, replaced all together, and removed one by one', async () => {
  await boards.create(makeBoard(), []);
  await boards.putLegs(BOARD, [storedLeg('a'), storedLeg('b')], false);
  await boards.putLegs(BOARD, [storedLeg('a', '9'), storedLeg('c')], false);
  expect(await boards.legs(BOARD)).toEqual([storedLeg('a', '9'), storedLeg('b'), storedLeg('c')]);
  await boards.putLegs(BOARD, [storedLeg('d')], true);
  expect(await boards.legs(BOARD)).toEqual([storedLeg('d')]);
  expect(await boards.removeLeg(BOARD, idOf('d'))).toBe(true);
  expect(await boards.removeLeg(BOARD, idOf('d'))).toBe(false);
  expect(await boards.legs(BOARD)).toEqual([]);
});

it('a board takes 2,000 legs and not one more, and says so', async () => {
  await boards.create(makeBoard(), []);
  const legs = Array.from({ length: 2000 }, (_, at) => storedLeg(`n${at}n`, `${at}`));
  await boards.putLegs(BOARD, legs, true);
  await boards.putLegs(BOARD, [{ ...legs[7]!, leg: makeLeg({ label: 'changed' }) }], false);
  const refused = boards.putLegs(BOARD, [storedLeg('more')], false);
  await expect(refused).rejects.toThrow(InvalidRequestError);
  await expect(refused).rejects.toMatchObject({ field: 'legs', expected: 'at most 2000' });
  expect(await boards.legs(BOARD)).toHaveLength(2000);
});

it('a schedule of which a leg does not read is not given as one without it', async () => {
  await boards.create(makeBoard(), []);
  await boards.putLegs(BOARD, [storedLeg('a'), storedLeg('b')], false);
  await local.db
    .prepare('UPDATE board_legs SET body = \'{"label":1}\' WHERE leg_id = ?1')
    .bind(idOf('a'))
    .run();
  await expect(boards.legs(BOARD)).rejects.toThrow(AppBug);
});

it('a board is to be told of until viewers were told of all, which never goes back nor ahead', async () => {
  await withFlights(boards, [makeFlight('a')]);
  const published = async () => (await boards.find(BOARD))!.publishedSeq;
  expect((await boards.unpublished()).map(({ id, seq }) => [id, seq])).toEqual([[BOARD, 1]]);
  await boards.published(BOARD, 7);
  expect(await published()).toBe(1);
  expect(await boards.unpublished()).toEqual([]);
  await boards.published(BOARD, 0);
  expect(await published()).toBe(1);
  expect(await seqOf(boards)).toBe(1);
});

it('a browser that subscribes again takes no further place and has its newest keys', async () => {
  await boards.create(makeBoard(), [makeKey('k'), makeKey('l')]);
  await boards.subscribe(makeSubscriber(1), NOON_MS);
  const again = makeSubscriber(1, {
    keyId: 'l',
    by: 'Ben',
    keys: { p256dh: 'q'.repeat(87), auth: 'b'.repeat(22) },
  });
  await boards.subscribe(again, NOON_MS + 1);
  expect(await boards.subscribers(BOARD)).toEqual([again]);
  await boards.unsubscribe(BOARD, again.endpoint);
  expect(await boards.subscribers(BOARD)).toEqual([]);
});

it('nobody is told any more who came by a link that was revoked', async () => {
  await boards.create(makeBoard(), [makeKey('k'), makeKey('l')]);
  await boards.subscribe(makeSubscriber(1), NOON_MS);
  await boards.subscribe(makeSubscriber(2, { keyId: 'l' }), NOON_MS);
  await boards.revokeKey(BOARD, 'k', NOON_MS);
  // One that was under way when the link was revoked.
  await boards.subscribe(makeSubscriber(3), NOON_MS);
  expect((await boards.subscribers(BOARD)).map(({ endpoint }) => endpoint)).toEqual([
    'https://push.invalid/2',
  ]);
});

it('a link has at most 20 subscriptions and a board 500, those there may still change', async () => {
  await boards.create(makeBoard(), [makeKey('k')]);
  const subscribe = (at: number, keyId = 'k') => boards.subscribe(makeSubscriber(at, { keyId }), NOON_MS);
  for (let at = 0; at < 20; at++) await subscribe(at);
  await expect(subscribe(20)).rejects.toMatchObject({
    kind: 'invalid-request',
    field: 'endpoint',
    expected: 'at most 20: take one back first',
  });
  await subscribe(3);
  const insert = local.db.prepare("INSERT INTO board_push VALUES (?1, ?2, ?3, 'p', 'a', 'x', 0)");
  await local.db.batch(Array.from({ length: 479 }, (_, at) => insert.bind(BOARD, `e${at}`, `key${at}`)));
  await subscribe(20, 'm');
  await expect(subscribe(21, 'm')).rejects.toMatchObject({ expected: 'at most 500: take one back first' });
  await subscribe(20, 'm');
  expect(await rowsOf('board_push')).toBe(500);
});
