/** Later departures, other ways and sequences through the real runtime, over the demo's invented air. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Brief, briefSchema } from '../../worker/schema/brief.ts';
import { type SequenceAnswer, sequenceAnswerSchema } from '../../worker/schema/sequence.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance();
});
afterAll(() => instance.stop());

const post = (path: string, body: unknown) =>
  fetch(`${instance.baseUrl}${path}`, { method: 'POST', body: JSON.stringify(body) });

const LEG = {
  route: 'KBTV DCT KBGR',
  departure: { atUtc: '2026-01-14T11:30:00Z' },
  aircraft: 'generic-fluid-turboprop',
};
const SEQUENCE = {
  legs: [
    { route: 'KBTV DCT KBGR', departure: LEG.departure },
    { route: 'KBGR DCT KBTV', turnMinutes: 45 },
    { route: 'KBTV DCT KBGR', refillToL: 80, deiced: true },
  ],
  aircraft: 'generic-fluid-turboprop',
  fluidOnBoardL: 70,
};

describe('POST /api/brief with departures, routes and an alternate', () => {
  const options = { laterDepartures: 6, otherRoutes: ['KBTV DCT KMPV DCT KBGR'], alternate: 'KPWM' };

  it('answers to the contract and to the same bytes, with six departures and one best way', async () => {
    const ask = async () => (await post('/api/brief', { ...LEG, options })).text();
    const text = await ask();
    const { brief } = briefSchema.parse(JSON.parse(text));
    expect(await ask()).toBe(text);
    expect(brief.departures).toHaveLength(6);
    expect(brief.ways.map(({ kind }) => kind)).toEqual(['route', 'route', 'wait', 'cancel']);
    expect(brief.ways.filter(({ isBest }) => isBest)).toHaveLength(1);
  });

  it('a departure later than the demo’s ascents reach is unknown', async () => {
    const late = { ...LEG, departure: { atUtc: '2026-01-14T15:30:00Z' }, options: { laterDepartures: 6 } };
    const { brief } = (await (await post('/api/brief', late)).json()) as Brief;
    expect(brief.departures.at(-1)!.verdict.code).toBe('unknown');
    expect(brief.departures.at(-1)!.byAltitude.some(({ verdict }) => verdict === 'no-ice-found')).toBe(false);
  });

  it.each([
    [{ laterDepartures: 7 }, 'options.laterDepartures'],
    [{ laterDepartures: 1.5 }, 'options.laterDepartures'],
    [{ laterDepartures: -1 }, 'options.laterDepartures'],
    [{ otherRoutes: new Array(5).fill('KBTV KBGR') }, 'options.otherRoutes'],
    [{ otherRoutes: ['KBTV KBGR', 'KBTV KPWM'] }, 'options.otherRoutes[1]'],
    [{ otherRoutes: ['KBTV QQQQ KBGR'] }, 'options.otherRoutes[0]'],
    [{ alternate: 'QQQQ' }, 'options.alternate'],
    [{ alternate: 'K'.repeat(500) }, 'options.alternate'],
    [{ alternate: "KPWM'; DROP TABLE places" }, 'options.alternate'],
  ])('answers 422 and names the field for %j', async (bad, field) => {
    const response = await post('/api/brief', { ...LEG, options: bad });
    expect(response.status).toBe(422);
    expect(await response.json()).toMatchObject({
      field,
      detail: expect.stringMatching(/found .+, expected .+/),
    });
  });
});

describe('POST /api/sequences', () => {
  it('answers to the contract and to the same bytes; each leg has what the one before leaves', async () => {
    const ask = async () => (await post('/api/sequences', SEQUENCE)).text();
    const text = await ask();
    expect(await ask()).toBe(text);
    const { legs, cautions } = sequenceAnswerSchema.parse(JSON.parse(text));
    expect(legs.map(({ from, to }) => `${from}-${to}`)).toEqual(['KBTV-KBGR', 'KBGR-KBTV', 'KBTV-KBGR']);
    expect(legs[1]!.fluidAtStartL).toBe(legs[0]!.fluidLeftL!.low);
    expect(legs[1]!.iceAtStartMm).toBe(legs[0]!.residualIceMm);
    expect(legs[2]).toMatchObject({ fluidAtStartL: 80, iceAtStartMm: 0 });
    expect(cautions.join(' ')).toContain('pilot in command');
    expect(legs.every(({ data }) => data.length > 0)).toBe(true);
  });

  it('legs far outside the data are unknown, one and all', async () => {
    const legs = SEQUENCE.legs.map((leg, index) =>
      index === 0 ? { ...leg, departure: { atUtc: '2026-03-01T12:00:00Z' } } : leg,
    );
    const answer = (await (await post('/api/sequences', { ...SEQUENCE, legs })).json()) as SequenceAnswer;
    expect(answer.verdict).toBe('unknown');
    expect(answer.legs.map(({ verdict }) => verdict)).toEqual(['unknown', 'unknown', 'unknown']);
    expect(answer.staleAtUtc).toBeNull();
  });

  const [first, second] = SEQUENCE.legs;
  it.each([
    [{ legs: [] }, 'legs'],
    [{ legs: new Array(9).fill(first) }, 'legs'],
    [{ legs: [second] }, 'legs[0].departure'],
    [{ legs: [first, { ...second, route: 7 }] }, 'legs[1].route'],
    [{ legs: [first, second, { route: 'KBTV QQQQ' }] }, 'legs[2].route'],
    [{ legs: [first, first] }, 'legs[1].route'],
    [{ legs: [first, { ...second, refillToL: 81 }] }, 'legs[1].refillToL'],
    [{ legs: [first, { ...second, turnMinutes: -1 }] }, 'legs[1].turnMinutes'],
    [{ legs: [{ ...first, options: { fluidOnBoardL: 80 } }] }, 'legs[0].options.fluidOnBoardL'],
    [{ aircraft: 'flying-carpet' }, 'aircraft'],
  ])('answers 422 and names the field for %j', async (change, field) => {
    const response = await post('/api/sequences', { ...SEQUENCE, ...change });
    expect(response.status).toBe(422);
    expect(await response.json()).toMatchObject({
      field,
      detail: expect.stringMatching(/found .+, expected .+/),
    });
  });
});
