/** Ascents of hundreds of levels made from a seed: moist layers of all depths, inversions, sensor noise, lost values. */
import type { SoundingLevels } from '../../worker/formats/sounding.ts';
import { randomFrom } from '../fuzz/mutate-bytes.ts';

export interface RandomAscentOptions {
  readonly seed: number;
  readonly levelCount: number;
  /** Noise of dew point, K, from level to level. */
  readonly noiseK: number;
  /** Chance that a stretch of lost values begins at a level, ratio. */
  readonly lossRatio: number;
  /** Standard pressures alone up to 400 hPa, as in an ascent without significant levels. */
  readonly isStandardBelow: boolean;
}

const STANDARD_HPA = [1000, 925, 850, 700, 500, 400, 300, 250, 200, 150, 100];
const STANDARD_BELOW = 6;

/** Levels from about 1000 hPa up, pressure falling at each; all standard pressures among them have a level. */
export function randomAscentLevels(options: RandomAscentOptions): SoundingLevels {
  const { levelCount, noiseK, lossRatio } = options;
  const random = randomFrom(options.seed);
  const unit = () => random.below(1_000_000) / 1_000_000;
  const pressurePa = pressures(options, unit);
  const column = () => new Float64Array(levelCount).fill(Number.NaN);
  const levels = {
    levelCount,
    pressurePa,
    geopotentialHeightM: column(),
    temperatureK: column(),
    dewPointK: column(),
    windDirectionDeg: column(),
    windSpeedMps: column(),
  };
  let temperatureK = 265 + 20 * unit();
  let lapse = 0.0065;
  let depressionK = 5;
  let towardK = 5;
  let heightM = 100;
  let directionDeg = 360 * unit();
  let speedMps = 5;
  let lostLevels = 0;
  let lostKind = 0;
  for (let level = 0; level < levelCount; level += 1) {
    const belowPa = pressurePa[Math.max(0, level - 1)]!;
    const riseM = 29.27 * temperatureK * Math.log(belowPa / pressurePa[level]!);
    heightM += riseM;
    temperatureK = Math.max(190, temperatureK - lapse * riseM);
    depressionK += (towardK - depressionK) * Math.min(1, riseM / 60);
    if (unit() < riseM / 800) lapse = -0.02 + 0.03 * unit();
    if (unit() < riseM / 400) towardK = unit() < 0.4 ? 0.3 * unit() : 20 * unit() ** 2;
    directionDeg = (directionDeg + 360 + 0.3 * riseM * (unit() - 0.5)) % 360;
    speedMps = Math.min(60, Math.max(0, speedMps + 0.05 * riseM * (unit() - 0.47)));
    if (lostLevels === 0 && unit() < lossRatio) {
      lostLevels = 1 + random.below(12);
      lostKind = random.below(5);
    }
    const isLost = lostLevels > 0;
    lostLevels = Math.max(0, lostLevels - 1);
    const noisyK = Math.max(-0.2, depressionK + noiseK * (unit() - 0.5));
    const gustMps = unit() < riseM / 1000 ? 8 : 0;
    const kept = (...kinds: number[]) => !isLost || !kinds.includes(lostKind);
    const hundredths = (value: number) => Math.round(value * 100) / 100;
    // Kind 0 loses all, 1 and 2 the air or its humidity, 3 the wind; 4 leaves a wind level.
    if (kept(0, 1, 4)) levels.temperatureK[level] = hundredths(temperatureK);
    if (kept(0, 1, 2, 4)) levels.dewPointK[level] = hundredths(temperatureK - noisyK);
    if (kept(0, 3)) levels.windDirectionDeg[level] = Math.round(directionDeg);
    if (kept(0, 3)) levels.windSpeedMps[level] = Math.round((speedMps + gustMps) * 10) / 10;
    if (kept(0, 4)) levels.geopotentialHeightM[level] = Math.round(heightM);
  }
  return levels;
}

function pressures({ levelCount, isStandardBelow }: RandomAscentOptions, unit: () => number): Float64Array {
  const stepPa = 90_000 / levelCount;
  const free = (count: number, fromPa: number, step: number) => {
    let pressurePa = fromPa;
    return Array.from({ length: count }, () => {
      pressurePa -= Math.min(step * (0.2 + 1.6 * unit()), pressurePa / 20);
      return Math.round(pressurePa * 10) / 10;
    });
  };
  if (!isStandardBelow) return withStandard(free(levelCount, 100_300, stepPa));
  const low = STANDARD_HPA.slice(0, STANDARD_BELOW).map((hPa) => hPa * 100);
  return withStandard([...low, ...free(levelCount - low.length, 39_990, 36_000 / levelCount)]);
}

/** The level nearest to each standard pressure put on it. */
function withStandard(pressuresPa: readonly number[]): Float64Array {
  const result = Float64Array.from(pressuresPa);
  for (const hPa of STANDARD_HPA) {
    const distances = result.map((pressurePa) => Math.abs(pressurePa - 100 * hPa));
    const nearest = distances.indexOf(Math.min(...distances));
    const isAmong = result[0]! >= 100 * hPa && result.at(-1)! <= 100 * hPa;
    if (isAmong) result[nearest] = 100 * hPa;
  }
  return result;
}
