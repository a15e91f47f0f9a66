import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { terrainStretches } from '../../worker/flight/terrain-stretch.ts';
import { tileAllowanceM } from '../../worker/flight/tile-ground.ts';
import { mFromNm } from '../../worker/science/units.ts';
import type { ObjectStore } from '../../worker/sources/ports.ts';
import type { RangedHttp } from '../../worker/sources/ranged-http.ts';
import { createTileTerrain, terrainHttpSettings } from '../../worker/store/terrain-tiles.ts';
import { makeTestRoute } from '../flight/make-curtain.ts';
import type { BucketFault, SeenRequest } from '../support/bucket-server.ts';
import { elevationTile } from '../support/elevation-tiles.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { rehearsalHttp } from '../support/rehearsal-http.ts';
import { terrainSourceSuite } from '../support/terrain-source-suite.ts';
import { startTileServer, type TileServer } from '../support/tile-server.ts';

/** Northward along 70 W from 40 N. */
const ROUTE = makeTestRoute(40);
const STRETCHES = terrainStretches(ROUTE);
const HALF_WIDTH_M = mFromNm(4);

/** Rising northward from 200 m, with a ridge along 69.7 W, 14 NM east of the route. */
const heightAt = (latDeg: number, lonDeg: number) =>
  Math.abs(lonDeg + 69.7) < 0.02 ? 800 : 200 + 100 * (latDeg - 40);

let tiles: TileServer;
afterEach(() => tiles?.server.close());

async function start(fault?: (request: SeenRequest) => BucketFault | undefined): Promise<MemoryStores> {
  const server = { route: ROUTE, halfWidthNm: 4, heightAt };
  tiles = await startTileServer(fault === undefined ? server : { ...server, fault });
  return createMemoryStores();
}

function terrainOver(objects: ObjectStore, { deadlineMs = 10_000, answerTimeoutMs = 5000 } = {}) {
  const settings = terrainHttpSettings(tiles.template);
  const http = rehearsalHttp(settings.allowed.rehearsalBaseUrl!, { answerTimeoutMs });
  const deadline = () => AbortSignal.timeout(deadlineMs);
  return createTileTerrain({ objects, http, deadline }, { template: tiles.template, attribution: 'us' });
}

const groundOf = (stores: MemoryStores, limits = {}) =>
  terrainOver(stores.objects, limits).highestGround(STRETCHES, HALF_WIDTH_M);
const keys = ({ objectMap }: MemoryStores) => [...objectMap.keys()];
const knownCount = (ground: readonly { highestM: number }[]) =>
  ground.filter(({ highestM }) => !Number.isNaN(highestM)).length;

describe('elevation tiles', () => {
  test('give the highest ground of each stretch, never lower than it is', async () => {
    const ground = await groundOf(await start());
    ground.forEach(({ highestM, atLeastM, allowanceM, isMountainous }, point) => {
      const northernmostDeg = STRETCHES[point]!.line.at(-1)!.latDeg + 3.99 / 60;
      expect(highestM).toBeGreaterThanOrEqual(Math.floor(heightAt(northernmostDeg, -70)));
      expect(highestM).toBeLessThan(heightAt(northernmostDeg, -70) + 15);
      expect(atLeastM).toBe(highestM);
      expect(allowanceM).toBeCloseTo(tileAllowanceM(9, ROUTE.latDeg[point]!), 0);
      expect(isMountainous).toBe(false);
    });
    expect(ground).toHaveLength(ROUTE.pointCount);
  });

  test('are fetched once: a later brief reads a kilobyte of each and asks nobody', async () => {
    const stores = await start();
    const first = await groundOf(stores);
    const asked = tiles.server.requests.length;
    expect(asked).toBe(tiles.paths.length);
    expect(keys(stores)).toHaveLength(asked);
    expect(keys(stores)[0]).toMatch(/^terrain\/[0-9a-f]{16}\/9\/\d+\/\d+$/);
    const bytesBefore = stores.counts.bytes;
    expect(await groundOf(stores)).toEqual(first);
    expect(tiles.server.requests).toHaveLength(asked);
    expect(stores.counts.bytes - bytesBefore).toBe(asked * 1032);
  });

  test('of another address are not taken for these', async () => {
    const stores = await start();
    await groundOf(stores);
    const before = keys(stores);
    tiles = { ...tiles, template: tiles.template.replace('.png', '.png2') };
    expect(knownCount(await groundOf(stores))).toBe(0);
    expect(keys(stores)).toEqual(before);
  });

  test('that are kept but damaged are fetched again', async () => {
    const stores = await start();
    const first = await groundOf(stores);
    const [key] = keys(stores);
    stores.objectMap.get(key!)![20]! ^= 0xff;
    const asked = tiles.server.requests.length;
    expect(await groundOf(stores)).toEqual(first);
    expect(tiles.server.requests).toHaveLength(asked + 1);
  });

  test('are used although the store neither reads nor keeps them', async () => {
    const stores = await start();
    const fail = async () => {
      throw new Error('the store is away');
    };
    const ground = await terrainOver({ ...stores.objects, get: fail, put: fail }).highestGround(
      STRETCHES,
      HALF_WIDTH_M,
    );
    expect(knownCount(ground)).toBe(ROUTE.pointCount);
  });
});

describe('a tile that cannot be had leaves its ground unknown, and is not kept', () => {
  const isUnderRoute = (path: string) => path === underRoute();
  /** The tile of the route's first point. */
  function underRoute(): string {
    return tiles.paths[0]!;
  }

  test.each<[string, BucketFault]>([
    ['is missing', { kind: 'status', status: 404 }],
    ['is refused', { kind: 'status', status: 403 }],
    ['fails every time', { kind: 'status', status: 503 }],
    ['breaks off', { kind: 'short-body', bytes: 300 }],
    ['is cut', { kind: 'short-length', bytes: 300 }],
    ['never ends', { kind: 'endless' }],
    ['is damaged', { kind: 'corrupt', offsetBytes: 200, xor: 4 }],
    ['is no PNG', { kind: 'corrupt', offsetBytes: 0, xor: 1 }],
    ['leads elsewhere', { kind: 'redirect', location: 'https://elsewhere.example/tiles/9/1/1.png' }],
    ['leads above its folder', { kind: 'redirect', location: '/other/9/1/1.png' }],
  ])('%s', async (_, fault) => {
    const stores = await start(({ path }) => (isUnderRoute(path) ? fault : undefined));
    const ground = await groundOf(stores);
    expect(ground[0]!.highestM).toBeNaN();
    expect(knownCount(ground)).toBeGreaterThan(0);
    expect(keys(stores)).toHaveLength(tiles.paths.length - 1);
  });

  test('never answers: within the time a brief waits', async () => {
    const stores = await start(() => ({ kind: 'silence' }));
    const startMs = performance.now();
    const ground = await groundOf(stores, { deadlineMs: 300 });
    expect(performance.now() - startMs).toBeLessThan(3000);
    expect(ground.map(({ atLeastM }) => atLeastM).every(Number.isNaN)).toBe(true);
  });

  test('is asked for again by the next brief', async () => {
    const stores = await start(({ path, attempt }) =>
      isUnderRoute(path) && attempt === 1 ? { kind: 'status', status: 404 } : undefined,
    );
    expect((await groundOf(stores))[0]!.highestM).toBeNaN();
    expect((await groundOf(stores))[0]!.highestM).toBeGreaterThan(200);
  });
});

describe('many tiles', () => {
  const LONG = terrainStretches(makeTestRoute(300));

  test('are asked for six at once', async () => {
    tiles = await startTileServer({ route: ROUTE, halfWidthNm: 4, heightAt });
    const bytes = elevationTile(() => 100);
    let open = 0;
    let most = 0;
    const http: RangedHttp = {
      ...rehearsalHttp(tiles.server.baseUrl),
      bytes: async () => {
        open += 1;
        most = Math.max(most, open);
        await new Promise((resolve) => setTimeout(resolve, 2));
        open -= 1;
        return bytes;
      },
    };
    const { objects, objectMap } = createMemoryStores();
    const deps = { objects, http, deadline: () => AbortSignal.timeout(10_000) };
    const settings = { template: tiles.template, attribution: 'us' };
    const ground = await createTileTerrain(deps, settings).highestGround(LONG, HALF_WIDTH_M);
    expect(knownCount(ground)).toBe(LONG.length);
    expect(objectMap.size).toBeGreaterThan(20);
    expect(most).toBe(6);
  });

  test('that are not there are asked for all the same: a source may have none over the sea', async () => {
    const { objects } = await start();
    await terrainOver(objects).highestGround(LONG, HALF_WIDTH_M);
    expect(tiles.server.requests.filter(({ status }) => status === 404).length).toBeGreaterThan(11);
  });

  test('that all fail are not all asked for: after six the source is left alone', async () => {
    const { objects } = await start(() => ({ kind: 'status', status: 403 }));
    expect(knownCount(await terrainOver(objects).highestGround(LONG, HALF_WIDTH_M))).toBe(0);
    expect(tiles.server.requests.length).toBeGreaterThanOrEqual(6);
    expect(tiles.server.requests.length).toBeLessThanOrEqual(11);
  });
});

describe('elevation tiles as a source of terrain', () => {
  const wide = makeTestRoute(20);
  const elsewhere = { ...makeTestRoute(20), lonDeg: wide.lonDeg.map(() => 30) };
  let served: TileServer;
  const { objects } = createMemoryStores();
  beforeAll(async () => {
    served = await startTileServer({ route: wide, halfWidthNm: 20, heightAt });
  });
  afterAll(() => served.server.close());
  terrainSourceSuite(
    () => {
      tiles = { ...served, server: { ...served.server, close: async () => undefined } };
      return terrainOver(objects);
    },
    { known: wide, unknown: elsewhere },
  );
});
