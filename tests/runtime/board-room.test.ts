/** A board's room in workerd, with real sockets. */
import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { fileURLToPath } from 'node:url';
import { Miniflare } from 'miniflare';
import { build } from 'vite';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type { LiveMessage } from '../../worker/schema/board.ts';

const ENTRY = fileURLToPath(new URL('../support/board-room-worker.ts', import.meta.url));
const PROTOCOLS = ['rimeway-board', 'key.secret'];

let worker: Miniflare;
let origin: URL;
let boards = 0;
const opened: { close(): void }[] = [];

beforeAll(async () => {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      lib: { entry: ENTRY, formats: ['es'] },
      rolldownOptions: { external: ['cloudflare:workers'] },
    },
  });
  const [output] = Array.isArray(built) ? built : [built];
  if (output === undefined || !('output' in output)) throw new Error('expected a bundle');
  worker = new Miniflare({
    name: 'rooms',
    modules: true,
    script: output.output[0].code,
    compatibilityDate: '2026-07-30',
    durableObjects: {
      ROOMS: { className: 'BoardRoom', useSQLite: true },
      SMALL_ROOMS: { className: 'SmallRoom', useSQLite: true },
    },
  });
  origin = await worker.ready;
});
afterAll(() => worker.dispose());
afterEach(() => {
  for (const viewer of opened.splice(0)) viewer.close();
});

/** Nobody else is in it. */
function newBoard(kind = 'board'): string {
  boards += 1;
  return `${kind}-${boards}`;
}

interface Viewer {
  readonly socket: WebSocket;
  readonly heard: string[];
  readonly closed: Promise<{ code: number; reason: string }>;
  /** The next text that was not asked for yet. */
  readonly next: () => Promise<string>;
}

async function view(board: string, key = 'one', protocols: string[] = PROTOCOLS): Promise<Viewer> {
  const socket = new WebSocket(`ws://${origin.host}/live/${board}/${key}`, protocols);
  opened.push(socket);
  const heard: string[] = [];
  const waiting: ((text: string) => void)[] = [];
  let given = 0;
  socket.addEventListener('message', ({ data }) => {
    heard.push(data);
    const give = waiting.shift();
    if (give !== undefined) {
      given += 1;
      give(data);
    }
  });
  const closed = new Promise<{ code: number; reason: string }>((resolve) => {
    socket.addEventListener('close', ({ code, reason }) => resolve({ code, reason }));
  });
  await new Promise<void>((resolve, reject) => {
    socket.addEventListener('open', () => resolve());
    socket.addEventListener('error', () => reject(new Error('not opened')));
  });
  const next = () => {
    const ready = heard[given];
    if (ready === undefined) return new Promise<string>((resolve) => waiting.push(resolve));
    given += 1;
    return Promise.resolve(ready);
  };
  return { socket, heard, closed, next };
}

/** Told that it is over. The line itself may stay a few seconds longer, until the room sleeps. */
async function ended({ socket }: Viewer): Promise<void> {
  await expect.poll(() => socket.readyState, { timeout: 5_000 }).not.toBe(WebSocket.OPEN);
}

const ask = (seq: number): LiveMessage => ({ kind: 'ask', seq });

async function post(path: string, body?: unknown): Promise<void> {
  const response = await fetch(new URL(path, origin), { method: 'POST', body: JSON.stringify(body) });
  expect(response.status).toBe(204);
}
const publish = (board: string, message: LiveMessage) => post(`/publish/${board}`, message);

async function viewers(board: string): Promise<unknown> {
  return (await fetch(new URL(`/viewers/${board}`, origin))).json();
}

test('everybody who looks at a board gets what is published of it, in order, and nobody else', async () => {
  const [board, other] = [newBoard(), newBoard()];
  const [one, two, elsewhere] = await Promise.all([view(board), view(board, 'two'), view(other)]);
  await publish(board, ask(1));
  await publish(board, ask(2));
  await publish(other, ask(3));
  for (const viewer of [one, two]) {
    expect([await viewer.next(), await viewer.next()]).toEqual(
      [ask(1), ask(2)].map((m) => JSON.stringify(m)),
    );
  }
  expect(await elsewhere.next()).toBe(JSON.stringify(ask(3)));
  expect([one.heard.length, two.heard.length, elsewhere.heard.length]).toEqual([2, 2, 1]);
});

test('nobody looking, publishing does nothing', async () => {
  const board = newBoard();
  await publish(board, ask(1));
  expect(await viewers(board)).toBe(0);
});

test('the protocol is answered and never the key; without one a connection has none', async () => {
  const board = newBoard();
  expect((await view(board)).socket.protocol).toBe('rimeway-board');
  expect((await view(board, 'one', [])).socket.protocol).toBe('');
});

test('a ping is answered, and asking for it changes nothing', async () => {
  const viewer = await view(newBoard());
  for (let time = 0; time < 10; time += 1) {
    viewer.socket.send('ping');
    expect(await viewer.next()).toBe('pong');
  }
  expect(viewer.socket.readyState).toBe(WebSocket.OPEN);
});

test('a revoked key ends its own connections, and those that come late', async () => {
  const board = newBoard();
  const [one, again, two] = [await view(board, 'one'), await view(board, 'one'), await view(board, 'two')];
  const raw = await deafViewer(board, 'one');
  const frame = once(raw, 'data');
  await post(`/close/${board}/one`);
  await ended(one);
  await ended(again);
  // A close frame: its length, 1008, the reason.
  const reason = Buffer.from('link revoked');
  expect((await frame)[0]).toEqual(Buffer.concat([Buffer.from([0x88, 14, 0x03, 0xf0]), reason]));
  await expect(view(board, 'one')).rejects.toThrow();
  expect(await viewers(board)).toBe(1);
  await publish(board, ask(4));
  expect(await two.next()).toBe(JSON.stringify(ask(4)));
});

test('a long message ends the connection, as the fifth of short ones does; others stay', async () => {
  const board = newBoard();
  const [long, short, quiet] = [await view(board), await view(board), await view(board)];
  long.socket.send('x'.repeat(65));
  expect((await long.closed).code).toBe(1008);
  for (let count = 0; count < 4; count += 1) short.socket.send(new Uint8Array(64));
  short.socket.send('ping');
  expect(await short.next()).toBe('pong');
  expect(await viewers(board)).toBe(2);
  short.socket.send('x');
  expect((await short.closed).code).toBe(1008);
  await publish(board, ask(5));
  expect(await quiet.next()).toBe(JSON.stringify(ask(5)));
});

/** A viewer that never answers: neither a ping of the line nor a close. */
async function deafViewer(board: string, key: string): Promise<Socket> {
  const socket = connect(Number(origin.port), origin.hostname);
  opened.push({ close: () => socket.destroy() });
  socket.write(
    [
      `GET /live/${board}/${key} HTTP/1.1`,
      `Host: ${origin.host}`,
      ...['Upgrade: websocket', 'Connection: Upgrade', 'Sec-WebSocket-Version: 13'],
      'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n',
    ].join('\r\n'),
  );
  const [head] = (await once(socket, 'data')) as [Buffer];
  expect(head.toString()).toMatch(/^HTTP\/1.1 101 /);
  return socket;
}

test('a connection that is dead keeps nothing from the others, before and behind it', async () => {
  const board = newBoard();
  const before = await view(board, 'two');
  await deafViewer(board, 'one');
  const behind = await view(board, 'two');
  await post(`/close/${board}/one`);
  await publish(board, ask(6));
  expect([await before.next(), await behind.next()]).toEqual([ask(6), ask(6)].map((m) => JSON.stringify(m)));
  expect(await viewers(board)).toBe(2);
});

test('a connection that is cut off is no viewer any more', async () => {
  const board = newBoard();
  const socket = await deafViewer(board, 'one');
  expect(await viewers(board)).toBe(1);
  socket.destroy();
  await expect.poll(() => viewers(board), { timeout: 5_000 }).toBe(0);
  await publish(board, ask(7));
});

test('a room that slept has its viewers still, whose keys they are, and answers pings', async () => {
  const board = newBoard();
  const [one, two] = [await view(board, 'one'), await view(board, 'two')];
  one.socket.send('x');
  await worker.unsafeEvictDurableObject('rooms', 'BoardRoom', { name: board, webSockets: 'hibernate' });
  one.socket.send('ping');
  expect(await one.next()).toBe('pong');
  await publish(board, ask(8));
  expect([await one.next(), await two.next()]).toEqual([ask(8), ask(8)].map((m) => JSON.stringify(m)));
  // What it said before it slept still counts.
  for (let count = 0; count < 4; count += 1) one.socket.send('x');
  expect((await one.closed).code).toBe(1008);
  await worker.unsafeEvictDurableObject('rooms', 'BoardRoom', { name: board, webSockets: 'hibernate' });
  await post(`/close/${board}/two`);
  await ended(two);
});

test('a call that is no upgrade is answered 426 as a problem', async () => {
  const response = await fetch(new URL(`/live/${newBoard()}/one`, origin));
  expect(response.status).toBe(426);
  expect(await response.json()).toMatchObject({
    status: 426,
    title: 'The live connection cannot be opened',
    detail: 'Upgrade: found none to a WebSocket, expected websocket',
  });
});

test('a full room refuses one more with 503, and has place again when somebody leaves', async () => {
  const board = newBoard('small');
  const [one] = [await view(board), await view(board)];
  const refused = await worker.dispatchFetch(`http://worker/live/${board}/one`, {
    headers: { upgrade: 'websocket' },
  });
  expect([refused.status, await refused.json()]).toMatchObject([503, { status: 503 }]);
  one.socket.close();
  await one.closed;
  await expect.poll(() => viewers(board), { timeout: 5_000 }).toBe(1);
  await view(board);
});

test('one publish reaches 500 viewers', async () => {
  const board = newBoard();
  const all: Viewer[] = [];
  for (let batch = 0; batch < 10; batch += 1) {
    all.push(...(await Promise.all(Array.from({ length: 50 }, (_, at) => view(board, `key-${at}`)))));
  }
  expect(await viewers(board)).toBe(500);
  // About a delta of forty flights.
  const text = 'x'.repeat(100_000);
  const startMs = performance.now();
  await post(`/publish/${board}`, { kind: 'ask', seq: 9, text });
  const answeredMs = performance.now() - startMs;
  const got = await Promise.all(all.map(({ next }) => next()));
  const lastMs = performance.now() - startMs;
  console.log(
    `500 viewers, 100 kB each: the room was done after ${answeredMs.toFixed(0)} ms, the last one had it after ${lastMs.toFixed(0)} ms`,
  );
  expect(new Set(got)).toEqual(new Set([JSON.stringify({ kind: 'ask', seq: 9, text })]));
});
