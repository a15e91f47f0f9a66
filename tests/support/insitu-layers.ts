/**
 * Research flights as 100 m layers of every climb and descent: temperature, dew point, and the liquid water measured there.
 *
 * Files are 1 Hz text of 13 columns: time, phase, liquid and total water of the hot-wire probe (3, 4; g/m3), liquid water and
 * number of the droplet probe (5 and 7; g/m3, 1/cm3) and of a second one (6, 8), icing-detector voltage, altitude, true
 * airspeed, temperature, dew point (10 to 13). Altitude spikes, taxi and level legs are dropped.
 */
import { readFileSync } from 'node:fs';

export interface FlightLayer {
  readonly heightM: number;
  readonly temperatureC: number;
  readonly dewPointC: number;
  /** Mean over the layer's seconds, hot-wire probe. */
  readonly liquidWaterGPerM3: number;
  /** Means over the layer's seconds, droplet probe. */
  readonly dropletWaterGPerM3: number;
  readonly dropletsPerCm3: number;
}

interface Second {
  readonly timeS: number;
  readonly heightM: number;
  readonly temperatureC: number;
  readonly dewPointC: number;
  readonly waterGPerM3: number;
  readonly dropletWaterGPerM3: number;
  readonly dropletsPerCm3: number;
}

const HALF_WINDOW_S = 30;
const LAYER_M = 100;
/** A climb or descent shorter than this is no profile. */
const LEAST_DEPTH_M = 500;
const LEAST_SECONDS = 5;
/** Dew point in cloud may exceed temperature by an instrument error; it is capped here. */
const MOST_OVER_K = 0.5;

/** @returns the layers of each climb or descent, lowest first. */
export function flightProfiles(path: string): FlightLayer[][] {
  const seconds = readSeconds(path);
  return profileRuns(seconds)
    .filter((run) => depthM(run) >= LEAST_DEPTH_M)
    .map(layersOf);
}

function readSeconds(path: string): Second[] {
  return readFileSync(path, 'latin1')
    .split(/\r?\n/)
    .flatMap((line) => {
      const words = line.trim().split(/\s+/);
      if (words.length !== 13 || !/^\d+$/.test(words[0]!)) return [];
      const value = words.map(Number);
      if (value.some((each) => Number.isNaN(each))) return [];
      const [heightM, speed, temperatureC, dewPointC] = value.slice(9) as [number, number, number, number];
      const isFlown = heightM > 0 && heightM < 9000 && speed > 50;
      const isAir = temperatureC > -60 && temperatureC < 40 && dewPointC > -80 && dewPointC < 40;
      if (!isFlown || !isAir) return [];
      const clock = value[0]!;
      const timeS = Math.floor(clock / 10_000) * 3600 + (Math.floor(clock / 100) % 100) * 60 + (clock % 100);
      const droplets = { dropletWaterGPerM3: value[4]!, dropletsPerCm3: value[6]! };
      return [{ timeS, heightM, temperatureC, dewPointC, waterGPerM3: Math.max(0, value[2]!), ...droplets }];
    });
}

/** Runs of one direction at more than 1 m/s, without gaps of more than 20 s. */
function profileRuns(seconds: readonly Second[]): Second[][] {
  const runs: Second[][] = [];
  let direction = 0;
  let run: Second[] = [];
  const close = () => {
    if (direction !== 0) runs.push(run);
    run = [];
    direction = 0;
  };
  seconds.forEach((second, index) => {
    const now = Math.trunc(Math.sign(climbMps(seconds, index)));
    const last = run.at(-1);
    if (direction !== 0 && (now !== direction || second.timeS - last!.timeS > 20)) close();
    if (now === 0) return;
    direction = now;
    run.push(second);
  });
  close();
  return runs;
}

/** Mean climb over a minute, 0 within 1 m/s. */
function climbMps(seconds: readonly Second[], index: number): number {
  const before = seconds[index - HALF_WINDOW_S];
  const after = seconds[index + HALF_WINDOW_S];
  if (before === undefined || after === undefined) return 0;
  const spanS = after.timeS - before.timeS;
  if (!(spanS > 0 && spanS < 200)) return 0;
  const mps = (after.heightM - before.heightM) / spanS;
  return Math.abs(mps) > 1 ? mps : 0;
}

function depthM(run: readonly Second[]): number {
  const heights = run.map((second) => second.heightM);
  return Math.max(...heights) - Math.min(...heights);
}

function layersOf(run: readonly Second[]): FlightLayer[] {
  const bins = new Map<number, Second[]>();
  for (const second of run) {
    const bin = Math.floor(second.heightM / LAYER_M);
    bins.set(bin, [...(bins.get(bin) ?? []), second]);
  }
  return [...bins.entries()]
    .filter(([, members]) => members.length >= LEAST_SECONDS)
    .sort(([a], [b]) => a - b)
    .map(([bin, members]) => {
      const mean = (at: (second: Second) => number) =>
        members.reduce((sum, second) => sum + at(second), 0) / members.length;
      const temperatureC = mean((second) => second.temperatureC);
      return {
        heightM: (bin + 0.5) * LAYER_M,
        temperatureC,
        dewPointC: Math.min(
          mean((second) => second.dewPointC),
          temperatureC + MOST_OVER_K,
        ),
        liquidWaterGPerM3: mean((second) => second.waterGPerM3),
        dropletWaterGPerM3: mean((second) => second.dropletWaterGPerM3),
        dropletsPerCm3: mean((second) => second.dropletsPerCm3),
      };
    });
}
