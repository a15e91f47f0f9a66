/** Messages of the boards' queue over a real database: twice, at once, with faults, and with data that come in meanwhile. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import {
  type BoardQueueMessage,
  type ConsumeBoardDeps,
  consumeBoard,
} from '../../worker/board/consume-board.ts';
import { agreeBoard, askForDue, messagesOf } from '../../worker/board/watch.ts';
import type { ScheduleLeg } from '../../worker/schema/board.ts';
import type { Board, BoardRepository, DueMessage } from '../../worker/sources/boards.ts';
import { createBoardRepository } from '../../worker/store/board-repository.ts';
import { createSoundingRepository } from '../../worker/store/sounding-repository.ts';
import { demoScheduleLeg } from '../support/board-stage.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, LEG, NOON_MS, over } from '../support/winter-leg.ts';

/** Of a board that goes with the clock. */
const at = (nowMs: number) => ({ nowMs, boardMs: nowMs });

const MINUTE = 60_000;
const BOARD: Board = {
  ...{ id: 'b'.repeat(22), operator: 'other', name: 'Test', timeZone: 'UTC', standsMs: undefined },
  ...{ createdMs: 0, seq: 0, publishedSeq: 0 },
};

let local: LocalD1;
let boards: BoardRepository;
let stores: MemoryStores;
let nowMs: number;
let published: string[];
beforeEach(async () => {
  local = await startLocalD1();
  boards = createBoardRepository(local.db);
  nowMs = NOON_MS;
  published = [];
  stores = { ...createMemoryStores({ places: FIELDS }), nowMs: () => nowMs };
  await stores.soundings.put('demo', [over(DRY_AIR, NOON_MS - 3_600_000)], NOON_MS - MINUTE);
  await boards.create(BOARD, []);
  const tail = { fluidOnBoardL: 80, inoperative: [], note: '', by: 'Ada' };
  await boards.putTail(BOARD.id, 'ZZ-ONE', tail, at(nowMs));
});
afterEach(() => local.stop());

/** The winter leg, half an hour after noon of its day. */
function leg(given: Partial<ScheduleLeg> = {}): ScheduleLeg {
  const day = new Date(NOON_MS).toISOString().slice(0, 10);
  return demoScheduleLeg({
    ...{ route: String(LEG.route), weekdays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] },
    ...{ departureLocal: '12:30', fromDate: day, untilDate: day, alternate: null, options: {} },
    ...given,
  });
}

async function due(legs: readonly ScheduleLeg[]): Promise<DueMessage[]> {
  const stored = legs.map((each, at) => ({ id: String(at).padStart(22, 'L'), leg: each }));
  await boards.putLegs(BOARD.id, stored, true);
  await agreeBoard(boards, BOARD, nowMs);
  return asked();
}

async function asked(): Promise<DueMessage[]> {
  const sent: DueMessage[] = [];
  const send = async (messages: readonly DueMessage[]) => void sent.push(...messages);
  await askForDue({ boards, openOperators: ['demo'], send, nowMs: () => nowMs });
  return sent;
}

interface Seen {
  readonly message: BoardQueueMessage;
  readonly became: string[];
}

function message(body: unknown): Seen {
  const became: string[] = [];
  const ack = () => void became.push('ack');
  const retry = ({ delaySeconds }: { delaySeconds: number }) =>
    void became.push(`retry in ${delaySeconds} s`);
  return { message: { body, attempts: 1, ack, retry }, became };
}

const deps = (given: Partial<ConsumeBoardDeps> = {}): ConsumeBoardDeps => ({
  ...{ stores, boards, openOperators: ['demo'], nowMs: () => nowMs, log: () => undefined },
  publish: async (boardId) => void published.push(boardId),
  ...given,
});

const seqOf = async () => (await boards.find(BOARD.id))!.seq;
const only = async () => (await boards.flights(BOARD.id, NOON_MS - 86_400_000, NOON_MS + 86_400_000))[0]!;

it('works a flight out, tells its board, and finds nothing due when the message comes again', async () => {
  const [body] = await due([leg()]);
  const first = message(body);
  await consumeBoard([first.message], deps());
  expect(first.became).toEqual(['ack']);
  expect(published).toEqual([BOARD.id]);
  const flight = await only();
  expect(flight.evaluation?.verdict).toBe('no-ice-found');
  expect(flight.change?.kind).toBe('first');
  const before = await seqOf();
  const again = message(body);
  await consumeBoard([again.message], deps());
  expect(again.became).toEqual(['ack']);
  expect(await seqOf()).toBe(before);
});

it('of two consumers at once one settles', async () => {
  const [body] = await due([leg()]);
  const before = await seqOf();
  await Promise.all([1, 2].map(() => consumeBoard([message(body).message], deps())));
  expect(await seqOf()).toBe(before + 1);
});

it('says of air that came in while it read what was there before, and is due again for what came', async () => {
  const [body] = await due([leg()]);
  const find = stores.soundings.find;
  const slow = {
    ...stores,
    soundings: {
      ...stores.soundings,
      find: async (query: Parameters<typeof find>[0]) => {
        const found = await find(query);
        nowMs += 1000;
        // The database says that something came, the memory what.
        await createSoundingRepository(local.db).put('demo', [over(DECK_AIR, NOON_MS)], nowMs);
        await stores.soundings.put('demo', [over(DECK_AIR, NOON_MS)], nowMs);
        return found;
      },
    },
  };
  await consumeBoard([message(body).message], deps({ stores: slow }));
  expect((await only()).evaluation?.verdict).toBe('no-ice-found');
  nowMs += 16 * MINUTE;
  const [next] = await asked();
  await consumeBoard([message(next).message], deps());
  const flight = await only();
  expect(flight.evaluation?.verdict).not.toBe('no-ice-found');
  expect(flight.change).toMatchObject({ kind: 'worse' });
});

it('what cannot be worked out is a failure with its reason, never the verdict of before', async () => {
  const [body] = await due([leg()]);
  await consumeBoard([message(body).message], deps());
  const broken = {
    ...stores,
    soundings: { ...stores.soundings, find: () => Promise.reject(new Error('down')) },
  };
  nowMs += 20 * MINUTE;
  const [next] = await asked();
  await consumeBoard([message(next).message], deps({ stores: broken }));
  const flight = await only();
  expect(flight.failure?.sentence).toBe('an error of the service');
  expect(flight.failure!.atMs).toBeGreaterThan(Date.parse(flight.evaluation!.atUtc));
  expect(flight.change).toMatchObject({
    kind: 'worse',
    sentence: 'Unknown: could not be worked out, was no ice found (an error of the service)',
  });
  nowMs += 20 * MINUTE;
  const [third] = await asked();
  await consumeBoard([message(third).message], deps({ stores: broken }));
  const again = await only();
  expect(again.failure!.atMs).toBeGreaterThan(flight.failure!.atMs);
  expect(again.change).toEqual(flight.change);
  nowMs += 20 * MINUTE;
  const [fourth] = await asked();
  await consumeBoard([message(fourth).message], deps());
  expect((await only()).change).toMatchObject({
    kind: 'better',
    sentence: expect.stringContaining('was unknown'),
  });
  const [odd] = await due([leg({ route: 'KZZZ DCT KBGR' })]);
  await consumeBoard([message(odd).message], deps());
  expect((await only()).failure?.sentence).toContain('KZZZ');
});

it('goes back to the queue when the store refuses, and is due still', async () => {
  const [body] = await due([leg()]);
  const settle = () => Promise.reject(new Error('D1 is down'));
  const back = message(body);
  await consumeBoard([back.message], deps({ boards: { ...boards, settle } }));
  expect(back.became).toEqual(['retry in 310 s']);
  nowMs += 20 * MINUTE;
  const [next] = await asked();
  await consumeBoard([message(next).message], deps());
  expect((await only()).evaluation?.verdict).toBe('no-ice-found');
});

it('a failure to tell viewers costs no evaluation', async () => {
  const [body] = await due([leg()]);
  const seen = message(body);
  await consumeBoard([seen.message], deps({ publish: () => Promise.reject(new Error('no room')) }));
  expect(seen.became).toEqual(['ack']);
  expect((await only()).evaluation).toBeDefined();
  expect((await boards.unpublished()).map(({ id }) => id)).toEqual([BOARD.id]);
});

it('drops what names no flights, and works on', async () => {
  const [body] = await due([leg()]);
  const odd = [
    undefined,
    'flights',
    { boardId: 'x', flightIds: [] },
    { ...body, flightIds: Array(21).fill('a') },
  ];
  const seen = [...odd.map(message), message(body)];
  await consumeBoard(
    seen.map((each) => each.message),
    deps(),
  );
  expect(seen.map(({ became }) => became)).toEqual(seen.map(() => ['ack']));
  expect((await only()).evaluation).toBeDefined();
});

it('fluid is what was entered less what the flights before it may take', async () => {
  const legs = [leg({ label: '1' }), leg({ label: '2', departureLocal: '15:00' })];
  await due(legs);
  const tail = { fluidOnBoardL: 70, inoperative: [], note: '', by: 'Ada' };
  await boards.putTail(BOARD.id, 'ZZ-ONE', tail, at(nowMs));
  await stores.soundings.put('demo', [over(DECK_AIR, NOON_MS)], nowMs);
  nowMs += 16 * MINUTE;
  for (const body of await asked()) await consumeBoard([message(body).message], deps());
  const [first, second] = await boards.flights(BOARD.id, NOON_MS, NOON_MS + 86_400_000);
  const taken = first!.evaluation!.exposure!.fluidTripHighL!;
  expect(first!.evaluation!.fluid?.onBoardL).toBe(70);
  expect(taken).toBeGreaterThan(0);
  expect(second!.evaluation!.fluid?.onBoardL).toBe(Math.floor(70 - taken));
});

it('messages hold at most twenty flights of one board each', () => {
  const flights = Array.from({ length: 45 }, (_, at) => ({
    boardId: at % 3 === 0 ? 'a' : 'b',
    flightId: String(at),
  }));
  const messages = messagesOf(flights);
  expect(messages.map(({ boardId, flightIds }) => [boardId, flightIds.length])).toEqual([
    ['a', 15],
    ['b', 20],
    ['b', 10],
  ]);
  expect(messages.flatMap(({ flightIds }) => flightIds).sort()).toEqual(
    flights.map(({ flightId }) => flightId).sort(),
  );
});
