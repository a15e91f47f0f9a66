/** What a text file holds beside grids and ascents: reports, warnings, tracks, inventories, routes, as JSON lines. */
import { createReadStream, readFileSync } from 'node:fs';
import { inspectAerodromeReports } from '../formats/aerodrome-reports/inspect.ts';
import { inspectGpx } from '../formats/inspect-gpx.ts';
import { inspectInventory } from '../formats/inspect-inventory.ts';
import { inspectPilotReports } from '../formats/pilot-reports/inspect.ts';
import { inspectRoute } from '../formats/route/inspect-route.ts';
import { inspectWarnings } from '../formats/warnings/inspect.ts';

/** Kinds of text, as --as names them. */
export const TEXT_KINDS = [
  'aerodrome-reports',
  'pilot-reports',
  'warnings',
  'gpx',
  'inventory',
  'route',
] as const;
export type TextKind = (typeof TEXT_KINDS)[number];

/** The first that fits: what each kind begins with or must hold. */
const SIGNS: readonly (readonly [TextKind, RegExp])[] = [
  ['gpx', /<gpx[\s>]/],
  ['inventory', /^\d+(\.\d+)?:-?\d+:d=\d{10}|^\{.*"_offset"/m],
  ['warnings', /\b(SIGMET|AIRMET)\b/],
  ['pilot-reports', /(^|\s)(UA|UUA)\s*\/|\b(AIREP|ARS)\b/m],
  ['aerodrome-reports', /\b(METAR|SPECI|TAF)\b/],
];

/** Numbers can look like any word, so these are looked for first. */
const BINARY = /GRIB|BUFR/;

/** @returns the kind of a text by its beginning; undefined when it shows none. */
export function textKindOf(head: string): TextKind | undefined {
  if (BINARY.test(head)) return undefined;
  return SIGNS.find(([, sign]) => sign.test(head))?.[0];
}

/**
 * @param file    Path.
 * @param kind    Of its text.
 * @param nearMs  The texts give days and hours alone: month and year are taken near this. Fixes are not looked up: a report's
 *                place stays as written.
 * @returns       One object a report, point or line, those refused with their reason among them.
 */
export async function* inspectText(file: string, kind: TextKind, nearMs: number): AsyncGenerator<object> {
  if (kind === 'aerodrome-reports') {
    yield* inspectAerodromeReports(createReadStream(file), { nearMs });
    return;
  }
  const text = readFileSync(file, 'latin1');
  const places = { referenceMs: nearMs, fixes: () => [] };
  if (kind === 'pilot-reports') yield* inspectPilotReports(text, places);
  else if (kind === 'warnings') yield* inspectWarnings(text, places);
  else if (kind === 'gpx') yield* inspectGpx(readFileSync(file, 'utf8'));
  else if (kind === 'inventory') yield* inspectInventory(text);
  else yield* inspectRoute(text.trim());
}
