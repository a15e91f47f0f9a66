/** Bindings and settings of the Worker, checked once; the only file that knows variable names. */
import type { D1Database, Fetcher, Queue, R2Bucket } from '@cloudflare/workers-types';
import * as z from 'zod/mini';
import { AppBug } from './errors.ts';
import { OPEN_MODELS, type OpenModelId } from './sources/open-models.ts';

/** What wrangler.toml binds. */
export interface Bindings {
  readonly DB: D1Database;
  readonly GRIDS: R2Bucket;
  readonly ASSETS: Fetcher;
  readonly OPERATOR_KEY_HASHES: string;
  readonly OPEN_OPERATORS: string;
  readonly OPERATING_AREA: string;
  readonly SUPPLY_QUEUE: Queue;
  readonly SUPPLY_MODELS: string;
  readonly SUPPLY_OPERATOR: string;
  readonly SUPPLY_HORIZON_HOURS: string;
  readonly SUPPLY_BASE_URL: string;
}

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
}

/** How the service keeps itself supplied with forecasts. */
export interface SupplySettings {
  /** Models fetched from their open buckets; empty: none. */
  readonly models: readonly OpenModelId[];
  /** Whose data they are; should be one of the open operators. */
  readonly operator: string;
  /** Forecast hours are kept up to this long after now, ms. */
  readonly horizonMs: number;
  /** In the place of the buckets: a mirror that has all of them, or a rehearsal. */
  readonly baseUrl: string | undefined;
}

const hashesSchema = z.record(
  z.string().check(z.regex(/^[a-z0-9-]{1,40}$/)),
  z.string().check(z.regex(/^[0-9a-f]{64}$/)),
);

/** @throws AppBug when a setting does not fit: the instance must not start serving on a guess. */
export function readSettings(bindings: Bindings): Settings {
  return {
    keyHashes: new Map(Object.entries(readHashes(bindings.OPERATOR_KEY_HASHES))),
    openOperators: listOf(bindings.OPEN_OPERATORS),
    operatingArea: readArea(bindings.OPERATING_AREA),
    supply: readSupply(bindings),
  };
}

const MS_PER_HOUR = 3_600_000;
const MOST_HORIZON_HOURS = 120;

function readSupply(bindings: Bindings): SupplySettings {
  const names = listOf(bindings.SUPPLY_MODELS);
  const unknown = names.find((name) => !(name in OPEN_MODELS));
  if (unknown !== undefined) {
    const known = Object.keys(OPEN_MODELS).join(', ');
    throw new AppBug(`setting SUPPLY_MODELS: found ${JSON.stringify(unknown)}, expected some of ${known}`);
  }
  const hours = Number(bindings.SUPPLY_HORIZON_HOURS);
  if (!(hours >= 1 && hours <= MOST_HORIZON_HOURS)) {
    throw new AppBug(`setting SUPPLY_HORIZON_HOURS: expected 1 to ${MOST_HORIZON_HOURS}`);
  }
  if (!/^[a-z0-9-]{1,40}$/.test(bindings.SUPPLY_OPERATOR)) {
    throw new AppBug('setting SUPPLY_OPERATOR: expected small letters, figures and hyphens, at most 40');
  }
  const baseUrl = bindings.SUPPLY_BASE_URL.trim();
  if (baseUrl !== '' && !(URL.canParse(baseUrl) && baseUrl.endsWith('/'))) {
    throw new AppBug('setting SUPPLY_BASE_URL: expected nothing or an address that ends with a slash');
  }
  return {
    models: names as OpenModelId[],
    operator: bindings.SUPPLY_OPERATOR,
    horizonMs: hours * MS_PER_HOUR,
    baseUrl: baseUrl === '' ? undefined : baseUrl,
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
  const [westDeg, southDeg, eastDeg, northDeg] = text.split(',').map(Number);
  const inRange = (value: number | undefined, limit: number): value is number =>
    value !== undefined && Number.isFinite(value) && Math.abs(value) <= limit;
  if (
    !inRange(westDeg, 180) ||
    !inRange(southDeg, 90) ||
    !inRange(eastDeg, 180) ||
    !inRange(northDeg, 90) ||
    northDeg <= southDeg
  ) {
    throw new AppBug('setting OPERATING_AREA: expected west,south,east,north in degrees');
  }
  return { westDeg, southDeg, eastDeg, northDeg };
}
