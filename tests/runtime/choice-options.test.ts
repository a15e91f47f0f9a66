/** Options of the choice over the wire: what is refused, with which member, and what changes an answer. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { type Brief, briefSchema } from '../../worker/schema/brief.ts';
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
const MINIMA = [{ fromNm: 0, toNm: 190, altitudeFt: 6500 }];
const OPTIONS = { fluidOnBoardL: 80, laterDepartures: 0, minimumAltitudes: MINIMA };

const post = (body: unknown, path = '/api/brief') =>
  fetch(instance.baseUrl + path, { method: 'POST', body: JSON.stringify(body) });

async function brief(options: object, more: object = {}): Promise<Brief['brief']> {
  const response = await post({ ...LEG, ...more, options: { ...OPTIONS, ...options } });
  expect(response.status).toBe(200);
  return briefSchema.parse(await response.json()).brief;
}

async function problem(options: object): Promise<{ status: number; field?: string; detail: string }> {
  const response = await post({ ...LEG, options: { ...OPTIONS, ...options } });
  return (await response.json()) as { status: number; field?: string; detail: string };
}

describe('options that no flight can have', () => {
  it.each([
    ['more fluid than the tank holds', { fluidOnBoardL: 81 }, 'options.fluidOnBoardL', '80 L'],
    ['a weight beyond the tables', { takeoffWeightKg: 5000 }, 'aircraft.climbRateFtPerMin', '4000 kg'],
    [
      'a hold under the field',
      { planned: { holdAltitudeFt: 100 } },
      'options.planned.holdAltitudeFt',
      'at 192',
    ],
    [
      'a hold over the ceiling',
      { planned: { holdAltitudeFt: 26000 } },
      'options.planned.holdAltitudeFt',
      '25000',
    ],
    [
      'a crossing of a fix that is not on the route',
      { minimumCrossings: [{ fix: 'KPWM', altitudeFt: 9000 }] },
      'options.minimumCrossings[0].fix',
      'KBTV, KBGR',
    ],
    [
      'a crossing beyond the end',
      { minimumCrossings: [{ atNm: 400, altitudeFt: 9000 }] },
      'options.minimumCrossings[0].atNm',
      'at most the length',
    ],
    ['the destination as alternate', { alternate: 'KBGR' }, 'options.alternate', 'KBGR'],
  ])('%s is refused with the member and what is expected', async (_name, options, field, words) => {
    const found = await problem(options);
    expect(found).toMatchObject({ status: 422, field });
    expect(found.detail).toContain(words);
  });

  it('more points over departures and routes than an isolate may take are refused before any weather is read', async () => {
    const coordinates = Array.from({ length: 2 }, (_, index) => [-73 + 30 * index, 44]);
    const far = { type: 'LineString', coordinates };
    const options = { ...OPTIONS, laterDepartures: 6, otherRoutes: [far, far, far, far] };
    const response = await post({ ...LEG, route: far, options });
    const found = (await response.json()) as { status: number; field: string; detail: string };
    expect(found).toMatchObject({ status: 422, field: 'options' });
    expect(found.detail).toContain('1600');
  });
});

describe('options that change an answer', () => {
  it('a hold of no minutes needs no fluid', async () => {
    const [usual, none] = [await brief({}), await brief({ planned: { holdMinutes: 0 } })];
    expect(none.fluid!.neededL.high).toBeLessThan(usual.fluid!.neededL.high - 10);
  });

  it('a lighter aeroplane climbs faster', async () => {
    const minutes = async (takeoffWeightKg: number) =>
      (await brief({ takeoffWeightKg })).recommended!.exposure!.climbMinutes;
    expect(await minutes(3200)).toBeLessThan((await minutes(4000)) - 2);
  });

  it('a crossing altitude refuses what passes under it, and says where the climb must begin', async () => {
    const { alternatives } = await brief({ minimumCrossings: [{ atNm: 60, altitudeFt: 9000 }] });
    const below = alternatives.find(({ altitudeFt }) => altitudeFt === 8000)!;
    expect(below.standing).toBe('below-minimum-altitude');
    expect(below.reasons[0]).toMatchObject({ code: 'below-crossing-altitude', numbers: { minimumFt: 9000 } });
  });

  it('an alternate is flown and counted, and named among what the answer was held against', async () => {
    const answer = await brief({ alternate: 'KPWM' });
    expect(answer.limits.planned.alternate).toBe('KPWM');
    const parts = answer.alternatives.find(({ rank }) => rank === 1)!.exposure!.parts;
    expect(parts.map(({ part }) => part)).toContain('alternate');
  });

  it('a profile that gives no limits in icing is named, and with much ice its verdict is unknown', async () => {
    const { minimumIcingAirspeedKt: _speed, icedCeilingFt: _ceiling, ...bare } = builtInAircraft[0]!;
    const { operational, alternatives } = await brief({ altitudesFt: [8000] }, { aircraft: bare });
    expect(operational.map(({ code }) => code)).toContain('profile-incomplete');
    expect(alternatives[0]!.reasons.map(({ code }) => code)).toContain('icing-speed-not-given');
  });

  it('an aeroplane that does not climb is not said to be stopped by ice', async () => {
    const weak = { ...builtInAircraft[0]!, climbRateFtPerMin: [{ pressureAltitudeFt: 0, value: 50 }] };
    const { verdict } = await brief({}, { aircraft: weak, departure: { atUtc: '2031-01-14T11:30:00Z' } });
    expect(verdict.code).toBe('unknown');
    expect(JSON.stringify(verdict)).not.toMatch(/[Ww]ith ice|the ice in the climb/);
  });
});

describe('the request that the guide shows', () => {
  it('gives the answer that the guide shows', async () => {
    const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
    const request = /\/api\/brief -d '(\{[\s\S]*?\})'\n/.exec(readme)![1]!;
    const shown = JSON.parse(/```json\n(\{[\s\S]*?\})\n```/.exec(readme)![1]!) as object;
    const response = await post(JSON.parse(request));
    const { brief: answer } = (await response.json()) as Brief;
    expect(answer).toMatchObject({ ...shown, ...listsIn(shown, answer) });
  });
});

/** The guide shortens lists to their first entries; here they must be the first, or among them. */
function listsIn(shown: object, answer: Brief['brief']): object {
  const { verdict, file, changes } = shown as Pick<Brief['brief'], 'verdict' | 'file' | 'changes'>;
  expect(answer.verdict.reasons[0]).toMatchObject(verdict.reasons[0]!);
  expect(answer.file!.refuse[0]).toMatchObject(file!.refuse[0]!);
  expect(answer.changes[0]).toMatchObject(changes[0]!);
  return {
    verdict: { code: verdict.code, sentence: verdict.sentence },
    file: { ...file, refuse: answer.file!.refuse },
    changes: answer.changes,
  };
}
