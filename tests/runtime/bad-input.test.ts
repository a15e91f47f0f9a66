import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance();
});
afterAll(() => instance.stop());

const LEG = {
  route: 'KBTV DCT KBGR',
  departure: { atUtc: '2026-01-14T11:30:00Z' },
  aircraft: 'generic-fluid-turboprop',
};

async function post(path: string, body: string | Uint8Array): Promise<Response> {
  return fetch(instance.baseUrl + path, {
    method: 'POST',
    body: body as BodyInit,
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });
}

interface BadRequest {
  readonly name: string;
  readonly body: unknown;
  readonly field: string;
}

const BAD_BRIEFS: readonly BadRequest[] = [
  { name: 'an unknown identifier', body: { ...LEG, route: 'KBTV DCT QQQQ' }, field: 'route' },
  { name: 'one fix only', body: { ...LEG, route: 'KBTV' }, field: 'route' },
  {
    name: 'a route of about 10,000 NM',
    body: {
      ...LEG,
      route: {
        type: 'LineString',
        coordinates: [
          [-73, 44],
          [100, -30],
        ],
      },
    },
    field: 'route',
  },
  { name: 'an airway, which is not read', body: { ...LEG, route: 'KBTV V104 KBGR' }, field: 'route' },
  {
    name: 'a date that is none',
    body: { ...LEG, departure: { atUtc: '2026-13-45T11:30:00Z' } },
    field: 'departure.atUtc',
  },
  {
    name: 'a day that no calendar has',
    body: { ...LEG, departure: { atUtc: '2026-02-30T00:00:00Z' } },
    field: 'departure.atUtc',
  },
  {
    name: 'a corridor without width',
    body: { ...LEG, options: { corridorHalfWidthNm: 1e-300 } },
    field: 'options.corridorHalfWidthNm',
  },
  {
    name: 'a local time',
    body: { ...LEG, departure: { atUtc: '2026-01-14T11:30:00+01:00' } },
    field: 'departure.atUtc',
  },
  { name: 'an aircraft nobody knows', body: { ...LEG, aircraft: 'flying-carpet' }, field: 'aircraft' },
  { name: 'a member outside the contract', body: { ...LEG, altitude: 9000 }, field: 'altitude' },
  {
    name: 'fluid beyond reason',
    body: { ...LEG, options: { fluidOnBoardL: 1e9 } },
    field: 'options.fluidOnBoardL',
  },
  {
    name: 'an altimeter setting in inches',
    body: { ...LEG, options: { altimeterSettingHPa: 29.92 } },
    field: 'options.altimeterSettingHPa',
  },
  {
    name: 'a latitude beyond the pole',
    body: {
      ...LEG,
      route: {
        type: 'LineString',
        coordinates: [
          [0, 95],
          [0, 0],
        ],
      },
    },
    field: 'route.coordinates.0',
  },
];

describe('POST /api/brief', () => {
  it.each(BAD_BRIEFS)('answers 422 and names the field for $name', async ({ body, field }) => {
    const response = await post('/api/brief', JSON.stringify(body));
    const problem = (await response.json()) as { field?: string; detail: string };
    expect(response.status).toBe(422);
    expect(response.headers.get('content-type')).toBe('application/problem+json');
    expect(problem.field?.startsWith(field), `field ${problem.field}`).toBe(true);
    expect(problem.detail).toMatch(/found .+, expected .+/);
  });

  it('answers 422 for a body that is no JSON', async () => {
    const response = await post('/api/brief', '{"route": ');
    expect(response.status).toBe(422);
    expect(await response.json()).toMatchObject({ field: 'body' });
  });

  it.each(['2026-03-01T12:00:00Z', '1975-01-14T12:00:00Z'])(
    'a departure outside the data (%s) is unknown, with nothing drawn as free of ice',
    async (atUtc) => {
      const response = await post('/api/brief', JSON.stringify({ ...LEG, departure: { atUtc } }));
      const answer = (await response.json()) as Brief;
      expect(response.status).toBe(200);
      expect(answer.brief.verdict.code).toBe('unknown');
      const states = new Set(
        answer.features.flatMap((each) =>
          each.properties.kind === 'icing-band' ? [each.properties.state] : [],
        ),
      );
      expect(states.has('known')).toBe(false);
      expect(states.size).toBeGreaterThan(0);
    },
  );
});

describe('POST /api/soundings', () => {
  it('answers 422 and stores nothing for text of no known format', async () => {
    const response = await post('/api/soundings', 'dear diary, it was cold');
    expect(response.status).toBe(422);
    expect(await response.json()).toMatchObject({ title: expect.stringContaining('not read') });
  });

  it('answers 422 for an empty body', async () => {
    expect((await post('/api/soundings', '')).status).toBe(422);
  });

  it('keeps the good ascent of a file with a bad line, and tells the line', async () => {
    const text = [
      '#ZZM00099998 2024 01 15 12 1105    3 test-src           447500  -852500',
      '21 -9999  98700B  197B  -21B-9999    12    60    41',
      '10 -9999  8x000B 1398B   13B-9999    30   150   154',
      '10 -9999  70000B 2942B  -81B-9999    60   215   230',
    ].join('\n');
    const response = await post('/api/soundings', text);
    const answer = (await response.json()) as {
      stored: number;
      soundings: {
        levels: { temperatureC: number | null }[];
        rejected: { line: number; reason: string }[];
      }[];
    };
    expect(response.status).toBe(201);
    expect(answer.stored).toBe(1);
    // Between the two that read stands one without values: what the bad line held is unknown.
    expect(answer.soundings[0]?.levels.map(({ temperatureC }) => temperatureC)).toEqual([-2.1, null, -8.1]);
    expect(answer.soundings[0]?.rejected.map((each) => each.line)).toContain(3);
  });

  it('an ascent with one level makes the leg unknown above and below it, never free of ice', async () => {
    const own = await startLocalInstance({ demo: false });
    const text = [
      '#ZZM00099997 2026 01 14 12 1105    1 test-src           444700  -731500',
      '10 -9999  85000B 1398B  -50B-9999    10   150   154',
    ].join('\n');
    const headers = { authorization: `Bearer ${own.operatorKey}` };
    await fetch(`${own.baseUrl}/api/soundings`, { method: 'POST', body: text, headers });
    const response = await fetch(`${own.baseUrl}/api/brief`, { method: 'POST', body: JSON.stringify(LEG) });
    const answer = (await response.json()) as Brief;
    await own.stop();
    expect(answer.brief.verdict.code).toBe('unknown');
  });
});

describe('POST /api/grids', () => {
  it.each([
    ['no GRIB at all', new TextEncoder().encode('GRIBBLE is no message')],
    [
      'a message cut short',
      new Uint8Array([0x47, 0x52, 0x49, 0x42, 0, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 200, 1, 2, 3]),
    ],
    ['edition 1', new Uint8Array([0x47, 0x52, 0x49, 0x42, 0, 0, 60, 1, ...new Array(52).fill(0)])],
    [
      'a claim of 1 GiB',
      new Uint8Array([0x47, 0x52, 0x49, 0x42, 0, 0, 0, 2, 0, 0, 0, 0, 0x40, 0, 0, 0, 1, 2, 3]),
    ],
  ])('answers 422 with the reason for %s, and publishes no hour', async (_name, bytes) => {
    const response = await post('/api/grids', bytes);
    const answer = (await response.json()) as { hours: unknown[]; rejected: { reason: string }[] };
    expect(response.status).toBe(422);
    expect(answer.hours).toHaveLength(0);
    expect(answer.rejected[0]?.reason.length).toBeGreaterThan(10);
  });
});

describe('other calls', () => {
  it('an unknown call answers 404 as a problem', async () => {
    const response = await fetch(`${instance.baseUrl}/api/nothing-here`);
    expect(response.status).toBe(404);
    expect(response.headers.get('content-type')).toBe('application/problem+json');
  });
});
