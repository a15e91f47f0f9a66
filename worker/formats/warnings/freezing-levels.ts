/**
 * The paragraph on the freezing level of AIRMET ZULU: its range, the lines along which it is so high, and the areas in
 * which it is crossed more than once. Hundreds of feet above mean sea level.
 */
import { takeArea } from './areas.ts';
import { freezingFt } from './levels.ts';
import { MOST_POINTS, takePoints } from './points.ts';
import { Scanner } from './scanner.ts';
import type { AreaStatement, LevelBand, Phenomenon, WarningLevel } from './warning.ts';

const RANGING = /RANGING FROM (SFC|\d{3})-(\d{3}) ACRS AREA/y;
const MULTIPLE = /MULT FRZLVL (?:BLW (\d{3})|(SFC|\d{3})-(\d{3}))(?!\d)/y;
const ALONG = /(SFC|\d{3}) (?:ALG|ALONG) /y;
const STOP = /[.,]+/y;

export interface FreezingLevel {
  readonly phenomenon: Phenomenon;
  readonly statement: AreaStatement | undefined;
  readonly levels: LevelBand;
}

/** @checked tests/formats/warnings/us-warning.test.ts */
export function readFreezingLevels(text: string): {
  readonly found: readonly FreezingLevel[];
  readonly unread: string;
} {
  const scanner = new Scanner(text);
  const found: FreezingLevel[] = [];
  const words: string[] = [];
  while (!scanner.isDone) {
    const next = takeRanging(scanner) ?? takeMultiple(scanner) ?? takeAlong(scanner);
    if (next !== undefined) found.push(next);
    else if (scanner.take(STOP) === undefined) words.push(scanner.takeWord());
  }
  return { found, unread: words.join(' ') };
}

function takeRanging(scanner: Scanner): FreezingLevel | undefined {
  const start = scanner.offset;
  const match = scanner.take(RANGING);
  const levels = layer(match?.[1], match?.[2]);
  if (levels !== undefined) return { phenomenon: { kind: 'freezing-level' }, statement: undefined, levels };
  scanner.offset = start;
  return undefined;
}

function takeMultiple(scanner: Scanner): FreezingLevel | undefined {
  const start = scanner.offset;
  const match = scanner.take(MULTIPLE);
  const upper = level(match?.[1]);
  const levels: LevelBand | undefined =
    upper === undefined ? layer(match?.[2], match?.[3]) : { kind: 'below', upper };
  if (levels !== undefined) {
    return { phenomenon: { kind: 'multiple-freezing-levels' }, statement: takeArea(scanner), levels };
  }
  scanner.offset = start;
  return undefined;
}

function takeAlong(scanner: Scanner): FreezingLevel | undefined {
  const start = scanner.offset;
  const at = level(scanner.take(ALONG)?.[1]);
  const points = at === undefined ? [] : takePoints(scanner);
  if (at === undefined || points.length < 2 || points.length > MOST_POINTS) {
    scanner.offset = start;
    return undefined;
  }
  const statement = { kind: 'line', points, halfWidthM: 0 } as const;
  return { phenomenon: { kind: 'freezing-level' }, statement, levels: { kind: 'at', level: at } };
}

function level(text: string | undefined): WarningLevel | undefined {
  if (text === 'SFC') return { kind: 'surface', altitudeFt: 0 };
  const altitudeFt = freezingFt(text ?? '');
  return altitudeFt === undefined ? undefined : { kind: 'altitude', altitudeFt };
}

function layer(first: string | undefined, second: string | undefined): LevelBand | undefined {
  const [lower, upper] = [level(first), level(second)];
  return lower === undefined || upper === undefined ? undefined : { kind: 'layer', lower, upper };
}
