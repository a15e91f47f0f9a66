/**
 * The paragraph on the freezing level of AIRMET ZULU: its range, the lines along which it is so high, and the areas in
 * which it is crossed more than once. Hundreds of feet above mean sea level.
 */
import { takeArea } from './areas.ts';
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
  const match = scanner.take(RANGING);
  if (match === undefined) return undefined;
  const levels = layer(match[1]!, match[2]!);
  return { phenomenon: { kind: 'freezing-level' }, statement: undefined, levels };
}

function takeMultiple(scanner: Scanner): FreezingLevel | undefined {
  const match = scanner.take(MULTIPLE);
  if (match === undefined) return undefined;
  const [, below, first, second] = match;
  const levels: LevelBand =
    below === undefined ? layer(first!, second!) : { kind: 'below', upper: level(below) };
  return { phenomenon: { kind: 'multiple-freezing-levels' }, statement: takeArea(scanner), levels };
}

function takeAlong(scanner: Scanner): FreezingLevel | undefined {
  const start = scanner.offset;
  const match = scanner.take(ALONG);
  const points = match === undefined ? [] : takePoints(scanner);
  if (points.length < 2 || points.length > MOST_POINTS) {
    scanner.offset = start;
    return undefined;
  }
  const statement = { kind: 'line', points, halfWidthM: 0 } as const;
  return {
    phenomenon: { kind: 'freezing-level' },
    statement,
    levels: { kind: 'at', level: level(match![1]!) },
  };
}

function level(text: string): WarningLevel {
  if (text === 'SFC') return { kind: 'surface', altitudeFt: 0 };
  return { kind: 'altitude', altitudeFt: Number(text) * 100 };
}

function layer(lower: string, upper: string): LevelBand {
  return { kind: 'layer', lower: level(lower), upper: level(upper) };
}
