/** Flights of a board on D1 brought into agreement with its schedule. */
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
  makeBoard,
  makeEvaluation,
  makeFlight,
  NOON_MS,
  seqOf,
  WINDOW,
  withFlights,
  workedOut,
} from '../support/stored-board.ts';

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

it('agreement takes one number for all that differs, and none where nothing does', async () => {
  const flights = [makeFlight('a'), makeFlight('b')];
  await withFlights(boards, flights);
  await boards.agree(BOARD, flights, WINDOW);
  expect(await seqOf(boards)).toBe(1);
  await boards.agree(BOARD, [flights[0]!, makeFlight('b', 2), makeFlight('c')], WINDOW);
  expect(await seqOf(boards)).toBe(2);
  expect((await boards.flights(BOARD, 0, 1e15)).map(({ id, seq }) => [id[0], seq])).toEqual([
    ['a', 1],
    ['c', 2],
    ['b', 2],
  ]);
});

it('what nobody wants goes with a number that viewers hear, and comes back when it is wanted again', async () => {
  const flights = [makeFlight('a'), makeFlight('b')];
  await withFlights(boards, flights);
  await workedOut(boards, 'b');
  await boards.agree(BOARD, flights.slice(0, 1), WINDOW);
  expect(await onBoard()).toBe('a');
  expect(await found('b')).toMatchObject({ isRemoved: true, seq: 3 });
  expect((await boards.changedSince(BOARD, 2, 10)).flights.map(({ isRemoved }) => isRemoved)).toEqual([true]);
  await boards.agree(BOARD, flights, WINDOW);
  expect(await found('b')).toMatchObject({ isRemoved: false, seq: 4, evaluation: makeEvaluation() });
  expect(await waiting()).toBe(2);
});

it('flights that depart outside of the window stay, wanted or not', async () => {
  await withFlights(boards, [makeFlight('a', 1)]);
  await boards.agree(BOARD, [], { ...WINDOW, toMs: NOON_MS });
  expect([await onBoard(), await seqOf(boards)]).toEqual(['a', 1]);
});

it.each(['departed', 'arrived'] as const)(
  'a flight that is marked %s outlives every change of its schedule',
  async (mark) => {
    await withFlights(boards, [makeFlight('a')]);
    await boards.mark(BOARD, flightIdOf('a'), markOf(mark));
    await boards.agree(BOARD, [makeFlight('a', 2, { route: 'AAAA DCT CCCC' })], WINDOW);
    expect((await found('a')).leg.route).toBe('AAAA DCT BBBB');
    await boards.agree(BOARD, [], WINDOW);
    expect([await onBoard(), await seqOf(boards)]).toEqual(['a', 2]);
  },
);

it.each([
  ['route', 1, { route: 'AAAA DCT CCCC' }],
  ['aircraft', 1, { aircraft: 'another' }],
  ['aeroplane', 1, { tail: 'N2' }],
  ['alternate', 1, { alternate: 'CCCC' }],
  ['departure', 1.5, {}],
] as const)(
  'with another %s nothing is known of a flight until it is worked out again',
  async (_, afterH, leg) => {
    await withFlights(boards, [makeFlight('a', 1)]);
    await workedOut(boards, 'a', { change: CHANGE });
    await boards.agree(BOARD, [makeFlight('a', afterH, leg)], WINDOW);
    const { evaluation, failure, change } = await found('a');
    expect([evaluation, failure, change?.seq, await waiting()]).toEqual([undefined, undefined, 2, 1]);
    const reach = await local.db
      .prepare('SELECT south_deg, reach_to_ms, evaluated_ms FROM board_flights')
      .first();
    expect(reach).toEqual({ south_deg: null, reach_to_ms: null, evaluated_ms: 0 });
  },
);

it.each([
  ['label', { label: '124' }],
  ['minima', { destinationMinima: { ceilingFt: 400, visibilityM: 1600 } }],
  ['days', { weekdays: ['fri' as const], untilDate: '2026-02-01' }],
])('with another %s a flight shows its last state and is worked out again', async (_, leg) => {
  await withFlights(boards, [makeFlight('a', 1)]);
  await workedOut(boards, 'a');
  await boards.agree(BOARD, [makeFlight('a', 1, leg)], WINDOW);
  expect(await found('a')).toMatchObject({ evaluation: makeEvaluation(), seq: 3, leg });
  expect(await waiting()).toBe(1);
});

it('2,000 flights of 1,000 legs are agreed on in a few statements, and the second time take no number', async () => {
  const flights = Array.from({ length: 2000 }, (_, at) => ({
    ...makeFlight(`n${at}n`, (at % 40) - 11, {
      label: `${at >> 1}`,
      options: { altitudesFt: [5000, 7000, 9000] },
    }),
    legId: `leg${at >> 1}`.padEnd(22, '0'),
  }));
  await boards.create(makeBoard(), []);
  for (const round of ['first', 'second']) {
    const startMs = performance.now();
    await boards.agree(BOARD, flights, WINDOW);
    console.log(`agree on 2,000 flights, ${round} round: ${Math.round(performance.now() - startMs)} ms`);
  }
  expect(await seqOf(boards)).toBe(1);
  const startMs = performance.now();
  const all = await boards.flights(BOARD, WINDOW.fromMs, WINDOW.toMs);
  console.log(`read 2,000 flights: ${Math.round(performance.now() - startMs)} ms`);
  expect(all).toHaveLength(2000);
  await boards.agree(BOARD, flights.slice(1), WINDOW);
  expect([await seqOf(boards), (await boards.flights(BOARD, 0, 1e15)).length]).toEqual([2, 1999]);
});
