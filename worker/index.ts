/** Entry of the Worker: builds the real stores from the bindings and hands over to the application and the supply. */
import type { ExecutionContext, MessageBatch } from '@cloudflare/workers-types';
import { createApp } from './app.ts';
import { scoreDue } from './brief/score-reports.ts';
import { type Bindings, readSettings, type Settings } from './env.ts';
import { AppBug } from './errors.ts';
import aerodromes from './generated/aerodromes.json';
import { WRITE_WINDOW_MS } from './routes/write-limits.ts';
import { OPEN_MODELS } from './sources/open-models.ts';
import { platformHttp } from './sources/platform-http.ts';
import type { PageSource, TerrainSource } from './sources/ports.ts';
import { createRangedHttp, DEFAULT_HTTP_LIMITS, type RangedHttp } from './sources/ranged-http.ts';
import { createBulletinRepository } from './store/bulletin-repository.ts';
import { createGridRepository } from './store/grid-repository.ts';
import { createHoldoverRepository } from './store/holdover-repository.ts';
import { createObjectStore } from './store/object-store.ts';
import { type AerodromeRow, createPlaceRepository, indexAerodromes } from './store/place-repository.ts';
import { createReportRepository } from './store/report-repository.ts';
import { createScoreRepository } from './store/score-repository.ts';
import { createSharedBriefRepository, createWriteCounts } from './store/shared-brief-repository.ts';
import { createSoundingRepository } from './store/sounding-repository.ts';
import { createSupplyRepository } from './store/supply-repository.ts';
import { createTileTerrain, TERRAIN_DEADLINE_MS, terrainHttpSettings } from './store/terrain-tiles.ts';
import { consume, consumeDead } from './supply/consume.ts';
import { bulletinHttp, fetchBulletins } from './supply/fetch-bulletins.ts';
import { ingestHour } from './supply/ingest-hour.ts';
import { runSchedule } from './supply/schedule.ts';

/** What goes on when the call that began it is over. */
type Lasting = Pick<ExecutionContext, 'waitUntil'>;

const aerodromeIndex = indexAerodromes(aerodromes as unknown as AerodromeRow[]);
/** wrangler.toml names the queue of what was given up so. */
const DEAD_LETTERS = 'rimeway-supply-dead';
const nowMs = () => Date.now();
const log = (line: string) => console.log(line);

function storesOf(bindings: Bindings, settings: Settings) {
  return {
    soundings: createSoundingRepository(bindings.DB),
    reports: createReportRepository(bindings.DB),
    scores: createScoreRepository(bindings.DB),
    bulletins: createBulletinRepository(bindings.DB),
    holdoverTables: createHoldoverRepository(bindings.DB),
    sharedBriefs: createSharedBriefRepository(bindings.DB, createObjectStore(bindings.GRIDS)),
    writeCounts: createWriteCounts(bindings.DB),
    page: pageOf(bindings),
    grids: createGridRepository(bindings.DB),
    objects: createObjectStore(bindings.GRIDS),
    places: createPlaceRepository(bindings.DB, aerodromeIndex),
    supply: createSupplyRepository(bindings.DB, scopeOf(settings)),
    terrain: terrainOf(bindings, settings),
    nowMs,
  };
}

function pageOf({ ASSETS }: Bindings): PageSource {
  return {
    async html(origin) {
      const response = await ASSETS.fetch(`${origin}/`);
      if (!response.ok) throw new AppBug(`page: found status ${response.status}, expected 200`);
      return response.text();
    },
  };
}

function terrainOf(bindings: Bindings, { terrain }: Settings): TerrainSource | undefined {
  if (terrain === undefined) return undefined;
  const deps = {
    objects: createObjectStore(bindings.GRIDS),
    http: createRangedHttp(platformHttp(), terrainHttpSettings(terrain.template)),
    deadline: () => AbortSignal.timeout(TERRAIN_DEADLINE_MS),
  };
  return createTileTerrain(deps, terrain);
}

/** What is stored for one operator and area says nothing of another's. */
function scopeOf({ supply, operatingArea }: Settings): string {
  const { westDeg, southDeg, eastDeg, northDeg } = operatingArea ?? {};
  return [supply.operator, westDeg, southDeg, eastDeg, northDeg].join(' ');
}

/** The buckets of the models in use, or the address that stands for them. */
function bucketsOf({ supply }: Settings): RangedHttp {
  const hosts = supply.models.map((id) => OPEN_MODELS[id].host);
  return createRangedHttp(platformHttp(), {
    ...DEFAULT_HTTP_LIMITS,
    allowed: { hosts, rehearsalBaseUrl: supply.baseUrl },
  });
}

/** After the supply, which it must not starve, and whatever becomes of that. */
async function scoreReports(stores: ReturnType<typeof storesOf>, settings: Settings): Promise<void> {
  try {
    const { scored, failed } = await scoreDue(stores, settings.openOperators);
    if (scored + failed > 0) log(`scores: ${scored} reports scored, ${failed} failed`);
  } catch (error) {
    console.error('reports not scored', error);
  }
}

/** What expired goes; how often anybody wrote is nobody's business for longer than it counts. */
async function forgetShared({ sharedBriefs, writeCounts }: ReturnType<typeof storesOf>): Promise<void> {
  try {
    const forgotten = await sharedBriefs.forgetExpired(nowMs());
    await writeCounts.forgetBefore(nowMs() - WRITE_WINDOW_MS);
    const swept = await sharedBriefs.sweepOrphans(nowMs());
    if (forgotten + swept > 0)
      log(`shared briefs: ${forgotten} expired, ${swept} objects without a row deleted`);
  } catch (error) {
    console.error('shared briefs not cleaned up', error);
  }
}

/** Beside the schedule: neither waits for the other. */
function fetchConfigured(bindings: Bindings, settings: Settings): Promise<void> {
  const { bulletinUrls: urls, operator } = settings.supply;
  const http = bulletinHttp(platformHttp(), urls);
  return fetchBulletins({ ...storesOf(bindings, settings), http, urls, operator, log });
}

export default {
  fetch(request: Request, bindings: Bindings, context: ExecutionContext): Response | Promise<Response> {
    const settings = readSettings(bindings);
    const app = createApp({ ...storesOf(bindings, settings), http: bucketsOf(settings) }, settings);
    return app.fetch(request, {}, context);
  },

  async scheduled(_event: unknown, bindings: Bindings, context: Lasting): Promise<void> {
    const settings = readSettings(bindings);
    context.waitUntil(fetchConfigured(bindings, settings));
    const { supply } = settings;
    const stores = storesOf(bindings, settings);
    const result = await runSchedule({
      ...stores,
      ...supply,
      reportsKeptMs: settings.reportsKeptMs,
      models: supply.models.map((id) => OPEN_MODELS[id]),
      send: async (hours) => {
        await bindings.SUPPLY_QUEUE.sendBatch(hours.map((body) => ({ body })));
      },
    }).finally(() => Promise.all([scoreReports(stores, settings), forgetShared(stores)]));
    const { asked, retiredHours, deletedPrefixes, forgottenReports } = result;
    log(`supply: ${asked.length} hours asked for, ${retiredHours} hidden, ${deletedPrefixes} deleted`);
    if (forgottenReports > 0) log(`reports: ${forgottenReports} deleted`);
  },

  async queue(batch: MessageBatch, bindings: Bindings): Promise<void> {
    const settings = readSettings(bindings);
    const stores = storesOf(bindings, settings);
    if (batch.queue === DEAD_LETTERS) return consumeDead(batch.messages, { ...stores, log });
    const { operator, baseUrl } = settings.supply;
    const deps = { ...stores, http: bucketsOf(settings), operator, baseUrl, area: settings.operatingArea };
    await consume(batch.messages, { ingest: (hour) => ingestHour(deps, hour), log });
  },
};
