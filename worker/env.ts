/** Bindings and settings of the Worker, checked once; the only file that knows variable names. */
import type { D1Database, Fetcher, R2Bucket } from '@cloudflare/workers-types';
import * as z from 'zod/mini';
import { AppBug } from './errors.ts';

/** What wrangler.toml binds. */
export interface Bindings {
  readonly DB: D1Database;
  readonly GRIDS: R2Bucket;
  readonly ASSETS: Fetcher;
  readonly OPERATOR_KEY_HASHES: string;
  readonly OPEN_OPERATORS: string;
  readonly OPERATING_AREA: string;
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
}

const hashesSchema = z.record(
  z.string().check(z.regex(/^[a-z0-9-]{1,40}$/)),
  z.string().check(z.regex(/^[0-9a-f]{64}$/)),
);

/** @throws AppBug when a setting does not fit: the instance must not start serving on a guess. */
export function readSettings(bindings: Bindings): Settings {
  return {
    keyHashes: new Map(Object.entries(readHashes(bindings.OPERATOR_KEY_HASHES))),
    openOperators: bindings.OPEN_OPERATORS.split(',')
      .map((name) => name.trim())
      .filter((name) => name !== ''),
    operatingArea: readArea(bindings.OPERATING_AREA),
  };
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
