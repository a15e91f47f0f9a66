/** Every call of a board on the running service, with no key, a wrong one, another board's, one that only looks, and the right one. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Call } from '../../worker/schema/call.ts';
import * as boardCalls from '../../worker/schema/calls-board.ts';
import { type BoardStage, call, demoScheduleLeg, makeBoard, type Sent } from '../support/board-stage.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

const OWN_CALLS: readonly Call[] = Object.values(boardCalls).filter(({ path }) =>
  path.startsWith('/api/boards/'),
);
const WRONG = 'no-such-key-as-this-one-here';

let instance: TestInstance;
let stage: BoardStage;
let other: BoardStage;
let names: Readonly<Record<string, string>>;
beforeAll(async () => {
  instance = await startLocalInstance();
  stage = await makeBoard(instance);
  other = await makeBoard(instance);
  await stage.ask('POST', '/legs', { body: { replace: true, legs: [demoScheduleLeg()] } });
  const [flight] = (await stage.settled()).flights;
  names = { board: stage.id, leg: flight!.legId, flight: flight!.id, tail: 'ZZ-ONE', keyId: 'k'.repeat(22) };
});
afterAll(() => instance?.stop());

const BODIES: Readonly<Record<string, Sent>> = {
  postBoardLegs: { body: { replace: false, legs: [demoScheduleLeg({ label: '2' })] } },
  importBoardLegs: {
    body: 'label,tail,route,weekdays,departureLocal,aircraft\n9,,KBTV DCT KBGR,wed,09:00,generic-fluid-turboprop',
  },
  putBoardLeg: { body: demoScheduleLeg({ label: '3' }) },
  putBoardTail: { body: { fluidOnBoardL: 60, inoperative: [], note: '', by: 'Ada' } },
  postFlightMark: { body: { mark: 'departed', atUtc: '2026-01-14T11:31:00Z', by: 'Ada' } },
  postBoardLink: { body: { access: 'view', label: 'A second screen' } },
};
const QUERIES: Readonly<Record<string, string>> = {
  getBoardChanges: '?since=0',
  deleteBoardPerson: '?person=Nobody',
  deleteBoardPush: '?endpoint=https%3A%2F%2Fpush.example%2F1',
};

const pathOf = ({ name, path }: Call) =>
  path.replace(/\{(\w+)\}/g, (_part, parameter: string) => names[parameter]!) + (QUERIES[name] ?? '');

const status = async (each: Call, key: string | undefined): Promise<number> =>
  (await call(instance.baseUrl, each.method, pathOf(each), { ...BODIES[each.name], key })).status;

/** A socket sends its key otherwise: tests/runtime/board.test.ts opens those. */
const PLAIN = OWN_CALLS.filter(({ name }) => name !== 'getBoardLive');

const named = (calls: readonly Call[]) => calls.map((each) => [each.name, each] as const);

describe('every call of a board', () => {
  it.each(named(PLAIN))(
    '%s answers 401 without a key, with a wrong one, and with another board’s',
    async (_name, each) => {
      expect(await status(each, undefined)).toBe(401);
      expect(await status(each, WRONG)).toBe(401);
      expect(await status(each, other.editKey)).toBe(401);
    },
  );

  it.each(named(PLAIN.filter(({ access }) => access !== 'board-view')))(
    '%s answers 403 to a key that only looks',
    async (_name, each) => expect(await status(each, stage.viewKey)).toBe(403),
  );

  it.each(named(PLAIN.filter(({ access }) => access === 'board-own')))(
    '%s answers 403 to a key that may change flights',
    async (_name, each) => expect(await status(each, stage.editKey)).toBe(403),
  );
});

it('another operator’s key opens nothing of the board, and what is refused changes nothing', async () => {
  const before = await stage.board();
  for (const each of PLAIN) expect([401, 403]).toContain(await status(each, instance.demoKey));
  const after = await stage.board();
  expect({ ...after, asOfUtc: '' }).toEqual({ ...before, asOfUtc: '' });
});

it('a board that there is not is refused as one of somebody else is', async () => {
  const response = await call(instance.baseUrl, 'GET', `/api/boards/${'n'.repeat(22)}`, {
    key: stage.editKey,
  });
  expect(response.status).toBe(401);
});

it('every write is in the audit with who made it, and no secret', async () => {
  await stage.ask('POST', `/flights/${names.flight}/marks`, BODIES.postFlightMark);
  const text = await (await stage.ask('GET', '/audit', { key: instance.operatorKey })).text();
  const { entries } = JSON.parse(text) as {
    entries: { action: string; principal: string; status: number }[];
  };
  expect(entries.map(({ action }) => action)).toEqual(['postFlightMark', 'postBoardLegs', 'postBoards']);
  expect(entries[0]).toMatchObject({ principal: expect.stringMatching(/^key [\w-]{22}$/), status: 200 });
  for (const secret of [stage.editKey, stage.viewKey, instance.operatorKey])
    expect(text).not.toContain(secret);
});
