/** An invented curtain and the stages of its physics, to be run many times in Node and in workerd. */
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import type { DiagnosisSettings, Profile } from '../../worker/science/columns.ts';
import { diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { drawIcing } from '../../worker/science/draw-icing.ts';
import { forecastErrors } from '../../worker/science/error-spreads.ts';
import { EXACT, listPointSources } from '../../worker/science/point-sources.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';

const LEVELS = 26;
const SPACING_M = 9000;
const LEAD_MS = 6 * 3_600_000;

/** A deck whose height changes along the route. */
function profileAt(point: number): Profile {
  const column = (at: (level: number) => number) =>
    Float64Array.from({ length: LEVELS }, (_, level) => at(level));
  const missing = column(() => Number.NaN);
  return {
    levelCount: LEVELS,
    pressurePa: column((level) => 101_000 - level * 3000),
    geopotentialHeightM: column((level) => level * 330),
    temperatureK: column((level) => 270 - level * 1.8),
    relativeHumidityRatio: column((level) => (level > 2 && level < 8 + (point % 5) ? 0.99 : 0.4)),
    windEastMps: column((level) => level),
    windNorthMps: column(() => 2),
    verticalVelocityPaPerS: missing,
    condensateKgPerKg: missing,
    condensateBasis: 'none',
    surfaceHeightM: 0,
  };
}

/** Each stage again and again; each gives a number that depends on all of its work. */
export interface CurtainStages {
  readonly columns: () => number;
  readonly physics: () => number;
  readonly draws: () => number;
}

export function makeStages(points: number, cells: number): CurtainStages {
  const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 9000 / cells, cellCount: cells });
  const profiles = Array.from({ length: points }, (_, point) => profileAt(point));
  const errors = forecastErrors(LEAD_MS);
  const sources = listPointSources({ pointCount: points, sourceCount: points }, (point, source) =>
    point === source ? { ...EXACT, errors } : undefined,
  );
  const settings: DiagnosisSettings = {
    trueAirspeedMps: new Float64Array(cells).fill(85),
    wingNoseRadiusM: 0.02,
    rodRadiusM: 0.006,
    dropletNumberPerM3: 150e6,
  };
  const distanceM = Float64Array.from({ length: points }, (_, point) => point * SPACING_M);
  const weather = weatherColumnsFromProfiles(profiles, axis);
  const pooled = diagnoseSources(weather, sources, settings);
  const columns = { weather, evidence: pooled.evidence };
  return {
    columns: () => sumKnown(weatherColumnsFromProfiles(profiles, axis).temperatureK),
    physics: () => sumKnown(diagnoseSources(weather, sources, settings).icing.icingProbability),
    draws: () => sumKnown(drawIcing({ columns, sources, pooled, settings, distanceM }).growthMps) * 1e6,
  };
}

function sumKnown(values: Float32Array): number {
  return values.reduce((sum, each) => sum + (Number.isNaN(each) ? 0 : each), 0);
}
