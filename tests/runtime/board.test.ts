/** A board in workerd, with real D1, R2, queue and room: from a schedule to verdicts, live and shared. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { BoardFlight, LiveMessage } from '../../worker/schema/board.ts';
import { type BoardStage, demoScheduleLeg, makeBoard } from '../support/board-stage.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance();
});
afterAll(() => instance?.stop());

const CSV = [
  'label,tail,route,weekdays,departureLocal,aircraft,alternate,plannedMinutes',
  '101,ZZ-ONE,KBTV DCT KBGR,wed,06:30,generic-fluid-turboprop,KPWM,75',
  '103,ZZ-TWO,KALB DCT KSWF,wed,07:30,generic-fluid-turboprop,,40',
  '106,ZZ-FOUR,KPQI DCT KESTU DCT CYZV,wed,07:15,generic-fluid-turboprop,,90',
  '110,,KZZZ DCT KBGR,wed,08:00,generic-fluid-turboprop,,60',
].join('\n');

const labelled = (flights: readonly BoardFlight[], label: string) =>
  flights.find((flight) => flight.label === label)!;

async function stageWithLegs(): Promise<BoardStage> {
  const stage = await makeBoard(instance);
  const imported = await stage.ask('POST', '/legs/import?replace=true', { body: CSV });
  expect(await imported.json()).toEqual({ stored: 4, rejected: [] });
  return stage;
}

describe('a schedule that was imported', () => {
  it('is worked out flight by flight: within limits, outside, unknown, and unknown with the reason where it cannot be', async () => {
    const stage = await stageWithLegs();
    const { flights, board, seq, access } = await stage.settled();
    expect({ access, stands: board.standsAtUtc }).toEqual({
      access: 'edit',
      stands: '2026-01-14T11:00:00.000Z',
    });
    expect(seq).toBeGreaterThan(0);
    const over = labelled(flights, '101');
    expect(over).toMatchObject({ departureUtc: '2026-01-14T11:30:00.000Z', from: 'KBTV', to: 'KBGR' });
    expect(over.evaluation?.request).toMatchObject({ route: 'KBTV DCT KBGR' });
    expect(over.evaluation?.hasInventedData).toBe(true);
    expect(labelled(flights, '103').verdict).toBe('outside-limits');
    expect(labelled(flights, '106').verdict).toBe('unknown');
    const nowhere = labelled(flights, '110');
    expect(nowhere).toMatchObject({ verdict: 'unknown', evaluation: null });
    expect(nowhere.why).toContain('KZZZ');
  });

  it('says the same of a flight as a brief that is asked for with its request', async () => {
    const stage = await stageWithLegs();
    const before = labelled((await stage.settled()).flights, '101');
    const tail = { fluidOnBoardL: 80, inoperative: [], note: '', by: 'Ada' };
    await stage.ask('PUT', '/tails/ZZ-ONE', { body: tail });
    await reEvaluated(stage, before);
    const { evaluation } = labelled((await stage.settled()).flights, '101');
    const response = await fetch(`${instance.baseUrl}/api/brief`, {
      method: 'POST',
      body: JSON.stringify(evaluation!.request),
    });
    const { brief } = (await response.json()) as { brief: { verdict: object; file: { altitudeFt: number } } };
    expect(brief.verdict).toMatchObject({ code: evaluation!.verdict, sentence: evaluation!.sentence });
    expect(brief.file?.altitudeFt ?? null).toBe(evaluation!.altitudeFt);
  });

  it('takes what is entered of an aeroplane into account: fluid, and equipment that is inoperative', async () => {
    const stage = await makeBoard(instance);
    await stage.ask('POST', '/legs', { body: { replace: true, legs: [demoScheduleLeg()] } });
    const before = (await stage.settled()).flights[0]!;
    expect(before.evaluation?.fluid ?? null).toBeNull();
    expect(before.evaluation?.fluidUnknownWhy).not.toBe('');
    const tail = { fluidOnBoardL: 80, inoperative: [], note: '', by: 'Ada' };
    expect((await stage.ask('PUT', '/tails/ZZ-ONE', { body: tail })).status).toBe(200);
    await reEvaluated(stage, before);
    const filled = (await stage.settled()).flights[0]!;
    expect(filled.evaluation).toMatchObject({ verdict: 'within-limits', fluid: { onBoardL: 80 } });
    await stage.ask('PUT', '/tails/ZZ-ONE', { body: { ...tail, inoperative: ['propeller-fluid'] } });
    await reEvaluated(stage, filled);
    const broken = (await stage.settled()).flights[0]!;
    expect(broken).toMatchObject({ verdict: 'outside-limits', inoperative: ['propeller-fluid'] });
    expect(broken.change).toMatchObject({ kind: 'worse' });
  });
});

/** Waits until a flight has another evaluation than it had. */
async function reEvaluated(stage: BoardStage, before: BoardFlight): Promise<void> {
  const untilMs = performance.now() + 30_000;
  while (performance.now() < untilMs) {
    const now = (await stage.board()).flights.find(({ id }) => id === before.id);
    if (now?.evaluation?.atUtc !== before.evaluation?.atUtc) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`flight ${before.id}: found no other evaluation after 30 s, expected one`);
}

interface Viewer {
  readonly messages: LiveMessage[];
  readonly closed: Promise<number>;
  readonly socket: WebSocket;
}

async function viewer(stage: BoardStage, key: string): Promise<Viewer> {
  const url = `${instance.baseUrl.replace('http', 'ws')}${stage.path}/live`;
  const socket = new WebSocket(url, ['rimeway-board', `key.${key}`]);
  const messages: LiveMessage[] = [];
  socket.addEventListener('message', ({ data }) => {
    if (typeof data === 'string' && data.startsWith('{')) messages.push(JSON.parse(data) as LiveMessage);
  });
  const closed = new Promise<number>((resolve) => {
    socket.addEventListener('close', ({ code }) => resolve(code));
  });
  await new Promise<void>((resolve, reject) => {
    socket.addEventListener('open', () => resolve());
    socket.addEventListener('error', () => reject(new Error('socket: found an error, expected it open')));
  });
  return { messages, closed, socket };
}

describe('two viewers of one board', () => {
  it('see a mark as it is made, the same change with the same number', async () => {
    const stage = await stageWithLegs();
    const { flights } = await stage.settled();
    const viewers = await Promise.all([viewer(stage, stage.viewKey), viewer(stage, stage.editKey)]);
    const marked = labelled(flights, '101');
    const startMs = performance.now();
    const body = { mark: 'departed', atUtc: '2026-01-14T11:34:00Z', by: 'Ada' };
    expect((await stage.ask('POST', `/flights/${marked.id}/marks`, { body })).status).toBe(200);
    const seen = async ({ messages }: Viewer) => {
      while (performance.now() - startMs < 15_000) {
        const deltas = messages.flatMap((each) => (each.kind === 'delta' ? [each.delta] : []));
        const found = deltas
          .flatMap((delta) => delta.flights)
          .find(({ id, departed }) => id === marked.id && departed);
        if (found) return { departed: found.departed, seq: found.seq, afterMs: performance.now() - startMs };
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
      throw new Error('viewer: found no mark after 15 s, expected one');
    };
    const [one, other] = await Promise.all(viewers.map(seen));
    expect(one?.departed).toEqual({ atUtc: '2026-01-14T11:34:00.000Z', by: 'Ada' });
    expect(other?.seq).toBe(one?.seq);
    const lastMs = Math.max(one!.afterMs, other!.afterMs);
    // Aimed at two seconds.
    process.stdout.write(`two viewers saw a mark after ${Math.round(lastMs)} ms\n`);
    for (const { socket } of viewers) socket.close();
  });

  it('end when their link is taken back, and the link opens nothing any more', async () => {
    const stage = await stageWithLegs();
    const watching = await viewer(stage, stage.viewKey);
    const staying = await viewer(stage, stage.editKey);
    const revoked = await stage.ask('DELETE', `/links/${stage.viewKeyId}`, { key: instance.operatorKey });
    expect(revoked.status).toBe(204);
    expect(await watching.closed).toBeGreaterThan(0);
    expect((await stage.ask('GET', '', { key: stage.viewKey })).status).toBe(401);
    await expect(viewer(stage, stage.viewKey)).rejects.toThrow('socket');
    expect(staying.socket.readyState).toBe(WebSocket.OPEN);
    staying.socket.close();
  });
});

describe('a flight that is shared', () => {
  it('opens as a brief, and its line says what is another since', async () => {
    const stage = await makeBoard(instance);
    await stage.ask('POST', '/legs', { body: { replace: true, legs: [demoScheduleLeg()] } });
    const [flight] = (await stage.settled()).flights;
    const shared = await stage.ask('POST', `/flights/${flight!.id}/shared`);
    expect(shared.status).toBe(201);
    const { id } = (await shared.json()) as { id: string };
    expect((await fetch(`${instance.baseUrl}/api/briefs/${id}`)).status).toBe(200);
    expect((await stage.board()).flights[0]!.shared).toMatchObject({ id, since: [] });
    const tail = { fluidOnBoardL: 80, inoperative: ['pitot-heat'], note: '', by: 'Ada' };
    await stage.ask('PUT', '/tails/ZZ-ONE', { body: tail });
    await reEvaluated(stage, flight!);
    expect((await stage.settled()).flights[0]!.shared!.since).not.toEqual([]);
  });
});

describe('what was seen', () => {
  it('is acknowledged by name, kept in a log that is exported, and taken out for a person who asks', async () => {
    const stage = await stageWithLegs();
    const { flights } = await stage.settled();
    const flight = labelled(flights, '103');
    const body = { flightId: flight.id, seq: flight.change!.seq, by: 'Grace' };
    expect((await stage.ask('POST', '/acknowledgements', { body })).status).toBe(201);
    expect(labelled((await stage.board()).flights, '103').acknowledged).toMatchObject({ by: 'Grace' });
    const log = await (await stage.ask('GET', '/log.csv')).text();
    expect(log).toContain('Grace');
    expect(log).toMatch(/^[^\r]*,asOfUtc,caution\r\n[^\r]*,\d{4}-\d\d-\d\dT[\d:.]+Z,\S/);
    const forgotten = await stage.ask('DELETE', '/log?person=grace', { key: instance.operatorKey });
    expect(((await forgotten.json()) as { deleted: number }).deleted).toBeGreaterThan(0);
    expect(await (await stage.ask('GET', '/log.csv')).text()).not.toContain('Grace');
    expect(JSON.stringify(await stage.board())).not.toContain('Grace');
  });
});
