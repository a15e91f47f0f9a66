/** What a text file holds beside grids and ascents: reports, warnings, tracks, inventories, routes, as JSON lines. */
import { readFileSync } from 'node:fs';
import { inspectGpx } from '../formats/inspect-gpx.ts';
import { inspectInventory } from '../formats/inspect-inventory.ts';
import { inspectReports } from '../formats/inspect-reports.ts';
import { decodedText, plainText } from '../formats/plain-text.ts';
import { inspectRoute } from '../formats/route/inspect-route.ts';

/** Kinds of text, as --as names them, each with an example. */
const EXAMPLES = {
  'aerodrome-reports': 'METAR KZZZ 151453Z 02012KT 3SM -FZRA OVC008 M02/M03 A2990',
  'pilot-reports': 'ABC UA /OV ABC090020/TM 1400/FL060/TP ZZZZ/IC LGT RIME',
  warnings: 'ZZZZ SIGMET 1 VALID 151300/151700 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE FCST N OF N50 FL030/110',
  reports: 'any of these three, mixed',
  gpx: '<gpx version="1.1"><rte><rtept lat="44.47" lon="-73.15"/></rte></gpx>',
  inventory: '1:0:d=2026011500:TMP:850 mb:anl:',
  route: 'KBTV DCT MPV DCT KBGR',
} as const;
export type TextKind = keyof typeof EXAMPLES;
export const TEXT_KINDS = Object.keys(EXAMPLES) as TextKind[];

/** A METAR or TAF without its name: station, time, and wind or period. */
const UNNAMED_REPORT =
  /^\s*[A-Z][A-Z0-9]{3} \d{6}Z (?:(?:AUTO|COR|AMD) )*(?:(?:\d{3}|VRB|\/{3})(?:P?\d{2,3}|\/\/)(?:GP?\d{2,3})?(?:KT|MPS|KMH)|\d{4}\/\d{4})(?:\s|$)/m;

/** The first that fits: what each kind begins with or must hold. */
const SIGNS: readonly (readonly [TextKind, RegExp])[] = [
  ['gpx', /<(?:[\w.-]+:)?gpx[\s>]/],
  ['inventory', /^\d+(\.\d+)?:-?\d+:d=\d{10}|^\{.*"_offset"/m],
  ['route', /^\s*\(?\s*FPL\s*-/i],
  ['reports', /\b(SIGMET|AIRMET)\b/],
  ['reports', /(^|\s)(UA|UUA)\s*\/|\b(AIREP|ARS)\b/m],
  ['reports', /\b(METAR|SPECI|TAF)\b/],
  ['reports', UNNAMED_REPORT],
];

/** Numbers can look like any word, so these are looked for first. */
const BINARY = /GRIB|BUFR/;

/** @returns the kind of a text by its beginning, an octet a character; undefined when it shows none. */
export function textKindOf(head: string): TextKind | undefined {
  if (BINARY.test(head)) return undefined;
  const plain = plainText(decodedText(Buffer.from(head, 'latin1')));
  return SIGNS.find(([, sign]) => sign.test(plain))?.[0];
}

/** What to say of a file that shows no kind: the kinds there are, each with an example. */
export function unknownTextReason(head: string): string {
  const width = Math.max(...TEXT_KINDS.map((kind) => kind.length));
  const kinds = TEXT_KINDS.map((kind) => `  --as ${kind.padEnd(width)}  ${EXAMPLES[kind]}`);
  const found = JSON.stringify(plainText(decodedText(Buffer.from(head, 'latin1'))).slice(0, 40));
  return [`file: found ${found}, expected a kind that shows by itself, or one of`, ...kinds].join('\n');
}

/**
 * @param file    Path; UTF-8, or Latin-1 where it is not.
 * @param kind    Of its text.
 * @param nearMs  The texts give days and hours alone: month and year are taken near this. Fixes are not looked up: a report's
 *                place stays as written.
 * @returns       One object a report, point or line, those refused with their reason among them.
 */
export function inspectText(file: string, kind: TextKind, nearMs: number): Iterable<object> {
  const text = decodedText(readFileSync(file));
  if (kind === 'gpx') return inspectGpx(text);
  if (kind === 'inventory') return inspectInventory(text);
  if (kind === 'route') return inspectRoute(text);
  if (kind !== 'reports') return inspectReports(text, nearMs, kind);
  const items = inspectReports(text, nearMs, undefined);
  return items.length > 0 ? items : inspectReports(text, nearMs, kindWithin(text));
}

/** Of a text whose reports do not begin on lines of their own. */
function kindWithin(text: string): 'aerodrome-reports' | 'pilot-reports' | 'warnings' {
  if (/\b(SIGMET|AIRMET)\b/.test(text)) return 'warnings';
  return /\b(UA|UUA)\s*\/|\b(AIREP|ARS)\b/.test(text) ? 'pilot-reports' : 'aerodrome-reports';
}
