/** From pooled water to ice: drop size, catch, freezing, growth, intensity, kind and envelope of every cell. */
import { envelopeRatio } from './certified-envelope.ts';
import {
  type AltitudeAxis,
  CELL_STATE,
  type DiagnosisSettings,
  ICE_KIND,
  type IcingColumns,
} from './columns.ts';
import { medianVolumeDiameterM } from './droplets.ts';
import { type Accretion, accrete, leadingEdge, makeAccretion, type Part, rod } from './growth.ts';
import { airColdK, dropColdK } from './heat-balance.ts';
import { iceKindOf } from './ice-kind.ts';
import { emptyIcingColumns } from './icing-columns.ts';
import { type Impact, makeImpact } from './impact.ts';
import { intensityOfGrowth, screenedGrowthMps, withLargeDrops } from './intensity.ts';
import type { PooledWater } from './pool-columns.ts';
import { mixedDiameterM, RAIN_DIAMETER_M, RAIN_RATE_MM_PER_H, rainWaterKgPerM3 } from './rain.ts';
import { pressureAltitudeMFromPressurePa } from './standard-atmosphere.ts';

/** Below this probability there is no water to give amounts of. */
const NEGLIGIBLE_PROBABILITY = 0.005;

export const RAIN_WATER_KG_PER_M3 = rainWaterKgPerM3(RAIN_RATE_MM_PER_H);

interface Workbench {
  readonly axis: AltitudeAxis;
  readonly settings: DiagnosisSettings;
  readonly pressureAltitudeM: Float64Array;
  readonly wing: Part;
  readonly rod: Part;
  readonly impact: Impact;
  readonly onWing: Accretion;
  readonly onRod: Accretion;
}

/**
 * Growth on the wing and the rod in every cell, given that it holds supercooled water.
 *
 * @param water     See pool-columns.ts.
 * @param axis      Of the water.
 * @param settings  Speeds at every cell, the parts' radii and the droplet number.
 * @returns         Icing on the same axis; where probability is negligible the amounts are 0.
 * @throws          RangeError when there is not one speed a cell, or a setting is not a positive number.
 * @checked         tests/science/diagnose-columns.test.ts
 */
export function growIce(water: PooledWater, axis: AltitudeAxis, settings: DiagnosisSettings): IcingColumns {
  assertSettings(settings, axis.cellCount);
  const columnCount = water.state.length / axis.cellCount;
  const icing = emptyIcingColumns(axis, columnCount);
  icing.state.set(water.state);
  const bench: Workbench = {
    axis,
    settings,
    pressureAltitudeM: axis.middlePressurePa.map(pressureAltitudeMFromPressurePa),
    wing: leadingEdge(settings.wingNoseRadiusM),
    rod: rod(settings.rodRadiusM),
    impact: makeImpact(),
    onWing: makeAccretion(),
    onRod: makeAccretion(),
  };
  for (let index = 0; index < water.state.length; index += 1) {
    if (water.state[index] !== CELL_STATE.known) continue;
    const { impact } = bench;
    loadImpact(bench, water, index);
    accreteBoth(bench);
    icing.cloudProbability[index] = water.cloudProbability[index]!;
    icing.icingProbability[index] = water.icingProbability[index]!;
    icing.largeDropProbability[index] = water.largeDropProbability[index]!;
    icing.largeDrops[index] = water.largeDrops[index]!;
    icing.liquidWaterKgPerM3[index] = impact.liquidWaterKgPerM3;
    icing.medianVolumeDiameterM[index] = impact.diameterM;
    writeGrowth(bench, icing, index);
  }
  return icing;
}

/** A speed or size that is not a number would read as no growth further on, so it is refused here. */
function assertSettings(settings: DiagnosisSettings, cellCount: number): void {
  const { trueAirspeedMps, wingNoseRadiusM, rodRadiusM, dropletNumberPerM3 } = settings;
  if (trueAirspeedMps.length !== cellCount) {
    throw new RangeError(`trueAirspeedMps: found ${trueAirspeedMps.length} speeds, expected ${cellCount}`);
  }
  const wrong = [...trueAirspeedMps, wingNoseRadiusM, rodRadiusM, dropletNumberPerM3].find(
    (value) => !(value > 0 && value < Number.POSITIVE_INFINITY),
  );
  if (wrong !== undefined)
    throw new RangeError(`diagnosis settings: found ${wrong}, expected positive numbers`);
}

/**
 * Raindrops where a fair share of the sources sees freezing rain, else cloud drops: a mean of the two is neither. A model's own
 * rain counts beside cloud, and without a warm layer makes the drops larger as it is part of the water.
 */
function loadImpact({ axis, settings, impact }: Workbench, water: PooledWater, index: number): void {
  const cell = index % axis.cellCount;
  const isWet = water.icingProbability[index]! >= NEGLIGIBLE_PROBABILITY;
  const cloudWater = isWet ? water.cloudWaterKgPerM3[index]! : 0;
  const isRain = isWet && water.isRain[index] === 1;
  const rainWater = isWet ? water.rainWaterKgPerM3[index]! : 0;
  const together = cloudWater + rainWater;
  impact.liquidWaterKgPerM3 = isRain ? Math.max(together, RAIN_WATER_KG_PER_M3) : together;
  if (isRain) impact.diameterM = RAIN_DIAMETER_M;
  else {
    const ofCloudM = cloudWater > 0 ? medianVolumeDiameterM(cloudWater, settings.dropletNumberPerM3) : 0;
    impact.diameterM = rainWater > 0 ? mixedDiameterM(cloudWater, ofCloudM, rainWater) : ofCloudM;
  }
  impact.pressurePa = axis.middlePressurePa[cell]!;
  impact.trueAirspeedMps = settings.trueAirspeedMps[cell]!;
  impact.temperatureK = water.coldK[index]!;
}

function accreteBoth({ impact, wing, rod: rodPart, onWing, onRod }: Workbench): void {
  if (impact.liquidWaterKgPerM3 > 0) {
    impact.dropColdK = dropColdK(impact.temperatureK, impact.trueAirspeedMps);
    impact.airColdK = airColdK(impact.temperatureK, impact.pressurePa, impact.trueAirspeedMps);
    accrete(impact, wing, onWing);
    accrete(impact, rodPart, onRod);
    return;
  }
  stopAccretion(onWing);
  stopAccretion(onRod);
}

function stopAccretion(accretion: Accretion): void {
  accretion.efficiency = 0;
  accretion.catchKgPerM2S = 0;
  accretion.freezingFraction = 0;
  accretion.growthMps = 0;
}

function writeGrowth(bench: Workbench, icing: IcingColumns, index: number): void {
  const { impact, onWing, onRod } = bench;
  const { catchKgPerM2S: caught, freezingFraction } = onWing;
  icing.collectionEfficiency[index] = onWing.efficiency;
  icing.freezingFraction[index] = freezingFraction;
  icing.wingGrowthMps[index] = onWing.growthMps;
  icing.rodGrowthMps[index] = onRod.growthMps;
  icing.wingCatchKgPerM2S[index] = caught;
  const intensity = intensityOfGrowth(screenedGrowthMps(caught, freezingFraction));
  icing.intensity[index] = withLargeDrops(intensity, icing.largeDrops[index]!);
  icing.iceKind[index] = caught > 0 ? iceKindOf(freezingFraction) : ICE_KIND.none;
  icing.envelopeRatio[index] = envelopeRatio(
    impact.liquidWaterKgPerM3,
    impact.diameterM,
    impact.temperatureK,
    bench.pressureAltitudeM[index % bench.axis.cellCount]!,
  );
}
