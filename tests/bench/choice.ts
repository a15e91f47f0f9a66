/**
 * CPU of the choice of an altitude: exposures, verdicts, ranking and ways out the stepped profile and ways out for 60 points, 60
 * cells, 30 altitudes, 64 draws.
 * Run: node tests/bench/choice.ts. Prints one JSON line. The curtain is invented: a deck with holes in probability, a
 * patch without data, wind with altitude; every run reads the same one, so caches are as warm as in a busy isolate.
 */
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import { mFromFt } from '../../worker/science/units.ts';
import {
  type CellAt,
  drawsOf,
  flatMinimum,
  LIGHT_ICE,
  makeAircraft,
  makeCurtain,
  makeTestRoute,
} from '../flight/make-curtain.ts';

const WARM_UP_RUNS = 200;
const RUNS = 500;
const TARGET_MS = 10;

const mixedSky: CellAt = (point, middleFt) => {
  const wind = { windEastMps: middleFt / 1000, windNorthMps: 5 };
  if (point > 50 && middleFt > 20000) return { ...wind, state: 1 };
  const isDeck = middleFt > 4000 && middleFt < 9000 + 50 * point;
  return isDeck ? { ...LIGHT_ICE, ...wind, icingProbability: ((point * 7) % 10) / 10 } : wind;
};

const route = makeTestRoute(295);
const curtain = makeCurtain(route.pointCount, mixedSky);
/** As many as a brief has. */
const DRAWS = 64;
const input = {
  route,
  aircraft: makeAircraft(),
  ...curtain,
  drawn: drawsOf(curtain, DRAWS),
  minimum: flatMinimum(route.pointCount, 3000),
  indicatedMinusPressureM: 0,
  candidateAltitudesM: Array.from({ length: 30 }, (_, step) => mFromFt(1000 + step * 1000)),
  departureMs: Date.UTC(2026, 0, 14),
  fluidOnBoardM3: 0.08,
  hazards: [],
};

function cpuMsOfOneRun(): { cpuMs: number; recommendedM: number } {
  const before = process.cpuUsage();
  const choice = chooseAltitude(input);
  const { user, system } = process.cpuUsage(before);
  return {
    cpuMs: (user + system) / 1000,
    recommendedM: choice.recommended?.indicatedAltitudeM ?? Number.NaN,
  };
}

const coldMs = cpuMsOfOneRun().cpuMs;
for (let run = 0; run < WARM_UP_RUNS; run += 1) cpuMsOfOneRun();
const runs = Array.from({ length: RUNS }, cpuMsOfOneRun);
const sortedMs = runs.map((run) => run.cpuMs).sort((a, b) => a - b);
console.log(
  JSON.stringify({
    what: 'exposures and choice',
    points: route.pointCount,
    cells: input.icing.axis.cellCount,
    altitudes: input.candidateAltitudesM.length,
    draws: DRAWS,
    coldMs,
    medianMs: sortedMs[RUNS / 2],
    p90Ms: sortedMs[Math.floor(RUNS * 0.9)],
    meanMs: runs.reduce((sum, run) => sum + run.cpuMs, 0) / RUNS,
    targetMs: TARGET_MS,
    checksum: runs.reduce((sum, run) => sum + run.recommendedM, 0),
  }),
);
