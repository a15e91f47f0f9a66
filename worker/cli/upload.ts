/** Sends a file to a running instance, by what it holds. */
import { closeSync, createReadStream, openSync, readSync } from 'node:fs';
import { Readable } from 'node:stream';
import { detectSoundingFormat } from '../formats/detect-sounding.ts';
import { partsOfReports } from '../formats/mixed-reports.ts';
import { plainText } from '../formats/plain-text.ts';

const HEAD_BYTES = 4096;

/** The first bytes of a file, a character each. */
export function headOf(path: string): string {
  const head = Buffer.alloc(HEAD_BYTES);
  const file = openSync(path, 'r');
  const count = readSync(file, head, 0, HEAD_BYTES, 0);
  closeSync(file);
  return head.subarray(0, count).toString('latin1');
}

type Call = '/api/grids' | '/api/places' | '/api/holdover' | '/api/reports' | '/api/soundings';

/** Which call takes a file: GRIB2 by its magic, places by their CSV header, holdover tables by the name of their form, reports by their first lines, else soundings. */
export function callFor(path: string): Call {
  const text = headOf(path);
  if (text.includes('GRIB')) return '/api/grids';
  if (/^(\xEF\xBB\xBF)?(ident,)?name,latDeg,lonDeg/.test(text)) return '/api/places';
  if (/^(\xEF\xBB\xBF)?\s*(form,|\{\s*"form"\s*:\s*")holdover-table-/.test(text)) return '/api/holdover';
  const isReports = detectSoundingFormat(text) === undefined && partsOfReports(plainText(text)).size > 0;
  return isReports ? '/api/reports' : '/api/soundings';
}

export interface UploadTarget {
  readonly baseUrl: string;
  readonly key: string;
  /** Query of POST /api/soundings and, near alone, /api/reports: near, latDeg, lonDeg, elevationM. */
  readonly query?: Readonly<Record<string, string>>;
}

/** @returns the status and the answer's JSON. @throws when the instance cannot be reached. */
export async function uploadFile(
  path: string,
  target: UploadTarget,
): Promise<{ status: number; answer: Record<string, unknown> }> {
  const url = new URL(callFor(path), target.baseUrl);
  for (const [name, value] of Object.entries(target.query ?? {})) url.searchParams.set(name, value);
  const response = await fetch(url, {
    method: 'POST',
    headers: { authorization: `Bearer ${target.key}`, 'content-type': 'application/octet-stream' },
    body: Readable.toWeb(createReadStream(path)),
    duplex: 'half',
  } as unknown as RequestInit);
  return { status: response.status, answer: (await response.json()) as Record<string, unknown> };
}
