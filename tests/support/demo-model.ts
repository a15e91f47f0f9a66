/**
 * `npm run demo:model`: the whole supply on this machine, without a network: a bucket with a real forecast under today's runs,
 * the schedule, the queue, the store, and a brief that reads it.
 */
import { build } from '../../worker/cli/build.ts';
import { newKey, startInstance } from '../../worker/cli/local-instance.ts';
import { startRehearsalBucket } from './rehearsal-bucket.ts';

const PORT = Number(process.env.PORT ?? 8788);
const HORIZON_HOURS = 6;
const MS_PER_HOUR = 3_600_000;
const POLL_MS = 500;
const MOST_WAIT_MS = 120_000;
/** Chicago to Detroit, where the forecast has cloud below freezing. */
const ROUTE = 'KORD DCT KDTW';

const say = (text: string) => process.stdout.write(`${text}\n`);

interface Sources {
  readonly grids: readonly { model: string; runUtc: string; validUtc: string }[];
  readonly supply: { hours: readonly { state: string; validUtc: string; runUtc: string; detail: string }[] };
}

say('building ...');
build();
const nowMs = Date.now();
const bucket = await startRehearsalBucket({ nowMs, horizonMs: (HORIZON_HOURS + 2) * MS_PER_HOUR });
say(`bucket with a real forecast of 2011 under today's runs on ${bucket.baseUrl}`);
const instance = await startInstance({
  port: PORT,
  stateFolder: undefined,
  keys: { local: newKey() },
  operatingArea: '-95,38,-72,48',
  supply: {
    SUPPLY_MODELS: 'gfs-0p25',
    SUPPLY_HORIZON_HOURS: String(HORIZON_HOURS),
    SUPPLY_BASE_URL: bucket.baseUrl,
  },
});
say('schedule ...');
await instance.schedule();
const sources = await settled();
for (const { state, runUtc, validUtc, detail } of sources.supply.hours)
  say(`  run ${runUtc.slice(0, 13)}Z for ${validUtc.slice(0, 13)}Z: ${state} ${detail}`);
say(
  `${sources.grids.length} forecast hours in store; the bucket answered ${bucket.requests.length} requests`,
);

const answer = await fetch(`${instance.baseUrl}/api/brief`, {
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify({
    route: ROUTE,
    departure: { atUtc: new Date(nowMs + MS_PER_HOUR).toISOString() },
    aircraft: 'generic-fluid-turboprop',
  }),
});
const { brief } = (await answer.json()) as {
  brief: {
    verdict: { sentence: string };
    data: { name: string; runUtc: string; validUtc: string; share: number }[];
  };
};
say(`${ROUTE}: ${brief.verdict.sentence}`);
for (const { name, runUtc, validUtc, share } of brief.data)
  say(`  from ${name}, run ${runUtc}, valid ${validUtc}, ${Math.round(100 * share)} % of the route`);
say(`page on ${instance.baseUrl} (stop with Ctrl-C). The weather is that of January 2011: not for flight.`);

/** Waits until every hour asked for is stored or given up. */
async function settled(): Promise<Sources> {
  for (const startMs = Date.now(); ; ) {
    const found = (await (await fetch(`${instance.baseUrl}/api/sources`)).json()) as Sources;
    const open = found.supply.hours.filter(({ state }) => state === 'queued' || state === 'working');
    if (found.supply.hours.length > 0 && open.length === 0) return found;
    if (Date.now() - startMs > MOST_WAIT_MS) return found;
    await new Promise((resolve) => setTimeout(resolve, POLL_MS));
  }
}

const stop = () => {
  Promise.all([instance.stop(), bucket.close()]).finally(() => process.exit(0));
};
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, stop);
if (process.argv.includes('--once')) stop();
