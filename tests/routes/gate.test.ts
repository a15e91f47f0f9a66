/** Every call of the table, held against every kind of key. */
import { describe, expect, it } from 'vitest';
import { createApp } from '../../worker/app.ts';
import { AccessError } from '../../worker/errors.ts';
import { checkedAccess } from '../../worker/routes/access.ts';
import type { AccessKind, Call } from '../../worker/schema/call.ts';
import { CALLS } from '../../worker/schema/calls.ts';
import { getBoard, getBoardLive, postFlightMark } from '../../worker/schema/calls-board.ts';
import { postBrief } from '../../worker/schema/calls-brief.ts';
import { getSources } from '../../worker/schema/calls-data.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import {
  BOARD_ID,
  boardOf,
  type Gated,
  gated,
  KEYS,
  type KeyName,
  LET_IN,
  OTHER_BOARD_ID,
  pathOfCall,
  SETTINGS,
  type Seen,
  withKey,
} from './gated.ts';

const ALL: readonly Call[] = Object.values(CALLS);
const CALLERS = ['none', ...(Object.keys(KEYS) as KeyName[])] as const;
type Caller = (typeof CALLERS)[number];

/** Written out, so that no rule of the gate's own is repeated here. */
const STATUS: Readonly<Record<AccessKind, Readonly<Record<Caller, number>>>> = {
  open: { none: 200, wrong: 200, other: 200, elsewhere: 200, view: 200, edit: 200, own: 200 },
  'brief-key': { none: 200, wrong: 200, other: 200, elsewhere: 200, view: 200, edit: 200, own: 200 },
  read: { none: 200, wrong: 401, other: 200, elsewhere: 401, view: 401, edit: 401, own: 200 },
  operator: { none: 401, wrong: 401, other: 200, elsewhere: 401, view: 401, edit: 401, own: 200 },
  'board-view': { none: 401, wrong: 401, other: 401, elsewhere: 401, view: 200, edit: 200, own: 200 },
  'board-edit': { none: 401, wrong: 401, other: 401, elsewhere: 401, view: 403, edit: 200, own: 200 },
  'board-own': { none: 401, wrong: 401, other: 401, elsewhere: 401, view: 403, edit: 403, own: 200 },
};

const send = ({ ask }: Gated, call: Call, key: string | undefined, path = pathOfCall(call)) =>
  ask(path, { method: call.method, headers: withKey(call, key) });

describe.each(ALL.map((call) => [call.name, call] as const))('%s', (_, call) => {
  it.each(CALLERS.map((caller) => [caller, STATUS[call.access][caller]] as const))(
    'with the key %j answers %i',
    async (caller, status) => {
      const service = await gated();
      const response = await send(service, call, caller === 'none' ? undefined : KEYS[caller]);
      expect(response.status).toBe(status);
      if (status === LET_IN) expect(await response.json()).toMatchObject({ name: call.name });
      else expect(await response.json()).toMatchObject({ status });
    },
  );
});

it('what is refused is said alike of a wrong key, of another operator’s, of another board’s, and of a board that there is not', async () => {
  const service = await gated();
  const said = await Promise.all(
    (
      [
        [KEYS.wrong, BOARD_ID],
        [KEYS.other, BOARD_ID],
        [KEYS.elsewhere, BOARD_ID],
        [KEYS.view, OTHER_BOARD_ID],
        [KEYS.own, 'N'.repeat(22)],
        [KEYS.own, 'x'],
        [KEYS.view, "'; DROP TABLE boards --"],
      ] as const
    ).map(async ([key, board]) => {
      const path = pathOfCall(getBoard, { board: encodeURIComponent(board) });
      const response = await send(service, getBoard, key, path);
      return [response.status, await response.text()];
    }),
  );
  expect(new Set(said.map(String)).size).toBe(1);
  expect(said[0]![0]).toBe(401);
  expect(said.join()).not.toMatch(/operator (own|other)|secret-of/);
});

it.each([
  [KEYS.wrong, BOARD_ID],
  [KEYS.wrong, 'N'.repeat(22)],
  [KEYS.wrong, 'x'],
  [KEYS.other, BOARD_ID],
  [KEYS.view, BOARD_ID],
])('looks for board and key once each, whether %s opens %s or not', async (key, board) => {
  const service = await gated();
  await send(service, getBoard, key, pathOfCall(getBoard, { board }));
  expect(service.looked.sort()).toEqual(['board', 'key']);
});

it('a key of one board allows nothing on another, wherever the board comes from', () => {
  const board = boardOf(BOARD_ID);
  const principal = {
    kind: 'board-key',
    board: boardOf(OTHER_BOARD_ID),
    keyId: 'k',
    access: 'edit',
  } as const;
  expect(() => checkedAccess('board-view', principal, board)).toThrow(AccessError);
});

describe('the key of a WebSocket', () => {
  it('is taken from the subprotocol alone', async () => {
    const { ask } = await gated();
    const path = pathOfCall(getBoardLive);
    const headers = { authorization: `Bearer ${KEYS.view}` };
    expect((await ask(path, { headers })).status).toBe(401);
    expect((await ask(`${path}?key=${KEYS.view}`)).status).toBe(401);
    const named = { 'sec-websocket-protocol': `key.${KEYS.view},rimeway-board` };
    expect((await ask(path, { headers: named })).status).toBe(LET_IN);
  });

  it('opens nothing else', async () => {
    const { ask } = await gated();
    const headers = { 'sec-websocket-protocol': `rimeway-board, key.${KEYS.view}` };
    expect((await ask(pathOfCall(getBoard), { headers })).status).toBe(401);
  });
});

describe('whose data a call reads', () => {
  const seen = async (
    call: Call,
    headers: Record<string, string>,
  ): Promise<Partial<Seen> & { status?: number }> =>
    (await (await gated()).ask(pathOfCall(call), { method: call.method, headers })).json() as Promise<Seen>;
  const own = { authorization: `Bearer ${KEYS.own}` };
  const view = { authorization: `Bearer ${KEYS.view}` };

  it('is that of the open operators without a key, and the own with one', async () => {
    expect((await seen(postBrief, {})).operators).toEqual(['demo']);
    expect((await seen(postBrief, own)).operators).toEqual(['own', 'demo']);
  });

  it('is that of a board’s operator for a key of the board that names it', async () => {
    const named = { ...view, 'x-rimeway-board': BOARD_ID };
    expect(await seen(postBrief, named)).toMatchObject({
      operators: ['own', 'demo'],
      principal: 'board-key',
    });
    expect(await seen(postBrief, view)).toMatchObject({ status: 401 });
    expect(await seen(postBrief, { ...view, 'x-rimeway-board': OTHER_BOARD_ID })).toMatchObject({
      status: 401,
    });
    expect(await seen(postBrief, { ...view, 'x-rimeway-board': 'x' })).toMatchObject({ status: 401 });
  });

  it('is not widened by the name of a board without its key', async () => {
    expect((await seen(getSources, { 'x-rimeway-board': BOARD_ID })).operators).toEqual(['demo']);
  });

  it('of a board’s call is that of its operator, whoever looks', async () => {
    expect(await seen(getBoard, view)).toMatchObject({
      ...{ operators: ['own', 'demo'], board: BOARD_ID, access: 'view', principal: 'board-key' },
    });
    expect(await seen(getBoard, own)).toMatchObject({
      access: 'own',
      principal: 'operator',
      board: BOARD_ID,
    });
  });
});

it.each([
  '',
  'Bearer',
  'Bearer short',
  `Basic ${KEYS.own}`,
  `Bearer ${'x'.repeat(201)}`,
  `bearer ${KEYS.own}`,
])('a header %j is no key, and refused rather than passed over', async (authorization) => {
  const { ask } = await gated();
  const response = await ask('/api/brief', { method: 'POST', headers: { authorization } });
  expect(response.status).toBe(401);
});

it.each([
  ['flight', 'x'],
  ['flight', `${'L'.repeat(22)}.2026-01-14x`],
])('a %s %j in the path can name nothing, and the field says so', async (field, value) => {
  const { ask } = await gated();
  const path = pathOfCall(postFlightMark, { [field]: value });
  const response = await ask(path, { method: 'POST', headers: withKey(postFlightMark, KEYS.edit) });
  expect(response.status).toBe(422);
  expect(await response.json()).toMatchObject({ field });
});

describe('the table', () => {
  /** Calls that anybody may make although they are no GET, and why. */
  const ANYBODY: Readonly<Record<string, string>> = {
    postBrief: 'computes, and stores nothing',
    postSequence: 'computes, and stores nothing',
    postColumn: 'computes, and stores nothing',
    postProof: 'computes and compares; counted',
    postSharedBrief: 'stores for whoever has a leg to share; counted, by the day too',
  };

  it('and the routes are the same', () => {
    const routes = createApp(createMemoryStores(), SETTINGS).routes.filter(({ method }) => method !== 'ALL');
    const mounted = new Set(routes.map(({ method, path }) => `${method} ${path}`));
    const described = ALL.map(({ method, path }) => `${method} ${path.replace(/\{(\w+)\}/g, ':$1')}`);
    expect([...mounted].sort()).toEqual(described.sort());
    // A gate and a handler each.
    expect(routes).toHaveLength(2 * ALL.length);
  });

  /** As it was agreed: whoever changes it changes it here too. */
  const AGREED: Readonly<Record<AccessKind, string>> = {
    open: 'getAboutBrief getAircraft getBoardPage getBriefLink getDocs getHealth getOpenapi getPushKey getSharedBrief getSharedInputs getSharedPicture postColumn',
    read: 'getHoldover getPlaces getSkill getSources postBrief postProof postSequence postSharedBrief',
    operator: 'getBoards getMetrics postBoards postGrids postHoldover postPlaces postReports postSoundings',
    'board-view':
      'deleteBoardPush getBoard getBoardChanges getBoardCsv getBoardGeojson getBoardLegs getBoardLive postBoardPush',
    'board-edit':
      'deleteBoardLeg getBoardLogCsv importBoardLegs postAcknowledgement postBoardLegs postFlightEvaluate postFlightMark postFlightShared putBoardLeg putBoardTail',
    'board-own': 'deleteBoard deleteBoardLink deleteBoardPerson getBoardAudit getBoardLinks postBoardLink',
    'brief-key': 'deleteSharedBrief',
  };

  it.each(Object.entries(AGREED))('lets in by %s what was agreed', (access, names) => {
    const own = ALL.filter((call) => call.access === access).map(({ name }) => name);
    expect(own.sort().join(' ')).toBe(names);
  });

  it('has every call under its own name, and no address twice', () => {
    for (const [name, call] of Object.entries(CALLS)) expect(call.name).toBe(name);
    const places = ALL.map(({ method, path }) => `${method} ${path.replace(/\{\w+\}/g, '{}')}`);
    expect(new Set(places).size).toBe(places.length);
  });

  it('has a key looked at for every call that writes', () => {
    const unchecked = ALL.filter(
      ({ method, access }) => method !== 'GET' && (access === 'open' || access === 'read'),
    );
    expect(unchecked.map(({ name }) => name).sort()).toEqual(Object.keys(ANYBODY).sort());
  });

  it('says of every call under a board’s path that it needs a key of the board, and of its page that it tells nothing', () => {
    for (const { path, access } of ALL.filter(({ name }) => name !== 'getBoardPage'))
      expect(path.includes('{board}'), path).toBe(access.startsWith('board-'));
  });
});
