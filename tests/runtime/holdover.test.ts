/** Holdover tables in the real service: who may load which, what is told of a change, what a brief and its reports make of them. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { holdoverTableFromCsv } from '../../worker/formats/holdover-csv.ts';
import type { GroundAnswer } from '../../worker/schema/ground.ts';
import { type HoldoverTableText, holdoverTableSchema } from '../../worker/schema/holdover.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance();
});
afterAll(() => instance.stop());

const file = (name: string) => readFileSync(new URL(name, import.meta.url), 'utf8');
const historic = JSON.parse(file('../ground/type-iv-2003-04.json')) as HoldoverTableText;
const INVENTED = file('../../sample-soundings/holdover-invented.csv');

/** The same figures as if an issuer had published them for a winter to come. */
const IN_FORCE = INVENTED.replace('standing,invented', 'standing,in-force')
  .replace('2025-2026', '2090-2091')
  .replace('2025-08-01', '2090-08-01')
  .replace('2026-07-31', '2091-07-31');

async function post(body: string | object, key = instance.operatorKey) {
  const response = await fetch(`${instance.baseUrl}/api/holdover`, {
    method: 'POST',
    body: typeof body === 'string' ? body : JSON.stringify(body),
    headers: key === '' ? {} : { authorization: `Bearer ${key}` },
  });
  return { status: response.status, answer: (await response.json()) as Record<string, unknown> };
}

async function list(): Promise<{ operator: string; table: HoldoverTableText }[]> {
  const response = await fetch(`${instance.baseUrl}/api/holdover`);
  return ((await response.json()) as { tables: { operator: string; table: HoldoverTableText }[] }).tables;
}

async function ground(route: string, atUtc: string): Promise<GroundAnswer> {
  const response = await fetch(`${instance.baseUrl}/api/brief`, {
    method: 'POST',
    body: JSON.stringify({
      route,
      departure: { atUtc },
      aircraft: 'generic-fluid-turboprop',
      options: { laterDepartures: 0 },
    }),
    headers: { 'content-type': 'application/json' },
  });
  return ((await response.json()) as { brief: { ground: GroundAnswer } }).brief.ground;
}

it('the demo has its invented table, marked as such, and no other', async () => {
  const tables = await list();
  expect(tables.map(({ operator, table }) => [operator, table.standing, table.fluidType])).toEqual([
    ['demo', 'invented', 'III'],
  ]);
});

describe('a table is refused', () => {
  it('without a key, and with a wrong one', async () => {
    expect((await post(INVENTED, '')).status).toBe(401);
    expect((await post(INVENTED, 'x'.repeat(32))).status).toBe(401);
  });

  it.each<[string, object | string, string]>([
    ['of a season long past', historic, 'standing'],
    ['that is over', { ...historic, standing: 'in-force' }, 'expiresOn'],
    ['that is invented, from anybody but the demo', INVENTED, 'standing'],
    ['cut off', JSON.stringify(historic).slice(0, 300), 'body'],
    ['of another form', { ...historic, form: 'holdover-table-9' }, 'form'],
    ['of a line that is none', `${IN_FORCE}roww,100/0,-30,yes,1-2\n`, 'line 21'],
    ['of a cell that is none', IN_FORCE.replace('11-33', '0:11-0:33'), 'cell'],
    [
      'of a column that no fluid has a time in',
      IN_FORCE.replace('moderate-snow\nc', 'heavy-snow\nc'),
      'columns',
    ],
  ])('%s', async (_, body, field) => {
    const { status, answer } = await post(body);
    expect(status).toBe(422);
    expect(JSON.stringify(answer)).toContain(field);
  });

  it('older than the one in use', async () => {
    expect((await post(IN_FORCE)).status).toBe(201);
    const { status, answer } = await post(IN_FORCE.replace('2090-08-01', '2090-07-31'));
    expect(status).toBe(422);
    expect(answer.field).toBe('issuedOn');
  });
});

it('what a new table changes of the one before it is told, cell by cell', async () => {
  await post(IN_FORCE);
  const changed = IN_FORCE.replace('11-33,22-44,11-22,6-11', '11-33,22-44,9-22,none');
  const { status, answer } = await post(changed);
  expect(status).toBe(201);
  expect(answer).toMatchObject({
    replacedSeason: '2090-2091',
    changes: [
      {
        mix: '100/0',
        coldestC: -3,
        heading: 'light snow and snow grains',
        before: '11-22 min',
        now: '9-22 min',
      },
      { mix: '100/0', coldestC: -3, heading: 'moderate snow', before: '6-11 min', now: 'no time' },
    ],
  });
  expect((await post(IN_FORCE)).answer.changes).toHaveLength(2);
  expect((await post(IN_FORCE)).answer.changes).toEqual([]);
});

it('CSV and JSON of one table are one', () => {
  const table = holdoverTableSchema.parse(holdoverTableFromCsv(INVENTED));
  expect(holdoverTableSchema.parse(JSON.parse(JSON.stringify(table)))).toEqual(table);
  expect(table.rows[2]?.cells[5]).toEqual({ minutes: [4, 12], coldestC: -9 });
});

describe('a brief of the demo', () => {
  it('has the snow of the departure, the treatment it calls for, and the window of the invented table', async () => {
    const found = await ground('KBTV KBGR', '2026-01-14T11:30:00Z');
    expect(found.weather.falling).toEqual(['moderate-snow']);
    expect(found.treatment.need).toBe('needed');
    // -5.6 °C: the row down to -11, moderate snow, as the file has it.
    expect(found.holdover.find(({ mix }) => mix === '100/0')?.outcome).toEqual({
      kind: 'window',
      minimumMinutes: 5,
      maximumMinutes: 9,
    });
    expect(found.report?.text).toContain('INVENTED');
  });

  it('has frost where the night is clear, calm and moist', async () => {
    const found = await ground('KPQI CYYY', '2026-01-14T13:00:00Z');
    expect(found.treatment).toMatchObject({ need: 'may-be-needed' });
    expect(found.treatment.reasons.join()).toContain('active frost');
  });

  it('knows nothing where no report is held, or an old one alone', async () => {
    expect((await ground('KALB KSWF', '2026-01-14T12:30:00Z')).treatment.need).toBe('unknown');
    const old = await ground('KBTV KBGR', '2026-01-14T12:30:00Z');
    expect([old.report?.isFresh, old.treatment.need, old.weather.falling]).toEqual([false, 'unknown', null]);
  });
});
