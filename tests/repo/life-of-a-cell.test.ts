/** DEVELOPERS.md follows one cell through the physics: the numbers printed there are those the code gives today. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { profileOfSounding } from '../../worker/brief/sounding-profile.ts';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { drawIcing } from '../../worker/science/draw-icing.ts';
import { soundingErrors } from '../../worker/science/error-spreads.ts';
import { listPointSources } from '../../worker/science/point-sources.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { ascentOf } from '../support/sample-scenario.ts';

const CELL = 13;
const DISTANCE_M = 50_000;
const AGE_MS = 3_600_000;

/** Every number of the table, by the words it stands beside. */
function followed(): Record<string, string> {
  const axis = makeAltitudeAxis({ lowestM: mFromFt(-250), cellDepthM: mFromFt(500), cellCount: 40 });
  const weather = weatherColumnsFromProfiles([profileOfSounding(ascentOf('00901', 12))], axis);
  const errors = soundingErrors(DISTANCE_M, AGE_MS);
  const sources = listPointSources({ pointCount: 1, sourceCount: 1 }, () => ({
    humidity: 1,
    temperature: 1,
    errors,
  }));
  const settings = {
    trueAirspeedMps: new Float64Array(axis.cellCount).fill(80),
    wingNoseRadiusM: 0.02,
    rodRadiusM: 0.006,
    dropletNumberPerM3: 150e6,
  };
  const { icing, evidence } = diagnoseSources(weather, sources, settings);
  const drawn = drawIcing({
    columns: { weather, evidence },
    sources,
    pooled: { weather, icing },
    settings,
    distanceM: Float64Array.of(0),
  });
  const at = (values: Float32Array) => values[CELL]!;
  const chance = (values: Float32Array) => at(values).toFixed(2);
  return {
    'temperature, °C': (at(weather.temperatureK) - 273.15).toFixed(1),
    'humidity over water, %': (at(weather.relativeHumidityRatio) * 100).toFixed(1),
    'margin, widths': at(evidence.liquidMargin).toFixed(2),
    'P(liquid, given cloud)': chance(evidence.humidityLiquid),
    'water given liquid, g/m³': (at(evidence.humidityWaterKgPerM3) * 1000).toFixed(3),
    'error of humidity, %': (errors.humidityRatio * 100).toFixed(1),
    'error of temperature, K': errors.temperatureK.toFixed(2),
    'P(cloud)': chance(icing.cloudProbability),
    'P(ice)': chance(icing.icingProbability),
    'median volume diameter, µm': (at(icing.medianVolumeDiameterM) * 1e6).toFixed(1),
    'collection efficiency': chance(icing.collectionEfficiency),
    'freezing fraction': chance(icing.freezingFraction),
    'growth on the wing, mm/min': (at(icing.wingGrowthMps) * 60_000).toFixed(2),
    'over the envelope, ratio': at(icing.envelopeRatio).toFixed(2),
    'light or worse': chance(drawn.probabilityAtLeast.light),
    'moderate or worse': chance(drawn.probabilityAtLeast.moderate),
    severe: chance(drawn.probabilityAtLeast.severe),
  };
}

it('the table of DEVELOPERS.md holds every number of the cell as the code gives it', () => {
  const text = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
  for (const [words, value] of Object.entries(followed())) {
    expect(text, `${words}: ${value}`).toContain(`| ${words} | ${value} |`);
  }
});
