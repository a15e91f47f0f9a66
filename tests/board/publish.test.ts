import { describe, expect, test } from 'vitest';
import { publishAll, publishBoard } from '../../worker/board/publish.ts';
import { liveMessageSchema } from '../../worker/schema/board.ts';
import { boardOf, flightOf, memoryOutbox, shownFlight } from '../support/memory-outbox.ts';

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, at) => from + at);

describe('publishBoard tells the room', () => {
  test('what has a greater number than was told, whole, and sets the number', async () => {
    const outbox = memoryOutbox();
    const board = outbox.have(
      'b',
      [flightOf(3), flightOf(5, 'mark'), flightOf(6, 'schedule', { isRemoved: true })],
      {
        ...{ publishedSeq: 3, seq: 8 },
      },
    );
    const tail = {
      ...{
        tail: 'IV-A',
        fluidOnBoardL: undefined,
        fluidEnteredMs: undefined,
        inoperative: ['ice-light'] as const,
        note: 'n',
        by: 'desk',
      },
      enteredMs: Date.UTC(2026, 0, 14, 4),
    };
    outbox.tails.set(board.id, [{ seq: 8, tail }]);
    expect(await publishBoard(outbox.deps, board)).toBe(8);
    expect(outbox.told).toEqual([
      {
        boardId: board.id,
        message: {
          kind: 'delta',
          delta: {
            ...{ sinceSeq: 3, seq: 8, asOfUtc: '2026-01-14T05:00:00.000Z', waiting: 7, isTooOld: false },
            flights: [shownFlight(flightOf(5, 'mark'))],
            removed: [flightOf(6).id],
            tails: [
              {
                ...{ tail: 'IV-A', fluidOnBoardL: null, inoperative: ['ice-light'], note: 'n', by: 'desk' },
                enteredUtc: '2026-01-14T04:00:00.000Z',
                fluidEnteredUtc: null,
              },
            ],
          },
        },
      },
    ]);
    expect(liveMessageSchema.safeParse(outbox.told[0]!.message).success).toBe(true);
    expect(outbox.board('b').publishedSeq).toBe(8);
  });

  test('nothing where everything is told, and nothing of a board that is gone', async () => {
    const outbox = memoryOutbox();
    expect(await publishBoard(outbox.deps, outbox.have('b', [flightOf(3)], { publishedSeq: 3 }))).toBe(3);
    expect(await publishBoard(outbox.deps, boardOf('gone', { seq: 9, publishedSeq: 2 }))).toBe(2);
    expect(outbox.told).toEqual([]);
  });

  test('what happened after its caller read the board', async () => {
    const outbox = memoryOutbox();
    const early = outbox.have('b', [flightOf(3)]);
    outbox.have('b', [flightOf(3), flightOf(4)]);
    expect(await publishBoard(outbox.deps, early)).toBe(4);
    expect(outbox.told[0]!.message).toMatchObject({ delta: { seq: 4 } });
  });

  test('never a number that it did not read up to: what comes meanwhile comes again', async () => {
    const outbox = memoryOutbox();
    const board = outbox.have('b', [flightOf(3)]);
    outbox.faults.afterRead = () => {
      outbox.faults.afterRead = () => {};
      outbox.have('b', [flightOf(3), flightOf(4, 'worse')]);
    };
    expect(await publishBoard(outbox.deps, board)).toBe(3);
    expect(outbox.board('b')).toMatchObject({ seq: 4, publishedSeq: 3 });
    expect(await publishBoard(outbox.deps, board)).toBe(4);
  });

  test('to ask, where it is more than 100 flights; 100 are told', async () => {
    for (const [count, kind] of [
      [100, 'delta'],
      [101, 'ask'],
      [350, 'ask'],
    ] as const) {
      const outbox = memoryOutbox();
      const board = outbox.have(
        'b',
        range(1, count).map((seq) => flightOf(seq)),
      );
      expect(await publishBoard(outbox.deps, board)).toBe(count);
      expect(outbox.told.map(({ message }) => message.kind)).toEqual([kind]);
      if (kind === 'ask') expect(outbox.told[0]!.message).toEqual({ kind: 'ask', seq: count });
    }
  });

  test('to ask, where it is more than 256 KiB as it is sent', async () => {
    for (const [letters, kind] of [
      [130_000, 'delta'],
      [131_072, 'ask'],
    ] as const) {
      const outbox = memoryOutbox();
      const board = outbox.have('b', [flightOf(1)]);
      const toFlight = (stored: Parameters<typeof shownFlight>[0]) => ({
        ...shownFlight(stored),
        why: 'é'.repeat(letters),
      });
      await publishBoard({ ...outbox.deps, answers: async () => toFlight }, board);
      expect(outbox.told[0]!.message.kind).toBe(kind);
    }
  });

  test('as of the instant that a board for training stands at', async () => {
    const outbox = memoryOutbox();
    await publishBoard(outbox.deps, outbox.have('b', [flightOf(1)], { standsMs: Date.UTC(2025, 11, 1, 6) }));
    expect(outbox.told[0]!.message).toMatchObject({ delta: { asOfUtc: '2025-12-01T06:00:00.000Z' } });
  });

  test('again, where it crashed before the number was set', async () => {
    const outbox = memoryOutbox();
    const board = outbox.have('b', [flightOf(1, 'worse')]);
    outbox.subscribe(board, 'e1');
    outbox.faults.published = () => {
      throw new Error('crash');
    };
    await expect(publishBoard(outbox.deps, board)).rejects.toThrow('crash');
    delete outbox.faults.published;
    await publishBoard(outbox.deps, board);
    expect(outbox.told.map(({ message }) => message)).toEqual(Array(2).fill(outbox.told[0]!.message));
    expect(outbox.pushed.length).toBe(2);
    expect(outbox.pushed[0]).toEqual(outbox.pushed[1]);
  });
});

describe('publishBoard pushes', () => {
  test('what got worse since it was told, to everybody who asked', async () => {
    const outbox = memoryOutbox();
    const evaluation = {
      ...{ atUtc: '2026-01-14T04:55:00Z', oldestDataUtc: '2026-01-14T00:00:00Z', hasInventedData: true },
      newestDataUtc: '2026-01-14T04:00:00Z',
    } as NonNullable<ReturnType<typeof flightOf>['evaluation']>;
    const board = outbox.have('b', [flightOf(4, 'worse', { evaluation })]);
    outbox.subscribe(board, 'e1', 'e2');
    await publishBoard(outbox.deps, board);
    expect(outbox.pushed.map(({ endpoint }) => endpoint).sort()).toEqual(['e1', 'e2']);
    expect(outbox.pushed[0]!.message).toEqual({
      title: 'IV 4 KBTV–KBGR: outside limits',
      body:
        'Night network. Sentence 4. Departs 2026-01-14 11:30 UTC. Worked out 2026-01-14 04:55 UTC on data of ' +
        '2026-01-14 00:00 UTC to 2026-01-14 04:00 UTC. Partly invented data. ' +
        'Advice only: the pilot in command, the manuals and the official briefing decide.',
      path: `/board/${board.id}`,
      topic: 'LLLLLLLLLLLLLLLLL00004260114',
    });
    await publishBoard(outbox.deps, board);
    expect(outbox.pushed.length).toBe(2);
  });

  test.each(['first', 'better', 'other', 'mark', 'tail', 'schedule', undefined] as const)(
    'nothing for a change of kind %s',
    async (kind) => {
      const outbox = memoryOutbox();
      const board = outbox.have('b', [flightOf(4, kind)]);
      outbox.subscribe(board, 'e1');
      await publishBoard(outbox.deps, board);
      expect([outbox.told.length, outbox.pushed.length]).toEqual([1, 0]);
    },
  );

  test('nothing for what was told, is removed, cancelled or has arrived; a flight in the air counts', async () => {
    const outbox = memoryOutbox();
    const mark = { atMs: 0, by: 'desk' };
    const old = flightOf(9, 'worse');
    const board = outbox.have(
      'b',
      [
        { ...old, change: { ...old.change!, seq: 2 } },
        flightOf(10, 'worse', { isRemoved: true }),
        flightOf(11, 'worse', { cancelled: mark }),
        flightOf(12, 'worse', { arrived: mark }),
        flightOf(13, 'worse', { departed: mark }),
      ],
      { publishedSeq: 3 },
    );
    outbox.subscribe(board, 'e1');
    await publishBoard(outbox.deps, board);
    expect(outbox.pushed.map(({ message }) => message.title)).toEqual(['IV 13 KBTV–KBGR: outside limits']);
  });

  test('three one by one, four in one message that counts and names them', async () => {
    for (const count of [3, 4, 12]) {
      const outbox = memoryOutbox();
      const board = outbox.have(
        'b',
        range(1, count).map((seq) => flightOf(seq, 'worse')),
      );
      outbox.subscribe(board, 'e1');
      await publishBoard(outbox.deps, board);
      expect(outbox.pushed.length).toBe(count === 3 ? 3 : 1);
      if (count === 3) continue;
      const [{ message }] = outbox.pushed as [(typeof outbox.pushed)[0]];
      expect(message.title).toBe(`${count} flights got worse: ${count} outside limits`);
      expect(message.body).toContain('IV 3 KBTV–KBGR outside limits');
      expect(message.body).toContain(`${count - 3} more`);
      // Devices show no more: web/offline/push-notice.ts.
      expect(message.body.length).toBeLessThanOrEqual(400);
      expect(message.topic).toBe(board.id);
    }
  });

  test('those beyond the first 100 flights too', async () => {
    const outbox = memoryOutbox();
    const board = outbox.have('b', [...range(1, 249).map((seq) => flightOf(seq)), flightOf(250, 'worse')]);
    outbox.subscribe(board, 'e1');
    await publishBoard(outbox.deps, board);
    expect(outbox.pushed.map(({ message }) => message.title)).toEqual(['IV 250 KBTV–KBGR: outside limits']);
  });

  test('not what got better again while it read on', async () => {
    const outbox = memoryOutbox();
    const bad = flightOf(1, 'worse');
    const others = range(2, 100).map((seq) => flightOf(seq));
    const board = outbox.have('b', [bad, ...others], { seq: 101 });
    outbox.flights.get(board.id)!.push(flightOf(101));
    outbox.faults.afterRead = () => {
      outbox.flights.set(board.id, [...others, flightOf(101), { ...flightOf(102, 'better'), id: bad.id }]);
    };
    outbox.subscribe(board, 'e1');
    await publishBoard(outbox.deps, board);
    expect(outbox.pushed).toEqual([]);
  });

  test('a subscription that is gone is ended; one that fails or throws is kept, and keeps nothing from the others', async () => {
    const outbox = memoryOutbox();
    const board = outbox.have('b', [flightOf(1, 'worse'), flightOf(2, 'worse')]);
    const secret = 'https://push.example.net/secret';
    outbox.subscribe(board, 'gone', 'failed', secret, ...range(1, 20).map((at) => `e${at}`));
    outbox.faults.push = (endpoint) => {
      if (endpoint === secret) throw new Error(`no way to ${secret} today`);
      return endpoint === 'gone' || endpoint === 'failed' ? endpoint : 'sent';
    };
    expect(await publishBoard(outbox.deps, board)).toBe(2);
    expect(outbox.endpoints().includes('gone')).toBe(false);
    expect(outbox.endpoints().length).toBe(22);
    const reached = outbox.pushed.filter(({ endpoint }) => endpoint.startsWith('e'));
    expect([reached.length, new Set(reached.map(({ endpoint }) => endpoint)).size]).toEqual([40, 20]);
    expect(outbox.pushed.filter(({ endpoint }) => endpoint === 'gone').length).toBe(1);
    expect(outbox.lines).toEqual([`push: board ${board.id}: Error: no way to (address) today`]);
  });

  test('even where the room fails, and then the number stays', async () => {
    const outbox = memoryOutbox();
    const board = outbox.have('b', [flightOf(1, 'worse')]);
    outbox.subscribe(board, 'e1');
    outbox.faults.room = () => {
      throw new Error('room away');
    };
    await expect(publishBoard(outbox.deps, board)).rejects.toThrow('room away');
    expect([outbox.pushed.length, outbox.board('b').publishedSeq]).toEqual([1, 0]);
  });

  test('nothing on an instance without keys, and says of a board for training that it is one', async () => {
    const outbox = memoryOutbox();
    const board = outbox.have('b', [flightOf(1, 'worse')], { standsMs: 0 });
    outbox.subscribe(board, 'e1');
    await publishBoard({ ...outbox.deps, push: undefined }, board);
    expect([outbox.pushed.length, outbox.board('b').publishedSeq]).toEqual([0, 1]);
    outbox.have('b', [flightOf(2, 'worse')], { standsMs: 0 });
    await publishBoard(outbox.deps, board);
    expect(outbox.pushed[0]!.message.title).toMatch(/^Training: IV 2 /);
    expect(outbox.pushed[0]!.message.body).toContain('Not worked out.');
  });

  test('an evaluation without any data says so', async () => {
    const outbox = memoryOutbox();
    const evaluation = {
      ...{ atUtc: '2026-01-14T04:55:00Z', oldestDataUtc: null, newestDataUtc: null, hasInventedData: false },
    } as NonNullable<ReturnType<typeof flightOf>['evaluation']>;
    const board = outbox.have('b', [flightOf(4, 'worse', { evaluation })]);
    outbox.subscribe(board, 'e1');
    await publishBoard(outbox.deps, board);
    expect(outbox.pushed[0]!.message.body).toContain('Worked out 2026-01-14 04:55 UTC on no data. Advice');
  });
});

test('publishAll: a board that fails keeps nothing from the others and is tried again', async () => {
  const outbox = memoryOutbox();
  const [one, two, three] = ['one', 'two', 'three'].map((id) => outbox.have(id, [flightOf(1)]));
  outbox.faults.room = (boardId) => {
    if (boardId === two!.id) throw new TypeError('room at https://room/?key=secret away');
  };
  await publishAll(outbox.deps);
  expect(outbox.told.map(({ boardId }) => boardId)).toEqual([one!.id, three!.id]);
  expect(outbox.lines).toEqual([
    `publish: board ${two!.id} not told of everything: TypeError: room at (address) away`,
  ]);
  delete outbox.faults.room;
  await publishAll(outbox.deps);
  expect(outbox.told.map(({ boardId }) => boardId)).toEqual([one!.id, three!.id, two!.id]);
});
