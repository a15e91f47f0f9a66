/** GET /api/metrics: ages of the data, the supply, alarms and boards, for whoever watches the service. */
import type { Context } from 'hono';
import { METHOD_VERSION } from '../brief/method.ts';
import { operatorsOf, type Settings } from '../env.ts';
import { ALARM_CODES, type SupplyCount } from '../sources/alarms.ts';
import { sourceName } from '../sources/bulletins.ts';
import type { Dependencies } from '../sources/ports.ts';
import { SUPPLY_STATES } from '../sources/supply.ts';
import type { AppEnv } from './app-env.ts';
import { type Gauge, METRICS_TYPE, metricsText, type Sample } from './metrics-text.ts';

const MS_PER_S = 1000;
const DAY_MS = 86_400_000;
/** Ascents older than this are nobody's any more. */
const SOUNDINGS_SINCE_MS = 7 * DAY_MS;

/** Values of labels are models, states, codes and operators of the settings, and numbers of addresses: never more than these. */
export async function getMetrics(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const nowMs = deps.nowMs();
  const [ages, hours, alarms, totals, schedule] = await Promise.all([
    agesOf(deps, settings, nowMs),
    deps.facts.supplyHours(nowMs - DAY_MS),
    deps.alarms.active(),
    deps.facts.totals(nowMs),
    deps.alarms.heartbeat('schedule'),
  ]);
  const text = metricsText([
    gauge('rimeway_method_version', 'Version of the method, as a label', [
      { labels: { version: METHOD_VERSION }, value: 1 },
    ]),
    seconds('rimeway_data_age_seconds', 'Age of the newest data by source; infinite where none came', ages),
    seconds('rimeway_schedule_age_seconds', 'Since the schedule last came; infinite where it never did', [
      { labels: {}, value: ageS(schedule?.atMs, nowMs) },
    ]),
    gauge('rimeway_supply_hours', 'Forecast hours by the last word on them, of the last day', byState(hours)),
    gauge(
      'rimeway_alarms_active',
      'Alarms that last, by code',
      ALARM_CODES.map((code) => ({
        labels: { code },
        value: alarms.filter((alarm) => alarm.code === code).length,
      })),
    ),
    single('rimeway_boards', 'Network boards', totals.boards),
    single('rimeway_board_flights', 'Flights of the boards from half a day ago on', totals.flights),
    single('rimeway_board_flights_waiting', 'Flights that wait to be worked out', totals.waiting),
    single('rimeway_shared_briefs', 'Shared briefs whose link stands', totals.sharedBriefs),
  ]);
  return new Response(text, { headers: { 'content-type': METRICS_TYPE, 'cache-control': 'no-store' } });
}

async function agesOf(deps: Dependencies, settings: Settings, nowMs: number): Promise<Sample[]> {
  const { models, bulletinUrls } = settings.supply;
  const [runs, soundings, bulletins] = await Promise.all([
    deps.facts.newestRuns(),
    deps.facts.newestSoundings(nowMs - SOUNDINGS_SINCE_MS),
    deps.bulletins.list(),
  ]);
  const names = await Promise.all(bulletinUrls.map(sourceName));
  const gave = new Map(bulletins.map(({ source, gaveMs }) => [source, gaveMs]));
  const age = (kind: string, source: string, atMs: number | undefined) => ({
    labels: { kind, source },
    value: ageS(atMs, nowMs),
  });
  return [
    ...models.map((id) => age('model-run', id, runs.get(id))),
    // By its place in the setting: an address is no label.
    ...names.map((name, at) => age('bulletins', String(at + 1), gave.get(name))),
    ...operatorsOf(settings)
      .filter((operator) => soundings.has(operator))
      .map((operator) => age('soundings', operator, soundings.get(operator))),
  ];
}

function byState(hours: readonly SupplyCount[]): Sample[] {
  return SUPPLY_STATES.map((state) => ({
    labels: { state },
    value: hours.filter((each) => each.state === state).reduce((sum, { count }) => sum + count, 0),
  }));
}

/** What never came is older than any limit that somebody may watch. */
const ageS = (atMs: number | undefined, nowMs: number) =>
  atMs === undefined ? Number.POSITIVE_INFINITY : (nowMs - atMs) / MS_PER_S;

const gauge = (name: string, help: string, samples: readonly Sample[]): Gauge => ({ name, help, samples });
const seconds = (name: string, help: string, samples: readonly Sample[]): Gauge => ({
  name,
  unit: 'seconds',
  help,
  samples,
});
const single = (name: string, help: string, value: number) => gauge(name, help, [{ labels: {}, value }]);
