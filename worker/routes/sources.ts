/** GET /api/sources: every ascent and grid hour that this request may read, newest first, and how many reports. */
import type { Context } from 'hono';
import { isInventedStation } from '../brief/invented.ts';
import { type BulletinRepository, shownAddress, sourceName } from '../sources/bulletins.ts';
import { type SupplyRow, validMsOf } from '../sources/supply.ts';
import type { AppEnv } from './app-env.ts';

const MOST_LISTED = 500;
/** Runs of the last day and a half: those that a leg may use, and what failed before them. */
const SUPPLY_SHOWN_MS = 36 * 3_600_000;

export async function getSources(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings, operators } = context.var;
  const { supply } = settings;
  const isReadable = operators.includes(supply.operator);
  const [soundings, hours, reports, asked, bulletins] = await Promise.all([
    deps.soundings.list(operators, MOST_LISTED),
    deps.grids.list(operators, MOST_LISTED),
    deps.reports.counts(operators),
    isReadable ? deps.supply.since(deps.nowMs() - SUPPLY_SHOWN_MS) : [],
    isReadable ? toldBulletins(deps.bulletins, supply.bulletinUrls) : [],
  ]);
  return context.json({
    soundings: soundings.map((row) => ({
      operator: row.operator,
      station: row.stationId,
      format: row.format,
      latDeg: row.latDeg,
      lonDeg: row.lonDeg,
      validUtc: utc(row.timeMs),
      levels: row.levelCount,
      ingestedUtc: utc(row.ingestedMs),
      invented: isInventedStation(row.stationId),
    })),
    grids: hours.map((hour) => ({
      operator: hour.operator,
      model: hour.model,
      runUtc: utc(hour.runMs),
      validUtc: utc(hour.validMs),
      ingestedUtc: utc(hour.ingestedMs),
    })),
    reports: reports.map(({ kind, count, newestMs }) => ({ kind, count, newestUtc: utc(newestMs) })),
    bulletins,
    supply: { models: supply.models, hours: mostTelling(asked).map(supplyHour) },
  });
}

const FAULTY: ReadonlySet<SupplyRow['state']> = new Set(['dead', 'failed']);

/** What failed is listed before the rest, however many there are. */
function mostTelling(rows: readonly SupplyRow[]): readonly SupplyRow[] {
  const faulty = rows.filter(({ state }) => FAULTY.has(state));
  return [...faulty, ...rows.filter(({ state }) => !FAULTY.has(state))].slice(0, MOST_LISTED);
}

/** Dead letters among them: an hour that the queue gave up, with its last fault. */
function supplyHour(row: SupplyRow) {
  return {
    model: row.modelId,
    runUtc: utc(row.runMs),
    validUtc: utc(validMsOf(row)),
    forecastHour: row.forecastHour,
    state: row.state,
    detail: row.detail,
    failures: row.failures,
    updatedUtc: utc(row.updatedMs),
  };
}

/** In the order of the setting; a source that was never asked is among them. */
async function toldBulletins(bulletins: BulletinRepository, urls: readonly string[]) {
  const bySource = new Map((await bulletins.list()).map((row) => [row.source, row]));
  return Promise.all(
    urls.map(async (url) => {
      const row = bySource.get(await sourceName(url));
      return {
        address: shownAddress(url),
        askedUtc: row === undefined ? null : utc(row.askedMs),
        gaveUtc: row?.gaveMs === undefined ? null : utc(row.gaveMs),
        stored: row?.stored ?? 0,
        refused: row?.refused ?? 0,
        refusal: row?.refusal ?? '',
        fault: row?.fault ?? '',
        faultUtc: row?.faultMs === undefined ? null : utc(row.faultMs),
      };
    }),
  );
}

const utc = (instantMs: number) => new Date(instantMs).toISOString();
