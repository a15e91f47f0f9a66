/** The supply inside workerd: cron, queue, dead letters, store and brief, against a bucket on this machine. */
import { afterEach, describe, expect, it } from 'vitest';
import { modelUrls, OPEN_MODELS } from '../../worker/sources/open-models.ts';
import type { BucketFault, BucketServer, SeenRequest } from '../support/bucket-server.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { startRehearsalBucket } from '../support/rehearsal-bucket.ts';

const MS_PER_HOUR = 3_600_000;
const POLL_MS = 200;

let bucket: BucketServer;
let instance: TestInstance;
afterEach(async () => {
  await instance.stop();
  await bucket.close();
});

interface SupplyHour {
  readonly state: string;
  readonly detail: string;
  readonly failures: number;
  readonly runUtc: string;
  readonly validUtc: string;
  readonly forecastHour: number;
}
interface Sources {
  readonly grids: readonly { runUtc: string; validUtc: string; operator: string }[];
  readonly bulletins: readonly unknown[];
  readonly supply: { readonly models: readonly string[]; readonly hours: readonly SupplyHour[] };
}

async function start(fault?: (request: SeenRequest) => BucketFault | undefined): Promise<number> {
  const nowMs = Date.now();
  bucket = await startRehearsalBucket({
    nowMs,
    horizonMs: 4 * MS_PER_HOUR,
    ...(fault === undefined ? {} : { fault }),
  });
  instance = await startLocalInstance({
    demo: false,
    operatingArea: '-95,38,-80,46',
    supply: {
      SUPPLY_MODELS: 'gfs-0p25',
      SUPPLY_HORIZON_HOURS: '1',
      SUPPLY_BASE_URL: bucket.baseUrl,
      // Nobody listens there.
      BULLETIN_URLS: 'https://127.0.0.1/metar.txt?key=topsecret',
    },
  });
  return nowMs;
}

const sources = async () => (await (await fetch(`${instance.baseUrl}/api/sources`)).json()) as Sources;

/** Waits until a state of the sources is as wanted; fails with the last one seen. */
async function eventually(isSo: (found: Sources) => boolean): Promise<Sources> {
  for (let tries = 0; tries < 150; tries += 1) {
    const found = await sources();
    if (isSo(found)) return found;
    await new Promise((resolve) => setTimeout(resolve, POLL_MS));
  }
  throw new Error(`never so: ${JSON.stringify((await sources()).supply)}`);
}
const isSettled = ({ supply }: Sources) =>
  supply.hours.length > 0 && supply.hours.every(({ state }) => state !== 'queued' && state !== 'working');

async function brief(departureMs: number) {
  const response = await fetch(`${instance.baseUrl}/api/brief`, {
    method: 'POST',
    body: JSON.stringify({
      route: 'KORD DCT KDTW',
      departure: { atUtc: new Date(departureMs).toISOString() },
      aircraft: 'generic-fluid-turboprop',
      options: { curtain: true },
    }),
  });
  return (
    (await response.json()) as {
      brief: {
        curtain: { state: number[][] };
        data: { kind: string; runUtc: string; validUtc: string; alongNm: [number, number][] }[];
      };
    }
  ).brief;
}

describe('the supply in workerd', () => {
  it('brings hours from the bucket to a brief, which says where along the leg it used which', async () => {
    const nowMs = await start();
    await instance.schedule();
    const found = await eventually(isSettled);
    expect(new Set(found.supply.hours.map(({ state }) => state))).toEqual(new Set(['stored']));
    expect(found.grids.map(({ validUtc }) => validUtc).toSorted()).toEqual(
      found.supply.hours.map(({ validUtc }) => validUtc).toSorted(),
    );
    const { curtain, data } = await brief(nowMs);
    const known = curtain.state.flat().filter((code) => code === 0).length;
    expect(known).toBeGreaterThan(curtain.state.flat().length / 2);
    expect(data.length).toBeGreaterThan(0);
    // Together the hours used cover the leg from its start to its end.
    expect(Math.min(...data.flatMap(({ alongNm }) => alongNm.map(([from]) => from)))).toBe(0);
    expect(Math.max(...data.flatMap(({ alongNm }) => alongNm.map(([, to]) => to)))).toBeGreaterThan(150);

    // The next round finds everything there, and asks for nothing.
    const requests = bucket.requests.length;
    await instance.schedule();
    await eventually(isSettled);
    expect(bucket.requests).toHaveLength(requests);
  });

  it('takes messages twice, in any order, and those that name no hour', async () => {
    const nowMs = await start();
    await instance.schedule();
    const { supply } = await eventually(isSettled);
    const messages = supply.hours.map(({ runUtc, forecastHour }) => ({
      modelId: 'gfs-0p25',
      runMs: Date.parse(runUtc),
      forecastHour,
    }));
    const requests = bucket.requests.length;
    await instance.send([
      ...messages.toReversed(),
      ...messages,
      'nonsense',
      { modelId: 'constructor', runMs: 0, forecastHour: 0 },
      { ...messages[0], forecastHour: -1 },
    ]);
    await new Promise((resolve) => setTimeout(resolve, 3000));
    expect(bucket.requests).toHaveLength(requests);
    expect((await sources()).supply.hours).toEqual(supply.hours);
    expect((await brief(nowMs)).data.length).toBeGreaterThan(0);
  });

  it('shows what fails with its reason, and the air there stays unknown', async () => {
    const nowMs = await start(({ path }) =>
      path.endsWith('.idx') ? undefined : { kind: 'status', status: 403 },
    );
    await instance.schedule();
    const found = await eventually(({ supply }) => supply.hours.some(({ state }) => state === 'failed'));
    expect(found.supply.hours.find(({ state }) => state === 'failed')?.detail).toMatch(/403.*expected/);
    expect(found.grids).toEqual([]);
    const { curtain, data } = await brief(nowMs);
    expect(data).toEqual([]);
    const { bulletins } = await eventually(
      (each) => !JSON.stringify(each.bulletins).includes('"faultUtc":null'),
    );
    expect(bulletins).toEqual([
      expect.objectContaining({
        address: 'https://127.0.0.1/metar.txt',
        askedUtc: expect.stringMatching(/Z$/),
        gaveUtc: null,
        fault: 'answer from 127.0.0.1: found a broken connection, expected an answer',
      }),
    ]);
    expect(curtain.state.flat().every((code) => code !== 0)).toBe(true);
  });
});

describe('POST /api/grids with an address', () => {
  const post = (body: unknown, key = instance.operatorKey) =>
    fetch(`${instance.baseUrl}/api/grids`, {
      method: 'POST',
      headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });

  it('fetches an hour of an allowed bucket, and nothing from anywhere else', async () => {
    const nowMs = await start();
    const runMs = Math.floor((nowMs - 6 * MS_PER_HOUR) / (6 * MS_PER_HOUR)) * 6 * MS_PER_HOUR;
    const hour = { runMs, forecastHour: Math.floor((nowMs - runMs) / MS_PER_HOUR) };
    const { dataUrl } = modelUrls(OPEN_MODELS['gfs-0p25'], hour, bucket.baseUrl);
    const stored = await post({ url: dataUrl });
    expect(stored.status).toBe(201);
    const answer = (await stored.json()) as { hours: { validUtc: string }[] };
    expect(answer.hours.map(({ validUtc }) => Date.parse(validUtc))).toEqual([
      hour.runMs + hour.forecastHour * MS_PER_HOUR,
    ]);
    const requests = bucket.requests.length;
    for (const url of [
      'http://169.254.169.254/latest/meta-data/',
      `${bucket.baseUrl}etc/passwd`,
      modelUrls(OPEN_MODELS['hrrr-prs'], { runMs, forecastHour: 0 }, bucket.baseUrl).dataUrl,
      dataUrl.replace('127.0.0.1', 'localhost'),
    ]) {
      const refused = await post({ url });
      expect(refused.status, url).toBe(422);
      expect(await refused.json()).toMatchObject({ field: 'url' });
    }
    expect((await post({ url: dataUrl }, 'a-wrong-key-of-some-length')).status).toBe(401);
    expect(bucket.requests).toHaveLength(requests);
  });
});
