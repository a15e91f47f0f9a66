/** Elevation tiles inside workerd: fetched, decoded, kept on R2, and told by the brief. */
import { afterEach, describe, expect, it } from 'vitest';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { startTileServer, type TileServer } from '../support/tile-server.ts';

const ENDS = [
  { latDeg: 44.5, lonDeg: -73 },
  { latDeg: 44.5, lonDeg: -71 },
] as const;
const route = makeRoutePoints(
  ENDS.map((place, index) => ({ ...place, name: `P${index}`, elevationM: Number.NaN })),
);

let tiles: TileServer;
let instance: TestInstance;
afterEach(async () => {
  await instance.stop();
  await tiles.server.close();
});

async function brief(): Promise<Brief> {
  const response = await fetch(`${instance.baseUrl}/api/brief`, {
    method: 'POST',
    body: JSON.stringify({
      route: { type: 'LineString', coordinates: ENDS.map(({ latDeg, lonDeg }) => [lonDeg, latDeg]) },
      departure: { atUtc: '2026-01-14T12:00:00Z' },
      aircraft: 'generic-fluid-turboprop',
    }),
  });
  expect(response.status).toBe(200);
  return (await response.json()) as Brief;
}

describe('elevation tiles in workerd', () => {
  it('give minimum altitudes over the whole leg, and are fetched for the first brief alone', async () => {
    // 300 m everywhere: 984 ft.
    tiles = await startTileServer({ route, halfWidthNm: 10, heightAt: () => 300 });
    instance = await startLocalInstance({
      demo: false,
      terrain: { TERRAIN_TILES_URL: tiles.template, TERRAIN_ATTRIBUTION: 'A survey of heights' },
    });
    const first = await brief();
    expect(first.brief.limits).toMatchObject({
      minimumAltitudeSource: 'terrain-tiles',
      groundAttribution: 'A survey of heights',
    });
    expect(new Set(first.brief.leg.points.map(({ terrainFt }) => terrainFt))).toEqual(new Set([984]));
    const asked = tiles.server.requests.length;
    expect(asked).toBe(tiles.paths.length);
    expect(await brief()).toEqual(first);
    expect(tiles.server.requests).toHaveLength(asked);
  });

  it('leave the ground unknown while their server fails, and the brief is made all the same', async () => {
    const fault = () => ({ kind: 'status', status: 403 }) as const;
    tiles = await startTileServer({ route, halfWidthNm: 10, heightAt: () => 300, fault });
    instance = await startLocalInstance({ demo: false, terrain: { TERRAIN_TILES_URL: tiles.template } });
    const { brief: member } = await brief();
    expect(member.limits).toMatchObject({ minimumAltitudeSource: 'unknown', groundAttribution: null });
    expect(member.leg.points.every(({ terrainFt }) => terrainFt === null)).toBe(true);
    expect(member.operational.map(({ code }) => code)).toContain('minimum-altitude-unknown');
  });
});
