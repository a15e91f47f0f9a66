/** GET /api/places?box= through the real runtime: every aerodrome of a box, or a refusal that says why. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { placesAnswerSchema } from '../../worker/schema/places.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance({ demo: false });
});
afterAll(() => instance.stop());

const ask = (box: string) => fetch(`${instance.baseUrl}/api/places?box=${box}`);
const idents = async (box: string) =>
  placesAnswerSchema.parse(await (await ask(box)).json()).places.map(({ ident }) => ident);

describe('GET /api/places?box=', () => {
  it('answers the aerodromes inside and none outside', async () => {
    const found = await idents('-74,44,-68,45');
    expect(found).toEqual(expect.arrayContaining(['KBTV', 'KBGR']));
    expect(found).not.toContain('KBOS');
  });

  it('goes over the antimeridian where west is greater than east', async () => {
    const found = placesAnswerSchema.parse(await (await ask('170,-25,-170,-10')).json()).places;
    expect(found.some(({ lonDeg }) => lonDeg > 0)).toBe(true);
    expect(found.some(({ lonDeg }) => lonDeg < 0)).toBe(true);
    for (const { lonDeg } of found) expect(Math.abs(lonDeg)).toBeGreaterThanOrEqual(170);
  });

  it('leaves the search by text as it was', async () => {
    const response = await fetch(`${instance.baseUrl}/api/places?q=kbtv`);
    expect(placesAnswerSchema.parse(await response.json()).places[0]).toMatchObject({ ident: 'KBTV' });
  });

  it.each([
    '',
    ',,,',
    '1,2,3',
    '1,2,3,4,5',
    'a,b,c,d',
    '1e1,2,3,4',
    '-74,45,-68,44',
    '-74,44,-68,91',
    '-181,44,-168,45',
    '-100,44,-60,45',
    '-74,20,-68,45',
    '170,0,-150,1',
  ])('answers 422 and names the field for "%s"', async (box) => {
    const response = await ask(box);
    expect(response.status).toBe(422);
    expect(await response.json()).toMatchObject({
      field: 'box',
      detail: expect.stringMatching(/found .+, expected .+/),
    });
  });

  it('answers 422 for a box with more aerodromes than it tells, and leaves none out in silence', async () => {
    const response = await ask('-100,25,-70,45');
    expect(response.status).toBe(422);
    expect(await response.json()).toMatchObject({
      field: 'box',
      detail: expect.stringMatching(/aerodromes/),
    });
  });
});
