/**
 * One forecast hour of a regional model (1,799 x 1,059 points, 40 levels, 8 quantities) cropped to about 600 x 600 km: memory
 * and CPU in Node, and of the real call in workerd. Argument: a folder of real files, for the field it is made of; without it
 * nothing is measured. Expects a build.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { newKey, startInstance } from '../../worker/cli/local-instance.ts';
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { workerdCpuS, workerdPeakBytes } from '../support/cpu-clock.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { REGIONAL_FIELDS, regionalFile } from '../support/regional-file.ts';

const AREA = { westDeg: -87.8, southDeg: 39.7, eastDeg: -81.6, northDeg: 44.3 };
const MIB = 2 ** 20;
/** With `--expose-gc`: what is live, without garbage that the engine has not come round to. */
const collect = (globalThis as { gc?: () => void }).gc;

const dataFolder = process.argv[2];

if (dataFolder === undefined) {
  process.stdout.write('ingest: give a folder of real files as argument\n');
} else {
  const field = new Uint8Array(readFileSync(join(dataFolder, 'grib2/hrrr-2026021912-f00-tmp700.grib2')));
  process.stdout.write(
    `${REGIONAL_FIELDS} messages, ${((REGIONAL_FIELDS * field.length) / MIB).toFixed(0)} MiB\n`,
  );
  await inNode(field);
  await inWorkerd(field);
}

/** What the engine holds: heap and array buffers, looked at after every message. */
function heldBytes(): number {
  collect?.();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

async function inNode(field: Uint8Array): Promise<void> {
  const stores = createMemoryStores();
  // What is stored leaves the isolate: it is not its memory.
  let objects = 0;
  let bytes = 0;
  const away = {
    ...stores.objects,
    put: async (_key: string, body: ArrayBuffer | Uint8Array | string) => {
      objects += 1;
      bytes += typeof body === 'string' ? body.length : body.byteLength;
    },
  };
  const before = heldBytes();
  let peak = 0;
  const watched = (async function* () {
    for await (const message of regionalFile(field)) {
      yield message;
      peak = Math.max(peak, heldBytes() - before);
    }
  })();
  const cpu = process.cpuUsage();
  const result = await ingestGrid(watched, { ...stores, objects: away, operator: 'demo', area: AREA }, 0);
  peak = Math.max(peak, heldBytes() - before);
  const { user, system } = process.cpuUsage(cpu);
  const [hour] = result.hours;
  const { nx, ny } = hour!.manifest.crop;
  process.stdout.write(
    `Node: ${result.keptFields} fields kept of ${nx} x ${ny} points; ${((user + system) / 1e6).toFixed(1)} s of CPU; peak ${(peak / MIB).toFixed(0)} MiB over the start; ${objects} objects, ${(bytes / MIB).toFixed(1)} MiB written\n`,
  );
}

async function inWorkerd(field: Uint8Array): Promise<void> {
  const key = newKey();
  const instance = await startInstance({
    port: 0,
    stateFolder: undefined,
    keys: { local: key },
    operatingArea: `${AREA.westDeg},${AREA.southDeg},${AREA.eastDeg},${AREA.northDeg}`,
  });
  await (await fetch(`${instance.baseUrl}/api/health`)).text();
  const idleBytes = workerdPeakBytes();
  const cpuS = workerdCpuS();
  const response = await fetch(`${instance.baseUrl}/api/grids`, {
    method: 'POST',
    headers: { authorization: `Bearer ${key}` },
    body: Readable.toWeb(Readable.from(regionalFile(field))) as unknown as ReadableStream,
    duplex: 'half',
  } as RequestInit);
  const answer = (await response.json()) as { keptFields: number };
  process.stdout.write(
    `workerd: status ${response.status}, ${answer.keptFields} fields kept; ${(workerdCpuS() - cpuS).toFixed(1)} s of CPU (R2 and D1 of this machine included); peak ${((workerdPeakBytes() - idleBytes) / MIB).toFixed(0)} MiB over idle\n`,
  );
  await instance.stop();
}
