/** How the board's page keeps up: by sockets and timers of the test's own. */
import { describe, expect, test } from 'vitest';
import { type FollowPlatform, followBoard, type LiveState } from '../../web/src/board/live-connection.ts';
import { DEAD_AFTER_MS, type LiveSocket } from '../../web/src/board/live-socket.ts';
import type { Answer } from '../../web/src/client/answer.ts';
import type { BoardDelta } from '../../worker/schema/board.ts';

const BOARD = 'AAAAAAAAAAAAAAAAAAAAAA';
const START_MS = 1_000_000;

class FakeSocket implements LiveSocket {
  onopen: (() => void) | null = null;
  onmessage: ((event: { readonly data: unknown }) => void) | null = null;
  onclose: (() => void) | null = null;
  onerror: (() => void) | null = null;
  readonly sent: string[] = [];
  isClosed = false;
  readonly path: string;
  readonly protocols: string[];
  constructor(path: string, protocols: string[]) {
    this.path = path;
    this.protocols = protocols;
  }
  send(text: string): void {
    this.sent.push(text);
  }
  close(): void {
    this.isClosed = true;
  }
  says(message: unknown): void {
    this.onmessage?.({ data: typeof message === 'string' ? message : JSON.stringify(message) });
  }
}

function delta(sinceSeq: number, seq: number, rest: Partial<BoardDelta> = {}): BoardDelta {
  const empty = { flights: [], removed: [], tails: [], waiting: 0, isTooOld: false };
  return { sinceSeq, seq, asOfUtc: '2026-01-14T05:00:00Z', ...empty, ...rest };
}

const told = (sinceSeq: number, seq: number) => ({ kind: 'delta', delta: delta(sinceSeq, seq) });
const problem = (status: number): Answer<never> => ({
  kind: 'problem',
  problem: { type: 'about:blank', title: 't', status, detail: 'd' },
});

/** A page that has everything up to a number, and a service whose changes end at another. */
function follow({ own = 5, service = 5, random = 1 } = {}) {
  const sockets: FakeSocket[] = [];
  const asked: number[] = [];
  const taken: BoardDelta[] = [];
  const states: [LiveState, number][] = [];
  let timers: { atMs: number; act: () => void }[] = [];
  let onReturn = () => {};
  const page = {
    ...{ own, service, nowMs: START_MS, reloads: 0, isHidden: false, isListening: true },
    /** In the place of what the service has. */
    answer: undefined as ((sinceSeq: number) => Promise<Answer<BoardDelta>>) | undefined,
    /** What the browser refuses to open. */
    refusal: undefined as Error | undefined,
    onTaken: () => {},
  };
  const platform: FollowPlatform = {
    makeSocket: (path, protocols) => {
      if (page.refusal) throw page.refusal;
      sockets.push(new FakeSocket(path, protocols));
      return sockets.at(-1)!;
    },
    timers: {
      nowMs: () => page.nowMs,
      after: (durationMs, act) => {
        const timer = { atMs: page.nowMs + durationMs, act };
        timers.push(timer);
        return () => {
          timers = timers.filter((other) => other !== timer);
        };
      },
      random: () => random,
    },
    isHidden: () => page.isHidden,
    onReturn: (act) => {
      onReturn = act;
      return () => {
        page.isListening = false;
      };
    },
  };
  const { stop } = followBoard(
    {
      ...{ boardId: BOARD, key: 'secret' },
      seq: () => page.own,
      onDelta: (taking) => {
        taken.push(taking);
        page.own = Math.max(page.own, taking.seq);
        page.onTaken();
      },
      onReload: () => {
        page.reloads += 1;
      },
      onState: (state, sinceMs) => states.push([state, sinceMs - START_MS]),
      askChanges: (sinceSeq) => {
        asked.push(sinceSeq);
        return (
          page.answer?.(sinceSeq) ?? Promise.resolve({ kind: 'ok', value: delta(sinceSeq, page.service) })
        );
      },
    },
    platform,
  );
  const settle = async () => {
    for (let turn = 0; turn < 10; turn += 1) await Promise.resolve();
  };
  const pass = async (durationMs: number) => {
    const endMs = page.nowMs + durationMs;
    for (;;) {
      const [next] = timers.filter(({ atMs }) => atMs <= endMs).sort((one, other) => one.atMs - other.atMs);
      if (next === undefined) break;
      timers = timers.filter((timer) => timer !== next);
      page.nowMs = Math.max(page.nowMs, next.atMs);
      next.act();
      await settle();
    }
    page.nowMs = endMs;
  };
  const open = async () => {
    sockets.at(-1)!.onopen?.();
    await settle();
  };
  return {
    ...{ page, sockets, asked, taken, states, stop, settle, pass, open },
    comesBack: async () => {
      onReturn();
      await settle();
    },
    waiting: () => timers.length,
  };
}

/** Connected, and with everything the service has. */
async function live(given: Parameters<typeof follow>[0] = {}) {
  const followed = follow(given);
  await followed.settle();
  await followed.open();
  return followed;
}

describe('followBoard over a socket', () => {
  test('opens the board of its key, and the key is in no address', () => {
    const { sockets } = follow();
    expect(sockets[0]!.path).toBe(`/api/boards/${BOARD}/live`);
    expect(sockets[0]!.protocols).toEqual(['rimeway-board', 'key.secret']);
  });

  test('asks again once the socket is open: what changed between is told to nobody', async () => {
    const { page, asked, states, settle, open } = follow();
    await settle();
    expect([asked, states]).toEqual([[5], [['polling', 0]]]);
    page.service = 7;
    await open();
    expect([asked, page.own]).toEqual([[5, 5], 7]);
    expect(states.at(-1)).toEqual(['live', 0]);
  });

  test('an answer that was on its way when the socket opened does not make it live', async () => {
    const { page, asked, states, settle, open } = follow();
    let give = (_: Answer<BoardDelta>) => {};
    page.answer = () => new Promise((resolve) => (give = resolve));
    await settle();
    await open();
    expect(asked).toEqual([5, 5]);
    expect(states).toEqual([['polling', 0]]);
    give({ kind: 'ok', value: delta(5, 5) });
    await settle();
    expect(states.at(-1)![0]).toBe('live');
  });

  test('opened while the first question is out, it asks a second time before it is live', async () => {
    const followed = follow();
    followed.sockets[0]!.onopen?.();
    await followed.settle();
    expect(followed.asked).toEqual([5, 5]);
    expect(followed.states.map(([state]) => state)).toEqual(['polling', 'live']);
  });

  test('takes in what follows what it has, and drops what it has had', async () => {
    const { sockets, taken, page, asked } = await live();
    const before = taken.length;
    sockets[0]!.says(told(5, 6));
    sockets[0]!.says(told(5, 6));
    sockets[0]!.says(told(4, 5));
    sockets[0]!.says(told(5, 8));
    expect(taken.slice(before).map(({ seq }) => seq)).toEqual([6, 8]);
    expect([page.own, asked.length]).toEqual([8, 2]);
  });

  test('a message that begins after what it has is not taken in: it asks', async () => {
    const { sockets, taken, page, asked, settle, states } = await live();
    const before = taken.length;
    page.service = 9;
    sockets[0]!.says(told(7, 9));
    expect(taken.length).toBe(before);
    await settle();
    expect([asked.at(-1), page.own]).toEqual([5, 9]);
    expect(states.at(-1)![0]).toBe('live');
  });

  test('told to ask, it asks until it has as much as was told, and not for what it has', async () => {
    const { sockets, page, asked, settle } = await live();
    sockets[0]!.says({ kind: 'ask', seq: 5 });
    await settle();
    expect(asked.length).toBe(2);
    page.answer = (sinceSeq) =>
      Promise.resolve({ kind: 'ok', value: delta(sinceSeq, Math.min(sinceSeq + 100, 250)) });
    sockets[0]!.says({ kind: 'ask', seq: 250 });
    await settle();
    await settle();
    await settle();
    expect([asked.slice(2), page.own]).toEqual([[5, 105, 205], 250]);
  });

  test('a service that has less than it told is not live, and is not asked in a circle', async () => {
    const { sockets, asked, states, settle } = await live();
    sockets[0]!.says({ kind: 'ask', seq: 8 });
    await settle();
    expect([asked.length, states.at(-1)![0]]).toEqual([3, 'polling']);
  });

  test('words that it does not understand have it ask', async () => {
    const { sockets, asked, settle } = await live();
    for (const odd of ['{', '7', { kind: 'later' }, { kind: 'delta', delta: { seq: 6 } }]) {
      sockets[0]!.says(odd);
      await settle();
    }
    expect(asked.length).toBe(6);
  });

  test('too much happened since: the whole board is asked for, nothing is taken in', async () => {
    const { page, sockets, taken, settle, states, pass } = await live();
    const before = taken.length;
    page.answer = (sinceSeq) =>
      Promise.resolve({ kind: 'ok', value: delta(sinceSeq, 99, { isTooOld: true }) });
    sockets[0]!.says({ kind: 'ask', seq: 99 });
    await settle();
    expect([page.reloads, taken.length]).toEqual([1, before]);
    // Nothing was taken in: what stands on the page is as old as it was, until the whole board has come.
    expect(states.at(-1)![0]).toBe('offline');
    page.answer = undefined;
    page.own = 99;
    page.service = 99;
    await pass(5000);
    expect(states.at(-1)![0]).not.toBe('offline');
  });

  test('while live it asks every five minutes: a message may have been lost', async () => {
    const { asked, sockets, pass, page } = await live();
    page.service = 6;
    for (let minute = 0; minute < 11; minute += 1) {
      sockets[0]!.says('pong');
      await pass(29_000);
    }
    expect([asked.length, page.own]).toEqual([3, 6]);
  });
});

describe('followBoard and a socket that dies', () => {
  test('pings after 30 s of silence, and 45 s of it end the socket', async () => {
    const { sockets, pass, states } = await live();
    await pass(29_999);
    expect(sockets[0]!.sent).toEqual([]);
    await pass(1);
    expect(sockets[0]!.sent).toEqual(['ping']);
    await pass(DEAD_AFTER_MS - 30_001);
    expect([sockets[0]!.isClosed, states.at(-1)![0]]).toEqual([false, 'live']);
    await pass(1);
    expect(sockets[0]!.isClosed).toBe(true);
    expect(states.at(-1)).toEqual(['polling', 45_000]);
  });

  test('a pong keeps it', async () => {
    const { sockets, pass } = await live();
    for (let round = 0; round < 10; round += 1) {
      await pass(30_000);
      sockets[0]!.says('pong');
    }
    expect([sockets.length, sockets[0]!.sent.length]).toEqual([1, 10]);
  });

  test('timers that run late do not end a socket that answers', async () => {
    const { sockets, page, pass } = await live();
    page.nowMs += 120_000;
    await pass(0);
    expect(sockets[0]!.sent).toEqual(['ping']);
    sockets[0]!.says('pong');
    await pass(20_000);
    expect(sockets[0]!.isClosed).toBe(false);
  });

  test('waits double from 1 s up to 60 s between tries, and begin anew after a socket that lasted', async () => {
    const { sockets, pass, page } = await live();
    const waits: number[] = [];
    for (let round = 0; round < 9; round += 1) {
      const closedMs = page.nowMs;
      const before = sockets.length;
      sockets.at(-1)!.onclose?.();
      while (sockets.length === before) await pass(500);
      waits.push((page.nowMs - closedMs) / 1000);
    }
    expect(waits).toEqual([1, 2, 4, 8, 16, 32, 60, 60, 60]);
    sockets.at(-1)!.onopen?.();
    sockets.at(-1)!.says('pong');
    const before = sockets.length;
    sockets.at(-1)!.onclose?.();
    await pass(1000);
    expect(sockets.length).toBe(before + 1);
  });

  test('the wait is between half of it and the whole', async () => {
    const { sockets, pass } = await live({ random: 0 });
    sockets[0]!.onclose?.();
    await pass(499);
    expect(sockets.length).toBe(1);
    await pass(1);
    expect(sockets.length).toBe(2);
  });

  test('a socket that never opens is given up, and one that the browser refuses is tried again', async () => {
    const { sockets, pass, page } = follow();
    await pass(20_000);
    expect(sockets[0]!.isClosed).toBe(true);
    page.refusal = new SyntaxError('protocol');
    await pass(1_000);
    expect(sockets.length).toBe(1);
    page.refusal = undefined;
    await pass(2_000);
    expect(sockets.length).toBe(2);
  });

  test('an error and a close of the same socket are one loss', async () => {
    const { sockets, pass } = await live();
    const { onclose, onerror } = sockets[0]!;
    onerror?.();
    expect(sockets[0]!.onclose).toBeNull();
    expect(onclose).not.toBeNull();
    await pass(1_000);
    expect(sockets.length).toBe(2);
  });
});

describe('followBoard without a socket', () => {
  test('asks within 2 s of the loss and every 20 s then', async () => {
    const { sockets, asked, pass, page } = await live();
    sockets[0]!.onclose?.();
    page.refusal = new Error('no sockets here');
    await pass(2_000);
    expect(asked.length).toBe(3);
    await pass(19_999);
    expect(asked.length).toBe(3);
    await pass(1);
    expect(asked.length).toBe(4);
  });

  test('a page that nobody looks at asks once a minute', async () => {
    const { sockets, page, asked, pass } = await live();
    page.refusal = new Error('no sockets here');
    page.isHidden = true;
    sockets[0]!.onclose?.();
    await pass(2_000);
    await pass(59_999);
    expect(asked.length).toBe(3);
    await pass(60_001);
    expect(asked.length).toBe(5);
  });

  test.each<Answer<BoardDelta>>([
    { kind: 'unreachable' },
    { kind: 'timeout', afterMs: 10_000 },
    { kind: 'not-understood', where: 'seq' },
    problem(500),
    problem(404),
  ])('$kind is offline since the service was last heard, and asked again', async (failure) => {
    const { sockets, page, pass, states, asked } = await live();
    await pass(25_000);
    sockets[0]!.says('pong');
    await pass(5_000);
    page.answer = () => Promise.resolve(failure);
    page.refusal = new Error('no sockets here');
    sockets[0]!.onclose?.();
    await pass(2_000);
    expect(states.slice(-2)).toEqual([
      ['polling', 30_000],
      ['offline', 25_000],
    ]);
    page.answer = undefined;
    await pass(20_000);
    expect([states.at(-1)![0], asked.length]).toEqual(['polling', 4]);
  });

  test('a question that throws counts as one without an answer', async () => {
    const { page, settle, pass, states } = follow();
    await settle();
    page.answer = () => Promise.reject(new Error('broken'));
    await pass(20_000);
    expect(states.at(-1)![0]).toBe('offline');
  });

  test('a socket that is open while nobody answers is not live', async () => {
    const { page, states, settle, open } = follow();
    await settle();
    page.answer = () => Promise.resolve(problem(503));
    await open();
    expect(states.at(-1)![0]).toBe('offline');
  });

  test('a question that fails while live and nothing is missing changes nothing; one that would have brought something does', async () => {
    const { sockets, page, states, settle, comesBack } = await live();
    page.answer = () => Promise.resolve(problem(503));
    await comesBack();
    expect(states.at(-1)![0]).toBe('live');
    sockets[0]!.says({ kind: 'ask', seq: 6 });
    await settle();
    expect(states.at(-1)![0]).toBe('offline');
  });

  test.each([401, 403, 410])('status %i is refused, for good', async (status) => {
    const { sockets, page, pass, states, asked, waiting, comesBack } = await live();
    page.answer = () => Promise.resolve(problem(status));
    sockets[0]!.onclose?.();
    await pass(3_600_000);
    expect(states.at(-1)![0]).toBe('refused');
    expect([asked.length, waiting(), page.isListening]).toEqual([3, 0, false]);
    expect(sockets.every(({ isClosed }) => isClosed)).toBe(true);
    await comesBack();
    expect(asked.length).toBe(3);
  });

  test('back on the network it asks and connects at once', async () => {
    const { sockets, asked, page, pass, comesBack } = follow();
    page.refusal = new Error('no network');
    sockets[0]!.onclose?.();
    await pass(200_000);
    const [before, askedBefore] = [sockets.length, asked.length];
    page.refusal = undefined;
    await comesBack();
    expect([sockets.length - before, asked.length - askedBefore]).toEqual([1, 1]);
    sockets.at(-1)!.onclose?.();
    await pass(1_000);
    expect(sockets.length - before).toBe(2);
  });

  test('back on the network an open socket has 15 s to answer', async () => {
    const { sockets, pass, comesBack } = await live();
    await pass(1_000);
    await comesBack();
    expect(sockets[0]!.sent).toEqual(['ping']);
    await pass(14_999);
    expect(sockets[0]!.isClosed).toBe(false);
    await pass(1);
    expect(sockets[0]!.isClosed).toBe(true);
  });
});

test('stopped, it neither asks nor tells, though an answer is still on its way', async () => {
  const { page, stop, settle, pass, sockets, states, taken, waiting } = follow();
  page.service = 6;
  stop();
  await settle();
  await pass(3_600_000);
  expect([states, taken, waiting(), sockets[0]!.isClosed]).toEqual([[], [], 0, true]);
});

test('stopped by what it tells, it stays stopped', async () => {
  const { page, stop, settle, pass, taken, asked, states, waiting } = follow();
  page.onTaken = stop;
  await settle();
  expect(waiting()).toBe(0);
  await pass(3_600_000);
  expect([taken.length, asked.length, states]).toEqual([1, 1, []]);
});
