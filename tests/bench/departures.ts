/**
 * What one more departure and one more route cost beside the first: CPU in Node over an hourly forecast at 3 km in memory, all
 * variants in one run, turn by turn. Run: node tests/bench/departures.ts.
 */
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { FINE_LEG, fineHour } from '../support/fine-hour.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { storeHour } from '../support/stored-hour.ts';

const DEPARTURE_MS = Date.UTC(2011, 0, 15, 12);
/** Hours of the forecast: enough for the last departure and the latest arrival. */
const HOURS = 10;
const WARM_UP = 5;
const TIMES = 30;

const [start, end] = [FINE_LEG[0]!, FINE_LEG.at(-1)!];
/** Ten miles or so beside the straight line. */
const AROUND = [start, [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2 + 0.2], end] as [number, number][];
const lineOf = (coordinates: readonly (readonly [number, number])[]) => ({
  type: 'LineString' as const,
  coordinates: coordinates.map(([lonDeg, latDeg]) => [lonDeg, latDeg] as [number, number]),
});

const VARIANTS: readonly (readonly [string, NonNullable<BriefRequest['options']>])[] = [
  ['the leg alone', { laterDepartures: 0 }],
  ['one later departure', { laterDepartures: 1 }],
  ['three later departures', { laterDepartures: 3 }],
  ['one other route', { laterDepartures: 0, otherRoutes: [lineOf(AROUND)] }],
];

interface Measured {
  readonly cpuMs: number;
  /** Without what the stores cost. */
  readonly pureMs: number;
  readonly gets: number;
  readonly bytes: number;
}

function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

async function measured(stores: MemoryStores, options: BriefRequest['options']): Promise<Measured> {
  Object.assign(stores.counts, { gets: 0, bytes: 0 });
  const begin = cpuMs();
  let readMs = 0;
  const request = {
    route: lineOf(FINE_LEG),
    departure: { atUtc: new Date(DEPARTURE_MS).toISOString() },
    aircraft: 'generic-fluid-turboprop',
    options: options ?? {},
  };
  await makeBrief(stores, request, {
    operators: ['demo'],
    onStage: (stage) => {
      if (stage === 'read') readMs = cpuMs() - begin;
    },
  });
  const wholeMs = cpuMs() - begin;
  return { cpuMs: wholeMs, pureMs: wholeMs - readMs, ...stores.counts };
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

const stores = createMemoryStores();
for (let hour = 0; hour < HOURS; hour += 1) {
  await storeHour(await fineHour({ seed: hour + 1, validMs: DEPARTURE_MS + hour * 3_600_000 }), stores);
}
const runs = VARIANTS.map((): Measured[] => []);
for (let round = 0; round < WARM_UP + TIMES; round += 1) {
  for (const [index, [, options]] of VARIANTS.entries()) {
    const one = await measured(stores, options);
    if (round >= WARM_UP) runs[index]!.push(one);
  }
}
const medians = runs.map((each) => ({
  cpuMs: median(each.map((run) => run.cpuMs)),
  pureMs: median(each.map((run) => run.pureMs)),
  gets: each[0]!.gets,
  bytes: each[0]!.bytes,
}));
process.stdout.write('variant                    CPU ms   ratio  without reading   ratio  objects     KiB\n');
for (const [index, [name]] of VARIANTS.entries()) {
  const { cpuMs: wholeMs, pureMs, gets, bytes } = medians[index]!;
  const cells = [
    name.padEnd(24),
    wholeMs.toFixed(1).padStart(8),
    (wholeMs / medians[0]!.cpuMs).toFixed(2).padStart(7),
    pureMs.toFixed(1).padStart(16),
    (pureMs / medians[0]!.pureMs).toFixed(2).padStart(7),
    String(gets).padStart(8),
    (bytes / 1024).toFixed(0).padStart(7),
  ];
  process.stdout.write(`${cells.join(' ')}\n`);
}
