/**
 * Altitudes inside elements: `060`, `FL180`, `030-050`, `FL150 TO FL255`, `010-SFC`, `BLO 060`, `ABV 080`, `8000FT`,
 * `6,000`. Three figures are hundreds of feet; four or five that end in 00 are feet.
 */
import type { AltitudeBand } from './report.ts';

/** Thousands with a comma, a point or a blank behind them, or with a K: all but the first are no altitude here. */
const THOUSANDS = '\\d{1,2},\\d{3}(?![\\d,])|\\d{1,2}\\.\\d{3}(?!\\d)|\\d{1,2} 000(?!\\d)|\\d{1,2}K(?![A-Z])';
const TOKEN = new RegExp(`UNKN|FL(?=\\d)|[A-Z]+?(?=UNKN|FL\\d|[^A-Z]|$)|${THOUSANDS}|\\d+|[^\\sA-Z\\d]`, 'g');

/**
 * Words, figures and signs, each on its own: `RIME200-140` is four tokens, `TOPUNKN` and `TOFL` two. `6,000` is one,
 * without its comma.
 */
export function tokensOf(text: string): string[] {
  return (text.match(TOKEN) ?? []).map((token) => (token.length > 1 ? token.replace(',', '') : token));
}

export interface FoundBand {
  readonly band: AltitudeBand;
  /** Index of the first token after it. */
  readonly next: number;
}

const FT_PER_LEVEL = 100;
/** No aeroplane reports from higher; a figure beyond is a typing fault. */
const HIGHEST_FT = 60_000;
const JOINERS = new Set(['-', 'TO', 'THRU', '/', 'AND']);
export const BELOW: ReadonlySet<string> = new Set(['BLO', 'BLW', 'BELOW']);
export const ABOVE: ReadonlySet<string> = new Set(['ABV', 'ABOVE']);
const BEFORE_RANGE = new Set(['BTN', 'BTWN', 'BETWEEN', 'FM', 'FROM', 'AT', 'FRM']);

/** The altitudes that start at a token; undefined when none do. Reversed ends are put in order. */
export function bandAt(tokens: readonly string[], start: number): FoundBand | undefined {
  const word = tokens[start] ?? '';
  if (word === 'UNKN') return { band: { kind: 'unknown' }, next: start + 1 };
  if (BELOW.has(word) || ABOVE.has(word)) return openBandAt(tokens, start);
  const first = altitudeAt(tokens, BEFORE_RANGE.has(word) ? start + 1 : start);
  if (first === undefined) return undefined;
  const isJoined = JOINERS.has(tokens[first.next] ?? '');
  // Three noughts alone are the rest of a greater figure; the ground is SFC.
  if (!isJoined && tokens[first.next - 1] === '000') return undefined;
  const second = isJoined ? altitudeAt(tokens, first.next + 1) : undefined;
  const ends = [first.altitudeFt, second?.altitudeFt ?? first.altitudeFt];
  const band = {
    kind: 'layer',
    lowerFt: Math.min(...ends),
    upperFt: Math.max(...ends),
    isStated: true,
  } as const;
  return { band, next: second?.next ?? first.next };
}

function openBandAt(tokens: readonly string[], start: number): FoundBand | undefined {
  const figure = altitudeAt(tokens, tokens[start + 1] === '-' ? start + 2 : start + 1);
  if (figure === undefined) return undefined;
  const { altitudeFt, next } = figure;
  const isBelow = BELOW.has(tokens[start]!);
  return {
    band: isBelow ? { kind: 'below', upperFt: altitudeFt } : { kind: 'above', lowerFt: altitudeFt },
    next,
  };
}

interface FoundAltitude {
  readonly altitudeFt: number;
  readonly next: number;
}

/** One altitude; two figures count only after FL. */
function altitudeAt(tokens: readonly string[], start: number): FoundAltitude | undefined {
  if (tokens[start] === 'SFC') return { altitudeFt: 0, next: start + 1 };
  const isLevel = tokens[start] === 'FL';
  const index = isLevel ? start + 1 : start;
  const figures = tokens[index] ?? '';
  const altitudeFt = altitudeFtOf(isLevel && figures.length === 2 ? `0${figures}` : figures);
  if (altitudeFt === undefined) return undefined;
  return { altitudeFt, next: tokens[index + 1] === 'FT' ? index + 2 : index + 1 };
}

/** ft of three figures in hundreds, or of four or five that end in 00; undefined for others and above 60,000 ft. */
export function altitudeFtOf(figures: string): number | undefined {
  let altitudeFt: number | undefined;
  if (/^\d{3}$/.test(figures)) altitudeFt = Number(figures) * FT_PER_LEVEL;
  else if (/^[1-9]\d{1,2}00$/.test(figures)) altitudeFt = Number(figures);
  return altitudeFt === undefined || altitudeFt > HIGHEST_FT ? undefined : altitudeFt;
}
