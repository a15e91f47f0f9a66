/** The Worker's services, built from its bindings. */
import { flightAnswers } from './board/board-answer.ts';
import { type PublishDeps, publishAll, publishBoard } from './board/publish.ts';
import { createBoardRooms } from './board/rooms.ts';
import { SHOWN } from './board/watch.ts';
import type { Bindings, Settings } from './env.ts';
import { AppBug } from './errors.ts';
import aerodromes from './generated/aerodromes.json';
import { logLine } from './log.ts';
import { boardNowMs, type DueMessage, type FollowMessage } from './sources/boards.ts';
import { OPEN_MODELS } from './sources/open-models.ts';
import { platformHttp } from './sources/platform-http.ts';
import type { Dependencies, PageSource, TerrainSource } from './sources/ports.ts';
import { createRangedHttp, DEFAULT_HTTP_LIMITS, type RangedHttp } from './sources/ranged-http.ts';
import { createSignInKeys } from './sources/sign-in-keys.ts';
import { createPushSender } from './sources/web-push.ts';
import { createAlarmRepository } from './store/alarm-repository.ts';
import { createBoardRepository } from './store/board-repository.ts';
import { createBulletinRepository } from './store/bulletin-repository.ts';
import { createGridRepository } from './store/grid-repository.ts';
import { createHoldoverRepository } from './store/holdover-repository.ts';
import { createObjectStore } from './store/object-store.ts';
import { type AerodromeRow, createPlaceRepository, indexAerodromes } from './store/place-repository.ts';
import { createReportRepository } from './store/report-repository.ts';
import { createScoreRepository } from './store/score-repository.ts';
import { createServiceFacts } from './store/service-facts.ts';
import { createSharedBriefRepository, createWriteCounts } from './store/shared-brief-repository.ts';
import { createSoundingRepository } from './store/sounding-repository.ts';
import { createSupplyRepository } from './store/supply-repository.ts';
import { createTileTerrain, TERRAIN_DEADLINE_MS, terrainHttpSettings } from './store/terrain-tiles.ts';

const aerodromeIndex = indexAerodromes(aerodromes as unknown as AerodromeRow[]);
export const nowMs = () => Date.now();
/** What it fetched serves all requests of this isolate. */
const signInKeys = createSignInKeys({ fetch: (url, init) => fetch(url, init), nowMs });
export const log = (line: string) => console.log(logLine(line));

export function servicesOf(bindings: Bindings, settings: Settings): Dependencies {
  const objects = createObjectStore(bindings.GRIDS);
  const boardServices = boardServicesOf(bindings, settings);
  return {
    soundings: createSoundingRepository(bindings.DB),
    reports: createReportRepository(bindings.DB),
    scores: createScoreRepository(bindings.DB),
    bulletins: createBulletinRepository(bindings.DB),
    alarms: createAlarmRepository(bindings.DB),
    facts: createServiceFacts(bindings.DB, scopeOf(settings)),
    holdoverTables: createHoldoverRepository(bindings.DB),
    sharedBriefs: createSharedBriefRepository(bindings.DB, objects),
    writeCounts: createWriteCounts(bindings.DB),
    ...boardServices,
    signInKeys,
    page: pageOf(bindings),
    grids: createGridRepository(bindings.DB),
    objects,
    places: createPlaceRepository(bindings.DB, aerodromeIndex),
    supply: createSupplyRepository(bindings.DB, scopeOf(settings)),
    terrain: terrainOf(bindings, settings),
    http: bucketsOf(settings),
    nowMs,
  };
}

type BoardServices = Pick<
  Dependencies,
  'boards' | 'live' | 'push' | 'publishBoard' | 'publishAll' | 'sendFlights' | 'sendFollowing'
>;

function boardServicesOf({ DB, BOARD_ROOMS, BOARD_QUEUE }: Bindings, settings: Settings): BoardServices {
  const boards = createBoardRepository(DB);
  const live = createBoardRooms(BOARD_ROOMS);
  const push =
    settings.push &&
    createPushSender({
      ...settings.push,
      fetch: (url, init) => fetch(url, init),
      sleep: (durationMs) => new Promise((resolve) => setTimeout(resolve, durationMs)),
      log,
    });
  const publishing: PublishDeps = {
    ...{ boards, rooms: live, push, nowMs, log },
    answers: async (board) => flightAnswers(board, await boards.tails(board.id), boardNowMs(board, nowMs())),
    waitingFromMs: (board) => boardNowMs(board, nowMs()) - SHOWN.backMs,
  };
  const sendAll = async (messages: readonly (DueMessage | FollowMessage)[]) => {
    if (messages.length > 0) await BOARD_QUEUE.sendBatch(messages.map((body) => ({ body })));
  };
  return {
    ...{ boards, live, push },
    publishBoard: async (boardId) => {
      const board = await boards.find(boardId);
      if (board !== undefined) await publishBoard(publishing, board);
    },
    publishAll: () => publishAll(publishing),
    sendFlights: sendAll,
    sendFollowing: sendAll,
  };
}

function pageOf({ ASSETS }: Bindings): PageSource {
  const html = async (url: string) => {
    const response = await ASSETS.fetch(url);
    if (!response.ok) throw new AppBug(`page: found status ${response.status}, expected 200`);
    return response.text();
  };
  return { html: (origin) => html(`${origin}/`), board: (origin) => html(`${origin}/board`) };
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
