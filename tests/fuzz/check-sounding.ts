/** What every ascent must hold to, whatever text it was read from. */
import type { Sounding } from '../../worker/formats/sounding.ts';

const LIMITS = {
  pressurePa: [100, 110_000],
  geopotentialHeightM: [-500, 50_000],
  temperatureK: [173.15, 333.15],
  dewPointK: [123.15, 333.15],
  windDirectionDeg: [0, 360],
  windSpeedMps: [0, 150],
} as const;
const ROUNDING = 1e-6;
const MOST_FROM_NOMINAL_MS = 3 * 3_600_000;

/** @throws Error for a value that no ascent has, pressures out of order, columns of unlike length, a line outside the text. */
export function checkSounding(sounding: Sounding, lineCount: number): void {
  const { levels, timeMs, releaseMs, latDeg, lonDeg } = sounding;
  if (!(Math.abs(latDeg) <= 90 && lonDeg >= -180 && lonDeg < 180)) throw new Error(`at ${latDeg}, ${lonDeg}`);
  if (!Number.isNaN(releaseMs) && !(Math.abs(releaseMs - timeMs) <= MOST_FROM_NOMINAL_MS))
    throw new Error(`released ${releaseMs - timeMs} ms from the nominal time`);
  for (const [name, [least, most]] of Object.entries(LIMITS) as [keyof typeof LIMITS, [number, number]][]) {
    const column = levels[name];
    if (column.length !== levels.levelCount) throw new Error(`${name}: ${column.length} values`);
    const bad = column.find((value) => value < least - ROUNDING || value > most + ROUNDING);
    if (bad !== undefined) throw new Error(`${name}: ${bad}`);
  }
  for (let level = 0; level < levels.levelCount; level += 1) {
    const isOrdered = level === 0 || levels.pressurePa[level]! < levels.pressurePa[level - 1]!;
    if (!isOrdered) throw new Error(`pressure ${levels.pressurePa[level]} out of order`);
    const isMoist = levels.dewPointK[level]! > levels.temperatureK[level]! + 0.5 + ROUNDING;
    if (isMoist) throw new Error(`dew point ${levels.dewPointK[level]} over ${levels.temperatureK[level]}`);
  }
  for (const { line } of sounding.rejected) {
    if (!(line >= 1 && line <= lineCount)) throw new Error(`line ${line} of ${lineCount}`);
  }
}
