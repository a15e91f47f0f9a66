/** The smoke check against services that are well, and against ones that are not. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, it } from 'vitest';
import { createApp } from '../../worker/app.ts';
import { smoke } from '../../worker/cli/smoke.ts';
import { type Bindings, readSettings } from '../../worker/env.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const settings = readSettings({
  OPERATOR_KEY_HASHES: '{}',
  OPEN_OPERATORS: 'open',
  OPERATING_AREA: '',
  SUPPLY_MODELS: '',
  SUPPLY_OPERATOR: 'open',
  SUPPLY_HORIZON_HOURS: '18',
  SUPPLY_BASE_URL: '',
  REPORTS_KEPT_HOURS: '24',
} as unknown as Bindings);
const PAGE = '<html><script type="module" src="/assets/a.js"></script></html>';

let server: Server;
afterEach(() => new Promise((done) => server.close(done)));

/** A service over empty stores, whose answers may be changed on their way. */
async function serve(
  change: (path: string, body: string) => string | undefined = () => undefined,
): Promise<string> {
  const app = createApp(createMemoryStores({ nowMs: Date.UTC(2026, 0, 14, 11) }), settings);
  server = createServer(async (request, response) => {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    const { method = 'GET', url = '/' } = request;
    const path = new URL(url, 'http://x').pathname;
    if (path === '/' || path.startsWith('/assets/')) return response.end(change(path, PAGE) ?? PAGE);
    const body = method === 'POST' ? { body: Buffer.concat(chunks) } : {};
    const answer = await app.request(url, {
      method,
      headers: request.headers as Record<string, string>,
      ...body,
    });
    const bytes = Buffer.from(await answer.arrayBuffer());
    const changed = change(`${method} ${path}`, bytes.toString('utf8'));
    response.writeHead(answer.status, Object.fromEntries(answer.headers));
    response.end(changed ?? bytes);
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

async function faults(baseUrl: string, isStrict = false, key?: string): Promise<string[]> {
  const steps = await smoke({
    baseUrl,
    key,
    route: '4428N07309W DCT 4448N06850W',
    atUtc: '2026-01-14T11:30:00Z',
    isStrict,
  });
  return steps.flatMap(({ name, fault }) => (fault === undefined ? [] : [`${name}: ${fault}`]));
}

it('finds nothing wrong with a service that has no data and says so', async () => {
  expect(await faults(await serve())).toEqual([]);
});

it('strictly asked, a schedule that never came is a fault', async () => {
  expect(await faults(await serve(), true)).toEqual([
    expect.stringMatching(/^health: status: found 503, .*schedule has not come/),
  ]);
});

it('a verdict without data that is not unknown is a fault', async () => {
  const lie = await serve((path, body) =>
    path === 'POST /api/brief'
      ? body.replace('"verdict":{"code":"unknown"', '"verdict":{"code":"within-limits"')
      : undefined,
  );
  expect(await faults(lie)).toEqual([
    'brief: verdict without data: found "within-limits", expected "unknown"',
  ]);
});

it('shared bytes that are not those that were kept are a fault', async () => {
  const cut = await serve((path, body) =>
    /^GET \/api\/briefs\//.test(path) ? body.replace('unknown', 'unknowm') : undefined,
  );
  expect(await faults(cut)).toEqual([expect.stringMatching(/^shared brief: SHA-256 of the bytes/)]);
});

it('a page without its script is a fault', async () => {
  const bare = await serve((path) => (path === '/' ? '<html></html>' : undefined));
  expect(await faults(bare)).toEqual(['page: found no script in the page']);
});

it('with a key that the service does not know, metrics and board are faults', async () => {
  const found = await faults(await serve(), false, 'k'.repeat(20));
  expect(found.map((fault) => fault.split(':')[0])).toEqual(['metrics', 'board']);
});

it('where nobody answers every step is a fault', async () => {
  const baseUrl = await serve();
  await new Promise((done) => server.close(done));
  expect((await faults(baseUrl)).map((fault) => fault.split(':')[0])).toEqual([
    'health',
    'page',
    'brief',
    'shared brief',
  ]);
});
