/** Bindings and settings of the Worker, checked once; the only file that knows variable names. */
import type { D1Database, DurableObjectNamespace, Fetcher, Queue, R2Bucket } from '@cloudflare/workers-types';
import * as z from 'zod/mini';
import { AppBug } from './errors.ts';
import { writtenNumber } from './formats/written-values.ts';
import { isBulletinUrl } from './sources/bulletins.ts';
import { OPEN_MODELS, type OpenModelId } from './sources/open-models.ts';
import { type PushSettings, readPush } from './sources/push-settings.ts';
import { readSignIn, type SignInSettings } from './sources/sign-in-settings.ts';
import { isTerrainTemplate } from './sources/terrain-url.ts';

/** What wrangler.toml binds. */
export interface Bindings {
  readonly DB: D1Database;
  readonly GRIDS: R2Bucket;
  readonly ASSETS: Fetcher;
  readonly OPERATOR_KEY_HASHES: string;
  readonly OPEN_OPERATORS: string;
  readonly OPERATING_AREA: string;
  readonly SUPPLY_QUEUE: Queue;
  readonly BOARD_ROOMS: DurableObjectNamespace;
  readonly BOARD_QUEUE: Queue;
  readonly SUPPLY_MODELS: string;
  readonly SUPPLY_OPERATOR: string;
  readonly SUPPLY_HORIZON_HOURS: string;
  readonly SUPPLY_BASE_URL: string;
  readonly TERRAIN_TILES_URL: string;
  readonly TERRAIN_ATTRIBUTION: string;
  readonly REPORTS_KEPT_HOURS: string;
  readonly BULLETIN_URLS: string;
  readonly SIGN_IN: string;
  readonly PUSH_PUBLIC_KEY: string;
  readonly PUSH_PRIVATE_KEY: string;
  readonly PUSH_SUBJECT: string;
  readonly PUSH_HOSTS: string;
  readonly ALARM_URL: string;
}

/** Settings that may hold what nobody else is to know: set as secrets, never as plain variables, where the service runs for others. */
export const SECRET_SETTINGS = [
  'OPERATOR_KEY_HASHES',
  'BULLETIN_URLS',
  'ALARM_URL',
  'PUSH_PRIVATE_KEY',
  'SIGN_IN',
] as const satisfies readonly (keyof Bindings)[];

/** An area of the earth, degrees; west may exceed east when it crosses the antimeridian. */
export interface Area {
  readonly westDeg: number;
  readonly southDeg: number;
  readonly eastDeg: number;
  readonly northDeg: number;
}

export interface Settings {
  /** Operator name to the lower-case hex SHA-256 of its key. */
  readonly keyHashes: ReadonlyMap<string, string>;
  /** Operators whose data anybody may read. */
  readonly openOperators: readonly string[];
  /** Grids are cropped to this on ingest; undefined keeps whole grids. */
  readonly operatingArea: Area | undefined;
  readonly supply: SupplySettings;
  /** undefined: no elevation tiles. */
  readonly terrain: TerrainSettings | undefined;
  /** Reports and warnings stay this long after their validity, ms. */
  readonly reportsKeptMs: number;
  /** undefined: nobody signs in. */
  readonly signIn: SignInSettings | undefined;
  /** undefined: no notices are sent to browsers. */
  readonly push: PushSettings | undefined;
  /** Address that is told of alarms; undefined: none. A secret. */
  readonly alarmUrl: string | undefined;
}

/** Everybody whose data may be there: those that anybody may read, and those with a key. */
export function operatorsOf({ openOperators, keyHashes }: Settings): string[] {
  return [...new Set([...openOperators, ...keyHashes.keys()])];
}

/** Where elevation tiles come from. */
export interface TerrainSettings {
  /** Address with {z}, {x} and {y}. */
  readonly template: string;
  /** Of who made them, as briefs say it. */
  readonly attribution: string;
}

/** How the service keeps itself supplied with forecasts and reports. */
export interface SupplySettings {
  /** Models fetched from their open buckets; empty: none. */
  readonly models: readonly OpenModelId[];
  /** Whose data they are; one of the open operators, without a key, where models or bulletins are set. */
  readonly operator: string;
  /** Forecast hours are kept up to this long after now, ms. */
  readonly horizonMs: number;
  /** Addresses of plain-text bulletins that the schedule fetches. */
  readonly bulletinUrls: readonly string[];
  /** In the place of the buckets: a mirror that has all of them, or a rehearsal. */
  readonly baseUrl: string | undefined;
}

const hashesSchema = z.record(
  z.string().check(z.regex(/^[a-z0-9-]{1,40}$/)),
  z.string().check(z.regex(/^[0-9a-f]{64}$/)),
);

/** @throws AppBug when a setting does not fit: the instance must not start serving on a guess. */
export function readSettings(bindings: Bindings): Settings {
  const settings = {
    keyHashes: new Map(Object.entries(readHashes(bindings.OPERATOR_KEY_HASHES))),
    openOperators: listOf(bindings.OPEN_OPERATORS),
    operatingArea: readArea(bindings.OPERATING_AREA),
    supply: readSupply(bindings),
    terrain: readTerrain(bindings.TERRAIN_TILES_URL ?? '', bindings.TERRAIN_ATTRIBUTION ?? ''),
    reportsKeptMs: readReportsKeptMs(bindings.REPORTS_KEPT_HOURS),
    signIn: readSignIn(bindings.SIGN_IN ?? ''),
    push: readPush(bindings),
    alarmUrl: readAlarmUrl(bindings.ALARM_URL ?? ''),
  };
  const { models, bulletinUrls } = settings.supply;
  if (models.length > 0 || bulletinUrls.length > 0) refuseUnfit(settings);
  return settings;
}

/** @throws AppBug for settings that a supply cannot run under. */
function refuseUnfit({ keyHashes, openOperators, operatingArea, supply }: Settings): void {
  if (operatingArea === undefined && supply.models.length > 0) {
    throw new AppBug('setting OPERATING_AREA: found none, expected one: whole grids fit into no isolate');
  }
  // A key would let its owner write among what the supply keeps and retires.
  if (!openOperators.includes(supply.operator) || keyHashes.has(supply.operator)) {
    throw new AppBug(
      `setting SUPPLY_OPERATOR: found ${JSON.stringify(supply.operator)}, expected one of OPEN_OPERATORS without a key`,
    );
  }
}

const MS_PER_HOUR = 3_600_000;
const MOST_HORIZON_HOURS = 120;

function readSupply(bindings: Bindings): SupplySettings {
  const hours = writtenNumber(bindings.SUPPLY_HORIZON_HOURS.trim());
  if (!(hours >= 1 && hours <= MOST_HORIZON_HOURS)) {
    throw new AppBug(
      `setting SUPPLY_HORIZON_HOURS: found ${JSON.stringify(bindings.SUPPLY_HORIZON_HOURS)}, expected 1 to ${MOST_HORIZON_HOURS}`,
    );
  }
  if (!/^[a-z0-9-]{1,40}$/.test(bindings.SUPPLY_OPERATOR)) {
    throw new AppBug('setting SUPPLY_OPERATOR: expected small letters, figures and hyphens, at most 40');
  }
  return {
    models: readModels(bindings.SUPPLY_MODELS),
    operator: bindings.SUPPLY_OPERATOR,
    horizonMs: hours * MS_PER_HOUR,
    bulletinUrls: readBulletinUrls(bindings.BULLETIN_URLS ?? ''),
    baseUrl: readBaseUrl(bindings.SUPPLY_BASE_URL.trim()),
  };
}

const MOST_REPORT_HOURS = 24 * 366;

function readReportsKeptMs(text: string): number {
  const hours = writtenNumber(text.trim());
  if (hours >= 1 && hours <= MOST_REPORT_HOURS) return hours * MS_PER_HOUR;
  throw new AppBug(
    `setting REPORTS_KEPT_HOURS: found ${JSON.stringify(text)}, expected 1 to ${MOST_REPORT_HOURS}`,
  );
}

function readModels(text: string): OpenModelId[] {
  const names = listOf(text);
  const odd = names.find((name, at) => !Object.hasOwn(OPEN_MODELS, name) || names.indexOf(name) < at);
  if (odd === undefined) return names as OpenModelId[];
  const known = Object.keys(OPEN_MODELS).join(', ');
  throw new AppBug(
    `setting SUPPLY_MODELS: found ${JSON.stringify(odd)}, expected some of ${known}, each once`,
  );
}

/** Written plainly, so that every address under it is one; nothing secret in it: errors show it to everybody. */
function readBaseUrl(text: string): string | undefined {
  if (text === '') return undefined;
  const url = URL.canParse(text) ? new URL(text) : undefined;
  const isPlain =
    url !== undefined &&
    url.href === text &&
    /^https?:$/.test(url.protocol) &&
    [url.username, url.password, url.search, url.hash].every((part) => part === '') &&
    url.pathname.endsWith('/');
  if (isPlain) return text;
  throw new AppBug(
    'setting SUPPLY_BASE_URL: expected nothing or a plain http or https address that ends with a slash, without user, query or fragment',
  );
}

const MOST_BULLETINS = 8;

/** A query may hold a key: no address is told. */
function readBulletinUrls(text: string): string[] {
  const urls = text.split(/\s+/).filter((url) => url !== '');
  if (urls.length > MOST_BULLETINS) {
    throw new AppBug(`setting BULLETIN_URLS: found ${urls.length}, expected at most ${MOST_BULLETINS}`);
  }
  const oddAt = urls.findIndex((url, at) => !isBulletinUrl(url) || urls.indexOf(url) < at);
  if (oddAt === -1) return urls;
  throw new AppBug(
    `setting BULLETIN_URLS: address ${oddAt + 1}: expected a plain https address without user, port or fragment, each once, separated by blanks`,
  );
}

/** The whole address may be a key: it is not told. */
function readAlarmUrl(text: string): string | undefined {
  const url = text.trim();
  if (url === '') return undefined;
  if (isBulletinUrl(url)) return url;
  throw new AppBug(
    'setting ALARM_URL: expected nothing or a plain https address without user, port or fragment',
  );
}

const LONGEST_ATTRIBUTION = 300;

function readTerrain(address: string, attribution: string): TerrainSettings | undefined {
  const template = address.trim();
  if (template === '') return undefined;
  if (!isTerrainTemplate(template)) {
    throw new AppBug(
      'setting TERRAIN_TILES_URL: expected nothing or a plain http or https address with {z}, {x} and {y} once each, without user, query or fragment',
    );
  }
  const words = attribution.trim();
  if (words.length > LONGEST_ATTRIBUTION) {
    throw new AppBug(`setting TERRAIN_ATTRIBUTION: expected at most ${LONGEST_ATTRIBUTION} characters`);
  }
  return {
    template,
    attribution: words === '' ? `Elevation tiles of ${new URL(template).hostname}` : words,
  };
}

function listOf(text: string): string[] {
  return text
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '');
}

function readHashes(text: string): Record<string, string> {
  try {
    return hashesSchema.parse(JSON.parse(text));
  } catch (cause) {
    throw new AppBug('setting OPERATOR_KEY_HASHES: expected a JSON object of operator to hex SHA-256', {
      cause,
    });
  }
}

function readArea(text: string): Area | undefined {
  if (text.trim() === '') return undefined;
  const parts = text.split(',').map((part) => writtenNumber(part.trim()));
  const [westDeg, southDeg, eastDeg, northDeg] = parts;
  const inRange = (value: number | undefined, limit: number): value is number =>
    value !== undefined && Math.abs(value) <= limit;
  if (
    parts.length !== 4 ||
    !inRange(westDeg, 180) ||
    !inRange(southDeg, 90) ||
    !inRange(eastDeg, 180) ||
    !inRange(northDeg, 90) ||
    northDeg <= southDeg ||
    westDeg === eastDeg
  ) {
    throw new AppBug(
      `setting OPERATING_AREA: found ${JSON.stringify(text)}, expected west,south,east,north in degrees`,
    );
  }
  return { westDeg, southDeg, eastDeg, northDeg };
}
