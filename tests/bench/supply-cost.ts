/**
 * What it costs to keep a continent supplied at 3 km, an hour's run every hour: computed from one measured ingest of an area of
 * 600 x 600 km. Argument: a folder of real files; without it the figures of the last measurement stand in, and it says so.
 *
 * Prices are the platform's published ones as remembered in 2026: look them up before a decision.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CHUNK_SIDE, SHARD_SIDE } from '../../worker/store/grid-chunks.ts';
import { fineHour } from '../support/fine-hour.ts';
import { type IngestCost, measureIngest } from '../support/measure-ingest.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { REGIONAL_AREA } from '../support/regional-file.ts';
import { storeHour } from '../support/stored-hour.ts';

/** From memory. */
const PRICES = {
  millionWritesUsd: 4.5,
  millionReadsUsd: 0.36,
  gibMonthUsd: 0.015,
  millionQueueOperationsUsd: 0.4,
  millionCpuMsUsd: 0.02,
  millionRequestsUsd: 0.3,
};

/** Measured on 2026-11-27; see bench/ingest.ts. */
const LAST_MEASURED: IngestCost = {
  ...{ fields: 320, nx: 199, ny: 198, cpuS: 5.1, peakBytes: 43 * 2 ** 20, isLive: true },
  ...{ objects: 11, writtenBytes: 0 },
};

const CONTINENT = { nx: 1799, ny: 1059 };
const FILE_BYTES = 175 * 2 ** 20;
const HOURS_A_RUN = 19;
const RUNS_A_DAY = 24;
const RUNS_KEPT = 4;
/** A message is written, read and deleted. */
const QUEUE_OPERATIONS = 3;
/** Reads of one brief of two hours: see bench/brief.ts. */
const READS_A_BRIEF = 26;
const BRIEFS_A_DAY = 2000;
const DAYS_A_MONTH = 30;
/** Consumers at once, and wall time of one, s: CPU and the wait for ranges. */
const CONSUMERS = 20;
const WAIT_S = 10;

const dataFolder = process.argv[2];
const measured =
  dataFolder === undefined
    ? LAST_MEASURED
    : await measureIngest(
        new Uint8Array(readFileSync(join(dataFolder, 'grib2/hrrr-2026021912-f00-tmp700.grib2'))),
        REGIONAL_AREA,
      );

/** The file of the measured ingest repeats one field: its bytes say nothing. Those of an hour made as rough as real ones do. */
const hourBytes = await fineHourBytes();

async function fineHourBytes(): Promise<number> {
  const stores = createMemoryStores();
  await storeHour(await fineHour({}), stores);
  return [...stores.objectMap.values()].reduce((sum, { byteLength }) => sum + byteLength, 0);
}

const areas = Math.ceil(CONTINENT.nx / measured.nx) * Math.ceil(CONTINENT.ny / measured.ny);
const hoursADay = HOURS_A_RUN * RUNS_A_DAY;
const messagesADay = hoursADay * areas;
const cpuMsADay = messagesADay * measured.cpuS * 1000;
const writesADay = messagesADay * measured.objects;
const storedGib = (RUNS_KEPT * HOURS_A_RUN * areas * hourBytes) / 2 ** 30;
const readsADay = BRIEFS_A_DAY * READS_A_BRIEF;

interface Row {
  readonly what: string;
  readonly amount: string;
  readonly usdAMonth: number;
}
const perDay = (what: string, count: number, unit: string, millionUsd: number): Row => ({
  what,
  amount: `${Math.round(count)} ${unit}a day`,
  usdAMonth: (count * millionUsd * DAYS_A_MONTH) / 1e6,
});

const rows: readonly Row[] = [
  perDay('queue operations', messagesADay * QUEUE_OPERATIONS, '', PRICES.millionQueueOperationsUsd),
  perDay('CPU', cpuMsADay, 'ms ', PRICES.millionCpuMsUsd),
  perDay('objects written', writesADay, '', PRICES.millionWritesUsd),
  perDay('objects deleted', writesADay, '', 0),
  perDay('ranges read by briefs', readsADay, '', PRICES.millionReadsUsd),
  perDay('calls', messagesADay + BRIEFS_A_DAY, '', PRICES.millionRequestsUsd),
  { what: 'stored', amount: `${storedGib.toFixed(0)} GiB`, usdAMonth: storedGib * PRICES.gibMonthUsd },
];

const lines = [
  dataFolder === undefined ? '(figures of the last measurement)' : '(measured in this run)',
  `one area: ${measured.nx} x ${measured.ny} points, ${measured.fields} fields, ${measured.cpuS.toFixed(1)} s of CPU, ${measured.objects} objects, ${(hourBytes / 2 ** 20).toFixed(1)} MiB; chunks of ${CHUNK_SIDE}, shards of ${SHARD_SIDE} points a side`,
  `a continent: ${CONTINENT.nx} x ${CONTINENT.ny} points in ${areas} areas, ${HOURS_A_RUN} hours a run, a run an hour`,
  '',
  '| what | how much | USD a month |',
  '|---|---|---|',
  ...rows.map(({ what, amount, usdAMonth }) => `| ${what} | ${amount} | ${usdAMonth.toFixed(2)} |`),
  `| together | | ${rows.reduce((sum, { usdAMonth }) => sum + usdAMonth, 0).toFixed(2)} |`,
  '',
  `a run of all areas with ${CONSUMERS} consumers: ${Math.round((HOURS_A_RUN * areas * (measured.cpuS + WAIT_S)) / CONSUMERS / 60)} min`,
  `fetched from the bucket: ${((messagesADay * FILE_BYTES) / 2 ** 40).toFixed(1)} TiB a day, since every area decodes whole fields`,
];
process.stdout.write(`${lines.join('\n')}\n`);
