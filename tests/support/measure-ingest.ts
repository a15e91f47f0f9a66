/** What one forecast hour of a regional model costs to bring into the store, measured in this process. */
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { createMemoryStores } from './memory-stores.ts';
import { regionalFile } from './regional-file.ts';

export interface IngestCost {
  readonly fields: number;
  /** Points a side of the cropped grid. */
  readonly nx: number;
  readonly ny: number;
  readonly cpuS: number;
  /** Most that heap and array buffers held over what they held before; live only where the engine lets garbage be collected. */
  readonly peakBytes: number;
  readonly isLive: boolean;
  readonly objects: number;
  /** Of a file that repeats one field: far less than a real one's. */
  readonly writtenBytes: number;
}

/** With `--expose-gc`: what is live, without garbage that the engine has not come round to. */
const collect = (globalThis as { gc?: () => void }).gc;

/** What the engine holds: heap and array buffers. */
function heldBytes(): number {
  collect?.();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

/** @param field  The real message that the file is made of; see regionalFile. */
export async function measureIngest(
  field: Uint8Array,
  area: { westDeg: number; southDeg: number; eastDeg: number; northDeg: number },
): Promise<IngestCost> {
  const stores = createMemoryStores();
  let objects = 0;
  let writtenBytes = 0;
  // What is stored leaves the isolate: it is not its memory.
  const away = {
    ...stores.objects,
    put: async (_key: string, body: ArrayBuffer | Uint8Array | string) => {
      objects += 1;
      writtenBytes += typeof body === 'string' ? body.length : body.byteLength;
      peakBytes = Math.max(peakBytes, heldBytes() - before);
    },
  };
  const before = heldBytes();
  let peakBytes = 0;
  const watched = (async function* () {
    for await (const message of regionalFile(field)) {
      yield message;
      peakBytes = Math.max(peakBytes, heldBytes() - before);
    }
  })();
  const cpu = process.cpuUsage();
  const result = await ingestGrid(watched, { ...stores, objects: away, operator: 'demo', area }, () => 0);
  const { user, system } = process.cpuUsage(cpu);
  const { nx, ny } = result.hours[0]!.manifest.crop;
  return {
    ...{ fields: result.keptFields, nx, ny, peakBytes, objects, writtenBytes },
    cpuS: (user + system) / 1e6,
    isLive: collect !== undefined,
  };
}
