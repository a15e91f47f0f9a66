import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

const IGRA = [
  '#ZZM00099999 2024 01 15 12 1105    2 test-src           447500  -852500',
  '21 -9999  98700B  197B  -21B-9999    12    60    41',
  '10 -9999  85000B 1398B   13B-9999    30   150   154',
].join('\n');

const WRITES = ['/api/soundings', '/api/grids', '/api/places'];

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance({ demo: false });
});
afterAll(() => instance.stop());

async function post(path: string, body: string, authorization?: string): Promise<Response> {
  return fetch(instance.baseUrl + path, {
    method: 'POST',
    body,
    headers: authorization === undefined ? {} : { authorization },
  });
}

async function stationCount(): Promise<number> {
  const answer = (await (await fetch(`${instance.baseUrl}/api/sources`)).json()) as { soundings: unknown[] };
  return answer.soundings.length;
}

describe('writing needs the operator key', () => {
  it.each(WRITES)('POST %s without a key answers 401 and says what is expected', async (path) => {
    const response = await post(path, IGRA);
    expect(response.status).toBe(401);
    expect(response.headers.get('content-type')).toBe('application/problem+json');
    expect(await response.json()).toMatchObject({ status: 401, detail: expect.stringContaining('Bearer') });
  });

  it.each(WRITES)('POST %s with a wrong key answers 401', async (path) => {
    const response = await post(path, IGRA, 'Bearer this-is-no-operator-key-at-all');
    expect(response.status).toBe(401);
  });

  it('POST /api/soundings with a refused key changes nothing, with the right one it stores', async () => {
    expect(await stationCount()).toBe(0);
    await post('/api/soundings', IGRA, `Bearer ${instance.operatorKey}x`);
    expect(await stationCount()).toBe(0);
    const stored = await post('/api/soundings', IGRA, `Bearer ${instance.operatorKey}`);
    expect(stored.status).toBe(201);
    expect(await stationCount()).toBe(1);
  });

  it('POST /api/soundings of the same ascent twice keeps one', async () => {
    await post('/api/soundings', IGRA, `Bearer ${instance.operatorKey}`);
    await post('/api/soundings', IGRA, `Bearer ${instance.operatorKey}`);
    expect(await stationCount()).toBe(1);
  });

  it('POST /api/brief with a wrong key is refused rather than answered from less data', async () => {
    const response = await post('/api/brief', '{}', 'Bearer this-is-no-operator-key-at-all');
    expect(response.status).toBe(401);
  });
});
