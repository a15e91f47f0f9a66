/**
 * Levels: `FL180`, `SFC/FL070`, `FL050/080`, `2000/3000M`, `10000FT/FL250`, `TOP ABV FL100`, `ABV FL250`,
 * `BTN FRZLVL AND FL200`, `BLW 100`. Feet throughout; meters are converted and rounded to whole feet.
 *
 * @source ICAO Annex 3, table A6-1A, level (from memory); three figures alone are hundreds of feet in the United States.
 */
import { ftFromM } from '../../science/units.ts';
import type { Scanner } from './scanner.ts';
import type { LevelBand, WarningLevel } from './warning.ts';

const HIGHEST_FT = 80_000;
const LEVEL = '(?:FL ?\\d{2,3}|\\d{3,5} ?FT|\\d{3,5} ?M|SFC|GND|FRZLVL|FRZ LVL|\\d{3})(?![A-Z0-9])';
const TOP = new RegExp(`TOPS? (?:(ABV|BLW|TO) )?(${LEVEL})`, 'y');
const BETWEEN = new RegExp(`(?:BTN|BTWN) (${LEVEL})(?: AND |/)(${LEVEL})`, 'y');
/** The second part may leave out FL, the first part its unit. */
const RANGE = new RegExp(`(${LEVEL}|\\d{3,5})[/-](?:(ABV) )?(${LEVEL})`, 'y');
const OPEN = new RegExp(`(ABV|BLW|BLO) (${LEVEL})`, 'y');
const SINGLE = /(?:FL ?\d{2,3}|\d{3,5} ?(?:FT|M))(?![A-Z0-9])/y;
/** `FRZLVL 060-110` and `FRZLVL SFC-040`: where the freezing level is, beside the levels of the icing. */
const FREEZING_RANGE = /FRZLVL (SFC|\d{3})(?:-(\d{3}))?(?![A-Z0-9])/y;

/** Takes one band of levels; undefined, without moving, when none starts here. @checked tests/formats/warnings/levels.test.ts */
export function takeLevels(scanner: Scanner): LevelBand | undefined {
  const start = scanner.offset;
  const band = takeTop(scanner) ?? takeRange(scanner) ?? takeOpen(scanner) ?? takeSingle(scanner);
  if (band === undefined) scanner.offset = start;
  return band;
}

function takeTop(scanner: Scanner): LevelBand | undefined {
  const match = scanner.take(TOP);
  const upper = match === undefined ? undefined : levelOf(match[2]!);
  if (upper === undefined) return undefined;
  const tops = { ABV: 'above', BLW: 'below', TO: 'at' } as const;
  return { kind: 'top', upper, top: tops[(match![1] ?? 'TO') as keyof typeof tops] };
}

function takeRange(scanner: Scanner): LevelBand | undefined {
  const between = scanner.take(BETWEEN);
  if (between !== undefined) return layerOf(levelOf(between[1]!), levelOf(between[2]!));
  const start = scanner.offset;
  const match = scanner.take(RANGE);
  if (match === undefined) return undefined;
  const [, first, above, second] = match as unknown as [string, string, string | undefined, string];
  const upper = levelOf(/^\d{3}$/.test(second) && first.startsWith('FL') ? `FL${second}` : second);
  const unit = /(?:FT|M)$/.exec(second)?.[0] ?? '';
  const lower = levelOf(/^\d+$/.test(first) ? `${first}${unit}` : first);
  if (above === undefined) return layerOf(lower, upper);
  scanner.offset = start;
  return undefined;
}

/** Lower and upper in this order of altitude where both have one: printed the other way round they are exchanged. */
function layerOf(first: WarningLevel | undefined, second: WarningLevel | undefined): LevelBand | undefined {
  if (first === undefined || second === undefined) return undefined;
  const isReversed = 'altitudeFt' in first && 'altitudeFt' in second && first.altitudeFt > second.altitudeFt;
  return { kind: 'layer', lower: isReversed ? second : first, upper: isReversed ? first : second };
}

function takeOpen(scanner: Scanner): LevelBand | undefined {
  const match = scanner.take(OPEN);
  const level = match === undefined ? undefined : levelOf(match[2]!);
  if (level === undefined) return undefined;
  return match![1] === 'ABV' ? { kind: 'above', lower: level } : { kind: 'below', upper: level };
}

function takeSingle(scanner: Scanner): LevelBand | undefined {
  const match = scanner.take(SINGLE);
  const level = match === undefined ? undefined : levelOf(match[0]);
  return level === undefined ? undefined : { kind: 'at', level };
}

function levelOf(text: string): WarningLevel | undefined {
  if (text === 'SFC' || text === 'GND') return { kind: 'surface', altitudeFt: 0 };
  if (text.startsWith('FRZ')) return { kind: 'freezing-level', lowestFt: undefined, highestFt: undefined };
  const figures = Number(/\d+/.exec(text)?.[0]);
  const kind = text.startsWith('FL') ? 'flight-level' : 'altitude';
  let altitudeFt = figures * 100;
  if (text.endsWith('M')) altitudeFt = Math.round(ftFromM(figures));
  else if (text.endsWith('FT')) altitudeFt = figures;
  return altitudeFt <= HIGHEST_FT ? { kind, altitudeFt } : undefined;
}

export interface FreezingRange {
  readonly lowestFt: number;
  readonly highestFt: number;
}

/** Takes the sentence that tells how high the freezing level is; undefined, without moving, for another. */
export function takeFreezingRange(scanner: Scanner): FreezingRange | undefined {
  const start = scanner.offset;
  const match = scanner.take(FREEZING_RANGE);
  const firstFt = freezingFt(match?.[1] ?? '');
  const secondFt = freezingFt(match?.[2] ?? match?.[1] ?? '');
  if (firstFt === undefined || secondFt === undefined) {
    scanner.offset = start;
    return undefined;
  }
  return { lowestFt: Math.min(firstFt, secondFt), highestFt: Math.max(firstFt, secondFt) };
}

/** No air of 0 degrees Celsius is met above this height; a greater figure is a typing fault. */
const HIGHEST_FREEZING_FT = 25_000;

/** ft of `SFC` or of three figures in hundreds; undefined for others and for heights where it always freezes. */
export function freezingFt(text: string): number | undefined {
  if (text === 'SFC') return 0;
  const feet = /^\d{3}$/.test(text) ? Number(text) * 100 : Number.NaN;
  return feet <= HIGHEST_FREEZING_FT ? feet : undefined;
}

/** Levels whose freezing level, if they have one, lies in the range given. */
export function withFreezingRange(
  band: LevelBand | undefined,
  range: FreezingRange | undefined,
): LevelBand | undefined {
  if (band === undefined || range === undefined) return band;
  const filled = (level: WarningLevel): WarningLevel =>
    level.kind === 'freezing-level' ? { kind: 'freezing-level', ...range } : level;
  if (band.kind === 'layer') return { kind: 'layer', lower: filled(band.lower), upper: filled(band.upper) };
  if (band.kind === 'above') return { kind: 'above', lower: filled(band.lower) };
  if (band.kind === 'at') return { kind: 'at', level: filled(band.level) };
  return { ...band, upper: filled(band.upper) };
}
