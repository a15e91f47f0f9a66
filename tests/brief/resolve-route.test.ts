import { describe, expect, test } from 'vitest';
import { resolveRoute } from '../../worker/brief/resolve-route.ts';
import { InvalidRequestError } from '../../worker/errors.ts';
import { parseRequest } from '../../worker/routes/parse-request.ts';
import { briefRequestSchema } from '../../worker/schema/request.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const { places } = createMemoryStores();
const LINE = {
  type: 'LineString',
  coordinates: [
    [-73.15, 44.47],
    [-68.83, 44.81],
  ],
};
const FEATURE = { type: 'Feature', properties: { name: 'x' }, geometry: LINE };
const POINT = { type: 'Feature', properties: null, geometry: { type: 'Point', coordinates: [0, 0] } };
const MULTI_LINE = {
  type: 'Feature',
  properties: null,
  geometry: { type: 'MultiLineString', coordinates: [] },
};
const collection = (...features: unknown[]) => ({ type: 'FeatureCollection', features });
const GPX = `\n<?xml-stylesheet?><gpx version="1.1"><rte><rtept lat="44.47" lon="-73.15"><ele>102</ele></rtept>
<rtept lat="44.81" lon="-68.83"/></rte></gpx>`;

/** As the call takes it: checked against the contract, then resolved. */
async function positionsOf(route: unknown): Promise<number[][]> {
  const request = parseRequest(briefRequestSchema, {
    route,
    departure: { atUtc: '2026-01-14T11:30:00Z' },
    aircraft: 'generic-fluid-turboprop',
  });
  const { fixes } = await resolveRoute(request.route, { places, operators: [], departureMs: 0 });
  return fixes.map(({ lonDeg, latDeg }) => [lonDeg, latDeg]);
}

async function refusalOf(route: unknown): Promise<InvalidRequestError> {
  const error = await positionsOf(route).catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(InvalidRequestError);
  return error as InvalidRequestError;
}

describe('the route of a brief', () => {
  test.each([
    ['a LineString', LINE],
    ['a Feature', FEATURE],
    ['a FeatureCollection of one', collection(FEATURE)],
    ['a FeatureCollection with a point beside the line', collection(POINT, FEATURE)],
    ['GPX', GPX],
  ])('may be %s', async (_, route) => {
    expect(await positionsOf(route)).toEqual(LINE.coordinates);
  });

  test('may be text with changes of speed, level and rules, and seconds', async () => {
    expect(
      await positionsOf('N0150F090 44N073W/N0160A110 DCT C/440030N0723000W/N0160F110F130 VFR 44N072W'),
    ).toEqual([
      [-73, 44],
      [-72.5, 44 + 30 / 3600],
      [-72, 44],
    ]);
  });

  test.each([
    ['no line', collection(POINT), '0 LineStrings'],
    ['two lines', collection(FEATURE, FEATURE), '2 LineStrings'],
    ['several lines in one geometry', collection(MULTI_LINE), '0 LineStrings'],
    ['GPX with a DOCTYPE', `<!DOCTYPE gpx>${GPX.trim()}`, 'DOCTYPE'],
    ['GPX that is cut', GPX.slice(0, -4), 'GPX line 3'],
    ['another version of GPX', '<gpx version="3"/>', 'GPX version 3'],
    ['GPX of one point', '<gpx version="1.1"><wpt lat="1" lon="2"/></gpx>', '1 points'],
    ['XML of another kind', '<kml/>', 'kml'],
    ['a truncated text', '44N073W 44N072W T', 'truncated'],
  ])('with %s is refused at the member route', async (_, route, found) => {
    const error = await refusalOf(route);
    expect(error.field).toBe('route');
    expect(error.found).toContain(found);
  });

  test('is bounded: 2,000 characters of text, 200,000 of GPX, 200 points', async () => {
    const padded = (length: number) => GPX.trim().padEnd(length, ' ');
    expect(await positionsOf(padded(200_000))).toHaveLength(2);
    expect((await refusalOf(padded(200_001))).field).toBe('route');
    expect(await positionsOf('44N073W 44N072W'.padEnd(2000, ' '))).toHaveLength(2);
    expect((await refusalOf('44N073W 44N072W'.padEnd(2001, ' '))).field).toBe('route');
    const points = (count: number) =>
      `<gpx version="1.1"><rte>${Array.from({ length: count }, (_, i) => `<rtept lat="${i / 10}" lon="0"/>`).join('')}</rte></gpx>`;
    expect(await positionsOf(points(200))).toHaveLength(200);
    expect((await refusalOf(points(201))).found).toContain('201 points');
  });

  test('has positions on the globe in every shape', async () => {
    const beyond = {
      ...LINE,
      coordinates: [
        [0, 0],
        [0, 91],
      ],
    };
    for (const route of [
      beyond,
      { ...FEATURE, geometry: beyond },
      collection({ ...FEATURE, geometry: beyond }),
    ]) {
      expect((await refusalOf(route)).field).toMatch(/^route/);
    }
  });
});

test('a known aerodrome in the form of an airway is a place between others', async () => {
  const place = (ident: string, latDeg: number) => ({
    ...{ ident, name: ident, latDeg, lonDeg: 0, elevationM: 0 },
    kind: 'aerodrome' as const,
  });
  const stores = createMemoryStores({ places: [place('B21', 1), place('KZZZ', 2)] });
  const context = { places: stores.places, operators: [], departureMs: 0 };
  const { fixes } = await resolveRoute('KZZZ B21 KZZZ', context);
  expect(fixes.map(({ latDeg }) => latDeg)).toEqual([2, 1, 2]);
  await expect(resolveRoute('KZZZ V3 KZZZ', context)).rejects.toThrow('airway designators');
});

test('GPX whose track has a bad point is flown along its route, and refused without one', async () => {
  const track = '<trk><trkseg><trkpt lat="1" lon="999"/></trkseg></trk></gpx>';
  expect(await positionsOf(GPX.replace('</gpx>', track))).toEqual(LINE.coordinates);
  const { found } = await refusalOf(`<gpx version="1.1">${track}`);
  expect(found).toBe('lon="999" (GPX line 1)');
});
