/** What the running service answers, held against its own description by a reader that is not the library that wrote it. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectFolder } from '../../worker/cli/build.ts';
import { holdoverTableFromCsv } from '../../worker/formats/holdover-csv.ts';
import { EXAMPLE_BODIES } from '../../worker/routes/call-examples.ts';
import type { Call } from '../../worker/schema/call.ts';
import { CALLS, type CallName } from '../../worker/schema/calls.ts';
import type { CreatedBrief } from '../../worker/schema/shared-brief.ts';
import { packedByEccodes } from '../support/eccodes-pack.ts';
import { concat } from '../support/grib2-builder.ts';
import { faultsOf, type Schema } from '../support/json-schema.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

interface Document {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
}
interface Operation {
  readonly responses: Readonly<Record<string, { content?: Readonly<Record<string, { schema?: Schema }>> }>>;
}

let instance: TestInstance;
let described: Document;
beforeAll(async () => {
  instance = await startLocalInstance();
  const text = await (await fetch(`${instance.baseUrl}/api/openapi.json`)).text();
  described = closed(JSON.parse(text)) as Document;
});
afterAll(() => instance.stop());

/** Every shape takes its own members alone: an answer must have none that is not described. */
function closed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(closed);
  if (typeof value !== 'object' || value === null) return value;
  const inner = Object.fromEntries(Object.entries(value).map(([name, each]) => [name, closed(each)]));
  const isShape = inner.type === 'object' && inner.properties !== undefined;
  return isShape && inner.additionalProperties === undefined
    ? { ...inner, additionalProperties: false }
    : inner;
}

interface Sent {
  readonly path?: string;
  readonly body?: string | Uint8Array<ArrayBuffer>;
  readonly key?: string;
}

/** Makes a call, and gives what of its answer is not as described; the answer's status among it. */
async function made(name: CallName, status: number, { path, body, key }: Sent = {}): Promise<unknown> {
  const call: Call = CALLS[name];
  const response = await fetch(instance.baseUrl + (path ?? call.path), {
    method: call.method,
    ...(body === undefined ? {} : { body }),
    headers: key === undefined ? {} : { authorization: `Bearer ${key}` },
  });
  const type = response.headers.get('content-type')?.split(';')[0] ?? '';
  const text = await response.text();
  expect(response.status, text.slice(0, 300)).toBe(status);
  const { responses } = described.paths[call.path]![call.method.toLowerCase()]!;
  const content = responses[String(status)]?.content ?? {};
  expect(Object.keys(content)).toEqual(type === '' ? [] : [type]);
  const schema = content[type]?.schema;
  if (schema === undefined || schema.type === 'string') return undefined;
  const answer: unknown = JSON.parse(text);
  expect(faultsOf(answer, schema, described).slice(0, 5)).toEqual([]);
  return answer;
}

const json = (name: CallName) => JSON.stringify(EXAMPLE_BODIES[name]);
/** The invented table of the demo, as if its issuer had put it in force for this winter. */
function tableOfToday(): string {
  const invented = readFileSync(`${projectFolder}sample-soundings/holdover-invented.csv`, 'utf8');
  const year = new Date().getUTCFullYear();
  const dates = { season: `${year}-${year + 1}`, issuedOn: `${year}-01-01`, expiresOn: `${year + 1}-01-31` };
  return JSON.stringify({ ...(holdoverTableFromCsv(invented) as object), ...dates, standing: 'in-force' });
}

describe('as described is the answer of', () => {
  it.each<[CallName, string?]>([
    ['getHealth'],
    ['getAircraft'],
    ['getSources'],
    ['getHoldover'],
    ['getOpenapi'],
    ['getDocs'],
    ['getSkill', '/api/skill?beforeUtc=2026-01-15T00:00:00Z'],
    ['getPlaces', '/api/places?q=burl'],
    ['getPlaces', '/api/places?box=-74,43,-70,46'],
  ])('%s %s', async (name, path) => {
    await made(name, 200, path === undefined ? {} : { path });
  });

  it('postBrief and postColumn', async () => {
    await made('postBrief', 200, { body: json('postBrief') });
    const { curtain, ...options } = { curtain: true, laterDepartures: 2, fluidOnBoardL: 80 };
    const whole = { ...(EXAMPLE_BODIES.postBrief as object), options: { ...options, curtain } };
    await made('postBrief', 200, { body: JSON.stringify(whole) });
    await made('postColumn', 200, { body: json('postColumn') });
  });

  it('postSequence', async () => {
    const { route, departure } = EXAMPLE_BODIES.postBrief as { route: string; departure: object };
    const legs = [{ route, departure }];
    const body = { aircraft: 'generic-fluid-turboprop', fluidOnBoardL: 80, legs };
    await made('postSequence', 200, { body: JSON.stringify(body) });
  });

  it('the calls of a shared brief, one after the other', async () => {
    const { id, key } = (await made('postSharedBrief', 201, {
      body: json('postSharedBrief'),
    })) as CreatedBrief;
    await made('getSharedBrief', 200, { path: `/api/briefs/${id}` });
    await made('getAboutBrief', 200, { path: `/api/briefs/${id}/about` });
    await made('postProof', 200, { path: `/api/briefs/${id}/proof` });
    await made('getBriefLink', 200, { path: `/b/${id}` });
    await made('getSharedPicture', 200, { path: `/b/${id}/picture.png` });
    await made('deleteSharedBrief', 204, { path: `/api/briefs/${id}`, key });
  });

  it('the calls that take files, also where nothing of them can be kept', async () => {
    const key = instance.operatorKey;
    const igra = [
      '#ZZM00099999 2024 01 15 12 1105    2 test-src           447500  -852500',
      '21 -9999  98700B  197B  -21B-9999    12    60    41',
      '10 -9999  85000B 1398B   13B-9999    30   150   154',
    ];
    await made('postSoundings', 201, { key, body: igra.join('\n') });
    const report = 'KBTV 141154Z 02008KT 3SM -FZDZ BR OVC008 M03/M04 A3003=';
    const near = 'near=2026-01-14T12:00:00Z';
    await made('postReports', 201, { key, body: report, path: `/api/reports?${near}` });
    await made('postReports', 422, { key, body: 'no report at all', path: `/api/reports?${near}` });
    const fixes = 'ident,name,latDeg,lonDeg\nZZZZA,Invented,44,-72\nZZZZB,Invented,no,-72\n';
    await made('postPlaces', 201, { key, body: fixes });
    await made('postPlaces', 422, { key, body: 'ident,name,latDeg,lonDeg\nZZZZB,Invented,no,-72\n' });
  });

  it('postGrids', async () => {
    const values = Array.from({ length: 12 }, (_, n) => 255 + n);
    const keys = { shortName: 't', typeOfLevel: 'isobaricInhPa', level: 500, packingType: 'grid_simple' };
    const messages = packedByEccodes([{ columns: 4, rows: 3, values, keys }]);
    await made('postGrids', 201, { key: instance.operatorKey, body: Uint8Array.from(concat(messages)) });
    await made('postGrids', 422, { key: instance.operatorKey, body: Uint8Array.from([1, 2, 3]) });
  });

  it('postHoldover, twice', async () => {
    const table = { key: instance.operatorKey, body: tableOfToday() };
    await made('postHoldover', 201, table);
    await made('postHoldover', 201, table);
  });

  it('a problem, whatever the call', async () => {
    const problem = (described as unknown as { components: { schemas: Record<string, Schema> } }).components
      .schemas.Problem!;
    for (const [path, method] of [
      ['/api/brief', 'POST'],
      ['/api/boards', 'GET'],
      ['/api/nothing', 'GET'],
    ] as const) {
      const response = await fetch(instance.baseUrl + path, { method });
      expect(response.headers.get('content-type')).toBe('application/problem+json');
      expect(faultsOf(await response.json(), problem, described)).toEqual([]);
    }
  });
});

it('the description is the same as the bundle has it, and is made once', async () => {
  const texts = await Promise.all(
    [1, 2].map(async () => (await fetch(`${instance.baseUrl}/api/openapi.json`)).text()),
  );
  expect(texts[0]).toBe(texts[1]);
});
