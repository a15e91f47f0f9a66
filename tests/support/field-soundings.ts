/**
 * Soundings of field projects as their groups wrote them, one second a line. No reader of the worker takes these formats; here
 * they are read as far as a profile needs.
 */
import { readFileSync } from 'node:fs';
import type { Profile } from '../../worker/science/columns.ts';
import { ruleAirFromHumidity } from './humidity-rules.ts';
import type { RawLevel } from './warm-nose.ts';

export interface FieldLevel {
  readonly pressureHPa: number;
  readonly temperatureC: number;
  /** Over liquid water. */
  readonly humidityPct: number;
}

/** Where a line has its pressure, temperature and humidity once it is split. */
interface Layout {
  readonly separator: RegExp;
  readonly words: number;
  readonly at: readonly [pressure: number, temperature: number, humidity: number];
  readonly zeroC: number;
}

/** By how the file begins: three groups, three ways. */
const LAYOUTS: readonly (readonly [RegExp, Layout])[] = [
  [/^\s*UTC_Date/, { separator: /\s+/, words: 18, at: [9, 10, 11], zeroC: 0 }],
  [/^\s*FltTime/, { separator: /\s+/, words: 9, at: [1, 2, 3], zeroC: 0 }],
  [/^\/Row\/@Altitude/, { separator: /,/, words: 20, at: [9, 13, 5], zeroC: 273.15 }],
  [/^-+\r?\n\s*PRES/, { separator: /\s+/, words: 11, at: [0, 2, 4], zeroC: 0 }],
];

/**
 * @param path  One of the files.
 * @returns     Levels with all three, pressure falling; what comes after the highest point is left out.
 * @throws      Error when the file begins like none of them.
 */
export function readFieldSounding(path: string): FieldLevel[] {
  const text = readFileSync(path, 'latin1');
  const layout = LAYOUTS.find(([beginning]) => beginning.test(text))?.[1];
  if (layout === undefined) throw new Error(`${path}: found no known heading`);
  const levels: FieldLevel[] = [];
  for (const line of text.split(/\r?\n/)) {
    const words = line.trim().split(layout.separator);
    if (words.length !== layout.words) continue;
    const [pressureHPa, temperature, humidityPct] = layout.at.map((at) => Number(words[at])) as [
      number,
      number,
      number,
    ];
    if (!Number.isFinite(pressureHPa + temperature + humidityPct)) continue;
    if (pressureHPa >= (levels.at(-1)?.pressureHPa ?? Number.POSITIVE_INFINITY)) continue;
    levels.push({ pressureHPa, temperatureC: temperature - layout.zeroC, humidityPct });
  }
  return levels;
}

/** The same as the physics takes it. */
export function profileOfLevels(levels: readonly FieldLevel[]): Profile {
  const missing = () => new Float64Array(levels.length).fill(Number.NaN);
  return {
    levelCount: levels.length,
    pressurePa: Float64Array.from(levels, ({ pressureHPa }) => pressureHPa * 100),
    geopotentialHeightM: missing(),
    temperatureK: Float64Array.from(levels, ({ temperatureC }) => temperatureC + 273.15),
    relativeHumidityRatio: Float64Array.from(levels, ({ humidityPct }) => humidityPct / 100),
    windEastMps: missing(),
    windNorthMps: missing(),
    verticalVelocityPaPerS: missing(),
    condensateKgPerKg: missing(),
    condensateBasis: 'none',
    surfaceHeightM: Number.NaN,
  };
}

/** The same as the independent classification takes it. */
export function rawLevelOf({ pressureHPa, temperatureC, humidityPct }: FieldLevel): RawLevel {
  const { depressionK } = ruleAirFromHumidity(temperatureC, Math.max(1, humidityPct));
  return { pressureHPa, temperatureC, dewPointC: temperatureC - depressionK };
}
