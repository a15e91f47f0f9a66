/**
 * The column diagnosis beside liquid water measured on research flights. It sees the aircraft's own temperature and dew
 * point, so this is skill of the diagnosis, not of a forecast; five flights of two campaigns are few.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { relativeHumidityRatioFromDewPoint } from '../../worker/science/humidity.ts';
import { columnFromLevels } from '../../worker/science/level-column.ts';
import { pressurePaFromPressureAltitudeM } from '../../worker/science/standard-atmosphere.ts';
import { kFromC } from '../../worker/science/units.ts';
import { type FlightLayer, flightProfiles } from '../support/insitu-layers.ts';

/** Measured truth, g/m3: liquid above, none at or under; between them a layer is not scored. */
const LIQUID_ABOVE = 0.02;
const NONE_UNDER = 0.005;

/** A layer whose mean is 0 degrees C is not cold; summing leaves dust. */
const SUM_DUST_K = 1e-9;

interface Scored {
  readonly flight: string;
  readonly measured: number;
  readonly probability: number;
}

const folder = join(process.env.RIMEWAY_DATA_DIR ?? '', 'reports/insitu');
let layers: Scored[] = [];

function diagnose(flight: string, profile: readonly FlightLayer[]): Scored[] {
  const column = (at: (layer: FlightLayer) => number) => Float64Array.from(profile, at);
  const missing = () => new Float64Array(profile.length).fill(Number.NaN);
  const weather = columnFromLevels({
    levelCount: profile.length,
    pressurePa: column((layer) => pressurePaFromPressureAltitudeM(layer.heightM)),
    geopotentialHeightM: column((layer) => layer.heightM),
    temperatureK: column((layer) => kFromC(layer.temperatureC)),
    relativeHumidityRatio: column((layer) =>
      relativeHumidityRatioFromDewPoint(kFromC(layer.temperatureC), kFromC(layer.dewPointC)),
    ),
    windEastMps: missing(),
    windNorthMps: missing(),
    verticalVelocityPaPerS: missing(),
    condensateKgPerKg: missing(),
    condensateBasis: 'none',
    surfaceHeightM: Number.NaN,
  });
  const icing = diagnoseColumns(weather, {
    trueAirspeedMps: new Float64Array(profile.length).fill(90),
    wingNoseRadiusM: 0.02,
    rodRadiusM: 0.006,
    dropletNumberPerM3: 60e6,
  });
  return profile.flatMap((layer, cell) =>
    layer.temperatureC < -SUM_DUST_K
      ? [{ flight, measured: layer.liquidWaterGPerM3, probability: icing.icingProbability[cell]! }]
      : [],
  );
}

/** Chance that a wet layer is given more than a dry one; ties count half. */
function areaUnderRoc(scored: readonly Scored[]): number {
  const wet = scored.filter(({ measured }) => measured > LIQUID_ABOVE);
  const dry = scored.filter(({ measured }) => measured <= NONE_UNDER);
  let wins = 0;
  for (const a of wet) {
    for (const b of dry) {
      if (a.probability > b.probability) wins += 1;
      else if (a.probability === b.probability) wins += 0.5;
    }
  }
  return wins / (wet.length * dry.length);
}

const share = (values: readonly Scored[], threshold: number) =>
  values.filter(({ probability }) => probability >= threshold).length / values.length;

beforeAll(() => {
  const files = readdirSync(folder).filter((name) => name.endsWith('.dat'));
  layers = files.flatMap((name) =>
    flightProfiles(join(folder, name)).flatMap((profile) => diagnose(name, profile)),
  );
});

describe('the column diagnosis on five research flights', () => {
  it('is scored on every cold layer that the flights give, none without a probability', () => {
    expect(layers).toHaveLength(955);
    expect(layers.every(({ probability }) => Number.isFinite(probability))).toBe(true);
    expect(new Set(layers.map(({ flight }) => flight)).size).toBe(5);
  });

  it('tells wet layers from dry ones better than humidity alone does (area under the curve 0.924)', () => {
    const area = areaUnderRoc(layers);
    const byFlight = [...new Set(layers.map(({ flight }) => flight))].map(
      (flight) => `${flight} ${areaUnderRoc(layers.filter((layer) => layer.flight === flight)).toFixed(3)}`,
    );
    process.stdout.write(`area under the curve ${area.toFixed(3)}; ${byFlight.join(', ')}\n`);
    expect(area).toBeGreaterThanOrEqual(0.95);
  });

  it('has more true skill at 0.4 than the best simple rule (0.75) at no larger volume', () => {
    const wet = layers.filter(({ measured }) => measured > LIQUID_ABOVE);
    const dry = layers.filter(({ measured }) => measured <= NONE_UNDER);
    const skill = share(wet, 0.4) - share(dry, 0.4);
    const volume = share(layers, 0.4);
    process.stdout.write(`true skill ${skill.toFixed(3)}, volume ${volume.toFixed(3)}\n`);
    expect(skill).toBeGreaterThan(0.75);
    expect(volume).toBeLessThan(0.45);
  });
});
