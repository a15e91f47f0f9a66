/** The physics of a curtain, three sizes: profiles to columns, diagnosis, pooling, in Node (the engine of workerd). */
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import type { Profile } from '../../worker/science/columns.ts';
import { diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { forecastErrors, makeSourceErrors, setErrors } from '../../worker/science/error-spreads.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';

const WARM_UP = 100;
const TIMES = 300;
const LEVELS = 26;

/** An invented deck whose height changes along the route. */
function profileAt(point: number): Profile {
  const column = (at: (level: number) => number) =>
    Float64Array.from({ length: LEVELS }, (_, level) => at(level));
  const missing = column(() => Number.NaN);
  return {
    levelCount: LEVELS,
    pressurePa: column((level) => 100_000 - level * 3600),
    geopotentialHeightM: column((level) => 100 + level * 400),
    temperatureK: column((level) => 270 - level * 1.8),
    relativeHumidityRatio: column((level) => (level > 2 && level < 8 + (point % 5) ? 0.99 : 0.4)),
    windEastMps: column((level) => level),
    windNorthMps: column(() => 2),
    verticalVelocityPaPerS: missing,
    condensateKgPerKg: missing,
    condensateBasis: 'none',
    surfaceHeightM: 100,
  };
}

function runOnce(points: number, cells: number): number {
  const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 9000 / cells, cellCount: cells });
  const profiles = Array.from({ length: points }, (_, point) => profileAt(point));
  const weights = new Float64Array(points * points);
  for (let point = 0; point < points; point += 1) weights[point * points + point] = 1;
  const errors = makeSourceErrors(points * points);
  for (let point = 0; point < points; point += 1) {
    setErrors(errors, point * points + point, forecastErrors(6 * 3_600_000));
  }
  const start = performance.now();
  const weather = weatherColumnsFromProfiles(profiles, axis);
  const { icing } = diagnoseSources(
    weather,
    {
      pointCount: points,
      sourceCount: points,
      humidity: weights,
      temperature: weights,
      errors,
    },
    {
      trueAirspeedMps: new Float64Array(cells).fill(85),
      wingNoseRadiusM: 0.02,
      rodRadiusM: 0.006,
      dropletNumberPerM3: 150e6,
    },
  );
  const spent = performance.now() - start;
  checksum += icing.icingProbability.reduce((sum, each) => sum + each, 0);
  return spent;
}

let checksum = 0;
for (const [points, cells] of [
  [30, 40],
  [60, 40],
  [120, 40],
  [60, 64],
] as const) {
  const times: number[] = [];
  for (let run = 0; run < WARM_UP + TIMES; run += 1) {
    const ms = runOnce(points, cells);
    if (run >= WARM_UP) times.push(ms);
  }
  times.sort((a, b) => a - b);
  const median = times[Math.floor(TIMES / 2)]!;
  process.stdout.write(
    `${points} x ${cells} cells: ${median.toFixed(2)} ms median, ${((median * 1e6) / (points * cells)).toFixed(0)} ns a cell\n`,
  );
}
process.stdout.write(`checksum ${checksum.toFixed(3)}\n`);
