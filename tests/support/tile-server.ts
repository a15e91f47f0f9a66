/** A server of elevation tiles on this machine, of a world whose height is a function of the place; it fails as told. */
import { terrainStretches } from '../../worker/flight/terrain-stretch.ts';
import { planTiles } from '../../worker/flight/tile-plan.ts';
import type { RoutePoints } from '../../worker/flight/types.ts';
import { mFromNm } from '../../worker/science/units.ts';
import { type BucketFault, type BucketServer, type SeenRequest, startBucketServer } from './bucket-server.ts';
import { worldTile } from './elevation-tiles.ts';

export interface TileServer {
  readonly server: BucketServer;
  readonly template: string;
  /** Paths of the tiles it has. */
  readonly paths: readonly string[];
}

/** Has the tiles that a leg with a corridor of so many miles either side needs. */
export async function startTileServer(options: {
  readonly route: RoutePoints;
  readonly halfWidthNm: number;
  readonly heightAt: (latDeg: number, lonDeg: number) => number;
  readonly fault?: (request: SeenRequest) => BucketFault | undefined;
}): Promise<TileServer> {
  const { route, halfWidthNm, heightAt, fault } = options;
  const { zoom, tiles } = planTiles(terrainStretches(route), mFromNm(halfWidthNm), 16);
  const files = Object.fromEntries(
    tiles.map(({ x, y }) => [
      `tiles/${zoom}/${x}/${y}.png`,
      { bytes: worldTile({ z: zoom, x, y }, heightAt) },
    ]),
  );
  const server = await startBucketServer({ files, ...(fault === undefined ? {} : { fault }) });
  return { server, template: `${server.baseUrl}tiles/{z}/{x}/{y}.png`, paths: Object.keys(files) };
}
