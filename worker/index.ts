/** Entry of the Worker: hands requests, the schedule's rounds and messages of the queues to what serves them. */
import type { ExecutionContext, MessageBatch } from '@cloudflare/workers-types';
import { createApp } from './app.ts';
import { consumeBoard } from './board/consume-board.ts';
import { watchBoards } from './board/watch.ts';
import { scoreDue } from './brief/score-reports.ts';
import { type Bindings, operatorsOf, readSettings, type Settings } from './env.ts';
import { eventLine, faultLine } from './log.ts';
import { WRITE_COUNTS_KEPT_MS } from './routes/write-limits.ts';
import { log, nowMs, servicesOf } from './services.ts';
import { OPEN_MODELS } from './sources/open-models.ts';
import { platformHttp } from './sources/platform-http.ts';
import type { Dependencies } from './sources/ports.ts';
import { lookForAlarms } from './supply/alarms.ts';
import { consume, consumeDead } from './supply/consume.ts';
import { bulletinHttp, fetchBulletins } from './supply/fetch-bulletins.ts';
import { ingestHour } from './supply/ingest-hour.ts';
import { runSchedule } from './supply/schedule.ts';

export { BoardRoom } from './board/room.ts';

/** What goes on when the call that began it is over. */
type Lasting = Pick<ExecutionContext, 'waitUntil'>;

/** wrangler.toml names the queues so. */
const DEAD_LETTERS = 'rimeway-supply-dead';
const BOARDS = 'rimeway-board';
const DEAD_BOARDS = 'rimeway-board-dead';

/** After the supply, which it must not starve, and whatever becomes of that. */
async function scoreReports(stores: Dependencies, settings: Settings): Promise<void> {
  try {
    const { scored, failed } = await scoreDue(stores, settings.openOperators);
    if (scored + failed > 0) log(`scores: ${scored} reports scored, ${failed} failed`);
  } catch (error) {
    console.error(faultLine('reports-not-scored', error));
  }
}

/** What expired goes; how often anybody wrote is nobody's business for longer than it counts. */
async function forgetShared({ sharedBriefs, writeCounts }: Dependencies): Promise<void> {
  try {
    const forgotten = await sharedBriefs.forgetExpired(nowMs());
    await writeCounts.forgetBefore(nowMs() - WRITE_COUNTS_KEPT_MS);
    const swept = await sharedBriefs.sweepOrphans(nowMs());
    if (forgotten + swept > 0)
      log(`shared briefs: ${forgotten} expired, ${swept} objects without a row deleted`);
  } catch (error) {
    console.error(faultLine('shared-briefs-not-cleaned-up', error));
  }
}

/** At the end of a round, whatever became of it. */
async function watchService(stores: Dependencies, settings: Settings): Promise<void> {
  const { models, bulletinUrls } = settings.supply;
  try {
    await lookForAlarms({
      ...stores,
      models: models.map((id) => OPEN_MODELS[id]),
      bulletinUrls,
      operators: operatorsOf(settings),
      boardsBehind: () => stores.boards.behind(nowMs()),
      alarmUrl: settings.alarmUrl,
      fetch: (url, init) => fetch(url, init),
      log: (event, fields) => console.log(eventLine(event, fields)),
    });
  } catch (error) {
    console.error(faultLine('alarms-not-looked-for', error));
  }
}

/** Flights as the legs call for them, those that are due to the queue, and viewers told of what a crash left untold. */
async function watchNetwork(stores: Dependencies, { openOperators }: Settings): Promise<void> {
  try {
    const { asked, messages } = await watchBoards({
      ...stores,
      openOperators,
      send: stores.sendFlights,
      log,
    });
    if (asked > 0) log(`boards: ${asked} flights asked for in ${messages} messages`);
  } catch (error) {
    console.error(faultLine('boards-not-watched', error));
  }
  try {
    await stores.publishAll();
  } catch (error) {
    console.error(faultLine('boards-not-published', error));
  }
}

/** Their flights are still due: the schedule asks for them again. */
function dropDeadBoards(messages: readonly { ack(): void }[]): void {
  log(`boards: gave up ${messages.length} messages`);
  for (const message of messages) message.ack();
}

/** Beside the schedule: neither waits for the other. */
function fetchConfigured(bindings: Bindings, settings: Settings): Promise<void> {
  const { bulletinUrls: urls, operator } = settings.supply;
  const http = bulletinHttp(platformHttp(), urls);
  return fetchBulletins({ ...servicesOf(bindings, settings), http, urls, operator, log });
}

export default {
  fetch(request: Request, bindings: Bindings, context: ExecutionContext): Response | Promise<Response> {
    const settings = readSettings(bindings);
    return createApp(servicesOf(bindings, settings), settings).fetch(request, {}, context);
  },

  async scheduled(_event: unknown, bindings: Bindings, context: Lasting): Promise<void> {
    const settings = readSettings(bindings);
    const { supply } = settings;
    const stores = servicesOf(bindings, settings);
    context.waitUntil(fetchConfigured(bindings, settings));
    context.waitUntil(watchNetwork(stores, settings));
    const round = runSchedule({
      ...stores,
      ...supply,
      reportsKeptMs: settings.reportsKeptMs,
      models: supply.models.map((id) => OPEN_MODELS[id]),
      send: async (hours) => {
        await bindings.SUPPLY_QUEUE.sendBatch(hours.map((body) => ({ body })));
      },
    });
    const result = await round
      .then(async (done) => {
        await stores.alarms.beat('supply', nowMs());
        return done;
      })
      .finally(() => Promise.all([scoreReports(stores, settings), forgetShared(stores)]))
      .finally(() => watchService(stores, settings));
    const { asked, retiredHours, deletedPrefixes, forgottenReports } = result;
    log(`supply: ${asked.length} hours asked for, ${retiredHours} hidden, ${deletedPrefixes} deleted`);
    if (forgottenReports > 0) log(`reports: ${forgottenReports} deleted`);
  },

  async queue(batch: MessageBatch, bindings: Bindings): Promise<void> {
    const settings = readSettings(bindings);
    const stores = servicesOf(bindings, settings);
    if (batch.queue === BOARDS) {
      const { openOperators } = settings;
      return consumeBoard(batch.messages, {
        ...stores,
        stores,
        openOperators,
        publish: stores.publishBoard,
        log,
      });
    }
    if (batch.queue === DEAD_BOARDS) return dropDeadBoards(batch.messages);
    if (batch.queue === DEAD_LETTERS) return consumeDead(batch.messages, { ...stores, log });
    const { operator, baseUrl } = settings.supply;
    const deps = { ...stores, operator, baseUrl, area: settings.operatingArea };
    await consume(batch.messages, { ingest: (hour) => ingestHour(deps, hour), log });
  },
};
