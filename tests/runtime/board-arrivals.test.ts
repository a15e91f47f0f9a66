/** Flights are worked out again for data that came in since, within their reach. */
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import type { Reach } from '../../worker/sources/boards.ts';
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
  makeBoard,
  makeFlight,
  makeOutcome,
  NOON_MS,
  REACH,
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

type Rule = Parameters<Boards['takeDue']>[0];
const LATER_MS = NOON_MS + 60_000;
const takenOf = async (rule: Partial<Rule> = {}) =>
  (await boards.takeDue({ ...DUE_RULE, nowMs: LATER_MS, ...rule }))
    .map(({ flightId }) => flightId[0])
    .join('');

interface Came {
  operator?: string;
  atMs?: number;
  cameMs?: number;
}
const grid = ({ operator = 'demo', atMs = NOON_MS, cameMs = NOON_MS }: Came = {}) =>
  local.db
    .prepare('INSERT INTO grid_hours VALUES (?1, ?2, ?3, ?4, ?5, ?6, 3000, 1)')
    .bind(operator, 'm', atMs, atMs, 'k', cameMs)
    .run();
const sounding = ({
  operator = 'demo',
  atMs = NOON_MS,
  cameMs = NOON_MS,
  lat = 44,
  lon = -70,
}: Came & { lat?: number; lon?: number } = {}) =>
  local.db
    .prepare("INSERT INTO soundings VALUES (?1, 's', ?2, 'igra-v2', ?3, ?4, NULL, 1, ?5, '{}', NULL)")
    .bind(operator, atMs, lat, lon, cameMs)
    .run();
type Box = readonly [south: number | null, north: number | null, west: number | null, east: number | null];
const report = ({
  operator = 'demo',
  atMs = NOON_MS,
  cameMs = NOON_MS,
  box = [44, 44, -70, -70] as Box,
  lastsMs = H,
  id = 'r',
}: Came & { box?: Box; lastsMs?: number; id?: string } = {}) =>
  local.db
    .prepare(
      "INSERT INTO reports VALUES (?1, ?9, 'metar', 'surface-report', 's', 0, ?2, ?2, ?3, 0, ?5, ?6, ?7, ?8, 't', '{}', ?4)",
    )
    .bind(operator, atMs, atMs + lastsMs, cameMs, ...box, id)
    .run();

/** A flight that was worked out at noon. */
async function settledFlight(reach: Partial<Reach> = {}, standsMs?: number) {
  await boards.create(makeBoard({ standsMs }), []);
  await boards.agree(BOARD, [makeFlight('a', 1)], WINDOW);
  await workedOut(boards, 'a', { reach: { ...REACH, ...reach } });
}

it('nothing new, nothing taken', async () => {
  await Promise.all([
    grid({ cameMs: NOON_MS - 1 }),
    sounding({ cameMs: NOON_MS - 1 }),
    report({ cameMs: NOON_MS - 1 }),
  ]);
  await settledFlight();
  expect(await takenOf()).toBe('');
});

it.each([
  ['forecast', grid],
  ['ascent', sounding],
  ['report', report],
] as const)(
  'a new %s counts that came since, at the very instant too, within the times, of readable operators',
  async (_, put) => {
    const cases: [Came, Partial<Rule>, string][] = [
      [{}, {}, 'a'],
      [{ cameMs: NOON_MS - 1 }, {}, ''],
      [{ operator: 'open' }, { openOperators: ['open', 'wide'] }, 'a'],
      [{ operator: 'open' }, { openOperators: ['wide'] }, ''],
      [{ atMs: REACH.fromMs }, {}, 'a'],
      [{ atMs: REACH.fromMs - 2 * H }, {}, ''],
      [{ atMs: REACH.toMs }, {}, 'a'],
      [{ atMs: REACH.toMs + 1 }, {}, ''],
    ];
    for (const [came, rule, expected] of cases) {
      await emptied(local);
      await settledFlight();
      await put(came);
      expect([came, await takenOf(rule)]).toEqual([came, expected]);
    }
  },
);

it('is worked out once for it: settled after that, it is not due', async () => {
  await settledFlight();
  await grid({ cameMs: NOON_MS + 1 });
  expect(await takenOf()).toBe('a');
  await workedOut(boards, 'a', { startedMs: LATER_MS, reach: REACH });
  expect(await takenOf({ nowMs: LATER_MS + 1 })).toBe('');
});

it('what comes while it is worked out counts as not seen', async () => {
  await settledFlight();
  await boards.ask({ boardId: BOARD, flightId: flightIdOf('a') }, LATER_MS);
  const working = await held(boards, 'a', LATER_MS);
  await report({ cameMs: LATER_MS + 5 });
  await boards.settle(working, makeOutcome({ startedMs: LATER_MS }));
  expect(await takenOf({ nowMs: LATER_MS + 10 })).toBe('a');
});

it('counts on a board that stands at an instant, and for a flight that left but did not arrive', async () => {
  await settledFlight({}, NOON_MS);
  await boards.mark(BOARD, flightIdOf('a'), { mark: 'departed', atUtc: '2026-01-14T13:00:00Z', by: 'Ann' });
  await report({ cameMs: NOON_MS + 999 * H });
  expect(await takenOf({ nowMs: NOON_MS + 1000 * H })).toBe('a');
});

const OVER = { westDeg: 170, eastDeg: -160 };
it.each([
  ['inside', {}, [45, -70], 'a'],
  ['on the edge', {}, [46, -67], 'a'],
  ['north of it', {}, [46.1, -70], ''],
  ['south of it', {}, [42.9, -70], ''],
  ['west of it', {}, [44, -75.1], ''],
  ['east of it', {}, [44, -66.9], ''],
  ['west of the antimeridian, of a reach over it', OVER, [44, 175], 'a'],
  ['east of it', OVER, [44, -165], 'a'],
  ['short of it', OVER, [44, 169], ''],
  ['beyond it', OVER, [44, -159], ''],
] as const)('an ascent and a report %s', async (_, reach, [lat, lon], expected) => {
  await settledFlight(reach);
  await sounding({ lat, lon });
  expect(await takenOf()).toBe(expected);
  await emptied(local);
  await settledFlight(reach);
  await report({ box: [lat, lat, lon, lon] });
  expect(await takenOf()).toBe(expected);
});

it.each([
  ['anywhere', {}, [null, null, null, null], 'a'],
  ['around the reach', {}, [10, 80, -100, 0], 'a'],
  ['from afar into it', {}, [30, 43, -100, -75], 'a'],
  ['short of it', {}, [30, 46, -100, -75.5], ''],
  ['over the antimeridian, far from it', {}, [40, 50, 170, -160], ''],
  ['over the antimeridian, as far as it', {}, [40, 50, 170, -70], 'a'],
  ['over the antimeridian, as is the reach', OVER, [40, 50, 179, -179], 'a'],
  ['over the antimeridian, beside it in latitude', OVER, [50, 60, 179, -179], ''],
] as const)('a report over an area %s', async (_, reach, box, expected) => {
  await settledFlight(reach);
  await report({ box });
  expect(await takenOf()).toBe(expected);
});

it('a warning counts from before the reach as long as it lasts into it', async () => {
  await settledFlight();
  await report({ atMs: REACH.fromMs - 4 * H, lastsMs: 4 * H });
  expect(await takenOf()).toBe('a');
});

it('without a reach, only mark and age do', async () => {
  await withFlights(boards, [makeFlight('a')]);
  await boards.settle(await held(boards, 'a'), { startedMs: NOON_MS, failure: 'No answer' });
  await grid();
  expect(await takenOf()).toBe('');
});

it('a flight between two places where something came in is near neither of them', async () => {
  await settledFlight({ southDeg: 45, northDeg: 46 });
  await report({ id: 'south', box: [44.5, 44.5, -70, -70] });
  await report({ id: 'north', box: [47, 47, -70, -70] });
  expect(await takenOf()).toBe('');
});

it('a report all around the world but for half a degree is not lost beside one in that half', async () => {
  await settledFlight({ westDeg: 10, eastDeg: 20 });
  await report({ id: 'around', box: [44, 44, -70.1, -70.6] });
  await report({ id: 'small', box: [44, 44, -70.4, -70.3] });
  expect(await takenOf()).toBe('a');
});
