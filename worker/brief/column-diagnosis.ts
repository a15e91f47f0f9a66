/** One column of air diagnosed level by level with every intermediate, by the same physics as a brief. */
import { InvalidRequestError } from '../errors.ts';
import { tableValue } from '../flight/aircraft.ts';
import type { Aircraft } from '../flight/types.ts';
import type { ColumnRequest } from '../schema/column.ts';
import { type CloudLayers, findCloudLayers, makeCloudLayers } from '../science/cloud-layers.ts';
import { loadColumnAir, makeColumnAir } from '../science/column-air.ts';
import {
  CELL_STATE,
  CELL_STATE_WORDS,
  ICE_KIND_WORDS,
  type IcingColumns,
  INTENSITY_WORDS,
  LARGE_DROPS_WORDS,
  type Profile,
  type WeatherColumns,
} from '../science/columns.ts';
import { FREEZING_K } from '../science/constants.ts';
import { diagnoseColumns } from '../science/diagnose-columns.ts';
import { DROPLET_NUMBER_PER_M3 } from '../science/droplets.ts';
import {
  frostPointK,
  iceBulbK,
  relativeHumidityIceRatio,
  relativeHumidityRatioFromDewPoint,
  wetBulbK,
} from '../science/humidity.ts';
import { layerThicknessM } from '../science/hydrostatics.ts';
import { makeImpact, wholeEfficiency } from '../science/impact.ts';
import { columnFromLevels } from '../science/level-column.ts';
import { adiabaticLiquidWaterKgPerM3 } from '../science/moist-adiabat.ts';
import { saturationVaporPressureWaterPa } from '../science/saturation.ts';
import { pressureAltitudeMFromPressurePa } from '../science/standard-atmosphere.ts';
import {
  cFromK,
  ftFromM,
  gPerM3FromKgPerM3,
  hPaFromPa,
  kFromC,
  ktFromMps,
  mmPerMinFromMps,
  mpsFromKt,
  paFromHPa,
  umFromM,
} from '../science/units.ts';
import { aircraftOf } from './leg-plan.ts';
import { CAUTIONS, METHOD_VERSION } from './method.ts';
import { roundTo } from './round-to.ts';

type Level = ColumnRequest['levels'][number];

/** @throws InvalidRequestError for two levels of one pressure, or an aircraft nobody knows. */
export function diagnoseColumn(request: ColumnRequest) {
  const levels = [...request.levels].sort((a, b) => b.pressureHPa - a.pressureHPa);
  assertDistinct(levels);
  const aircraft = aircraftOf(request.aircraft);
  const profile = profileOf(levels);
  const weather = columnFromLevels(profile);
  const trueAirspeedMps = Float64Array.from(profile.pressurePa, (pressurePa) =>
    request.trueAirspeedKt === undefined ? speedAt(aircraft, pressurePa) : mpsFromKt(request.trueAirspeedKt),
  );
  const icing = diagnoseColumns(weather, {
    trueAirspeedMps,
    wingNoseRadiusM: aircraft.wingNoseRadiusM,
    rodRadiusM: aircraft.rodRadiusM,
    dropletNumberPerM3: DROPLET_NUMBER_PER_M3[request.airMass ?? 'continental'],
  });
  return {
    method: METHOD_VERSION,
    cautions: CAUTIONS.slice(0, 2),
    aircraft: aircraft.id,
    cloudLayers: cloudLayersOf(weather),
    levels: levels.map((_, level) => ({
      ...airAnswer(profile, level),
      heightFt: finiteOrNull(ftFromM(weather.geopotentialHeightM[level]!), 1),
      trueAirspeedKt: roundTo(ktFromMps(trueAirspeedMps[level]!), 0.1),
      ...icingAnswer(icing, level),
      ...rodAnswer({ profile, icing, trueAirspeedMps, rodRadiusM: aircraft.rodRadiusM }, level),
    })),
  };
}

function adiabaticAtTop(weather: WeatherColumns, layers: CloudLayers, layer: number): number {
  const base = layers.baseCell[layer]!;
  const top = layers.topCell[layer]!;
  const { middlePressurePa } = weather.axis;
  const meanK = (weather.temperatureK[base]! + weather.temperatureK[top]!) / 2;
  const depthM = layerThicknessM(middlePressurePa[base]!, middlePressurePa[top]!, meanK);
  return adiabaticLiquidWaterKgPerM3(
    { pressurePa: middlePressurePa[base]!, temperatureK: weather.temperatureK[base]! },
    depthM,
  );
}

/** Moist layers, highest first: between the lowest and the highest moist level of each. */
function cloudLayersOf(weather: WeatherColumns) {
  const air = makeColumnAir(weather.axis);
  const layers = makeCloudLayers(weather.axis.cellCount);
  loadColumnAir(air, weather, 0);
  findCloudLayers(air, layers);
  const pressureHPa = (cell: number) => roundTo(hPaFromPa(weather.axis.middlePressurePa[cell]!), 0.01);
  return Array.from({ length: layers.count }, (_, layer) => ({
    baseHPa: pressureHPa(layers.baseCell[layer]!),
    topHPa: pressureHPa(layers.topCell[layer]!),
    topTemperatureC: roundTo(cFromK(layers.topK[layer]!), 0.1),
    /** Of a parcel that rose unmixed from the lowest moist level; what mixing leaves stands at the levels. */
    adiabaticWaterAtTopGPerM3: finiteOrNull(gPerM3FromKgPerM3(adiabaticAtTop(weather, layers, layer)), 0.001),
    /** null under no known layer. */
    gapAboveFt: finiteOrNull(ftFromM(layers.gapAboveM[layer]!), 10),
  }));
}

function assertDistinct(levels: readonly Level[]): void {
  levels.forEach((level, index) => {
    if (index === 0 || level.pressureHPa < levels[index - 1]!.pressureHPa) return;
    throw new InvalidRequestError({
      field: 'levels',
      found: `two levels at ${level.pressureHPa} hPa`,
      expected: 'levels of different pressures',
    });
  });
}

function profileOf(levels: readonly Level[]): Profile {
  const column = (at: (level: Level) => number | undefined) =>
    Float64Array.from(levels, (level) => at(level) ?? Number.NaN);
  const wind = (part: (radians: number) => number) =>
    column((level) =>
      level.windDirectionDeg === undefined || level.windSpeedKt === undefined
        ? undefined
        : -mpsFromKt(level.windSpeedKt) * part((level.windDirectionDeg * Math.PI) / 180),
    );
  const hasCondensate = levels.some((level) => level.cloudWaterGPerKg !== undefined);
  return {
    levelCount: levels.length,
    pressurePa: column((level) => paFromHPa(level.pressureHPa)),
    geopotentialHeightM: column((level) => level.heightM),
    temperatureK: column((level) => kFromC(level.temperatureC)),
    relativeHumidityRatio: column(humidityRatio),
    windEastMps: wind(Math.sin),
    windNorthMps: wind(Math.cos),
    verticalVelocityPaPerS: column((level) => level.verticalVelocityPaPerS),
    condensateKgPerKg: column((level) =>
      level.cloudWaterGPerKg === undefined ? undefined : level.cloudWaterGPerKg / 1000,
    ),
    condensateBasis: hasCondensate ? 'liquid' : 'none',
    ...(levels.some((level) => level.cloudFraction !== undefined)
      ? { cloudFractionRatio: column((level) => level.cloudFraction) }
      : {}),
    surfaceHeightM: Number.NaN,
  };
}

function humidityRatio(level: Level): number | undefined {
  if (level.relativeHumidityPct !== undefined) return level.relativeHumidityPct / 100;
  if (level.dewPointC === undefined) return undefined;
  return relativeHumidityRatioFromDewPoint(kFromC(level.temperatureC), kFromC(level.dewPointC));
}

const speedAt = (aircraft: Aircraft, pressurePa: number) =>
  tableValue(aircraft.trueAirspeedMps, pressureAltitudeMFromPressurePa(pressurePa));

function airAnswer(profile: Profile, level: number) {
  const temperatureK = profile.temperatureK[level]!;
  const humidity = profile.relativeHumidityRatio[level]!;
  const pressurePa = profile.pressurePa[level]!;
  const vaporPressurePa = humidity * saturationVaporPressureWaterPa(temperatureK);
  return {
    pressureHPa: roundTo(hPaFromPa(pressurePa), 0.01),
    pressureAltitudeFt: Math.round(ftFromM(pressureAltitudeMFromPressurePa(pressurePa))),
    temperatureC: roundTo(cFromK(temperatureK), 0.01),
    relativeHumidityWaterPct: roundTo(humidity * 100, 0.1),
    relativeHumidityIcePct: finiteOrNull(relativeHumidityIceRatio(humidity, temperatureK) * 100, 0.1),
    frostPointC: finiteOrNull(cFromK(frostPointK(vaporPressurePa)), 0.01),
    iceBulbC:
      temperatureK < FREEZING_K
        ? finiteOrNull(cFromK(iceBulbK(temperatureK, humidity, pressurePa)), 0.01)
        : null,
    wetBulbC: finiteOrNull(cFromK(wetBulbK(temperatureK, humidity, pressurePa)), 0.01),
  };
}

function icingAnswer(icing: ReturnType<typeof diagnoseColumns>, level: number) {
  const state = CELL_STATE_WORDS[icing.state[level]!]!;
  if (icing.state[level] !== CELL_STATE.known) return { state };
  return {
    state,
    cloudProbability: roundTo(icing.cloudProbability[level]!, 0.001),
    icingProbability: roundTo(icing.icingProbability[level]!, 0.001),
    liquidWaterGPerM3: roundTo(gPerM3FromKgPerM3(icing.liquidWaterKgPerM3[level]!), 0.0001),
    medianVolumeDiameterUm: roundTo(umFromM(icing.medianVolumeDiameterM[level]!), 0.01),
    collectionEfficiency: roundTo(icing.collectionEfficiency[level]!, 0.0001),
    freezingFraction: roundTo(icing.freezingFraction[level]!, 0.0001),
    growthMmPerMin: roundTo(mmPerMinFromMps(icing.wingGrowthMps[level]!), 0.0001),
    rodGrowthMmPerMin: roundTo(mmPerMinFromMps(icing.rodGrowthMps[level]!), 0.0001),
    intensity: INTENSITY_WORDS[icing.intensity[level]!]!,
    iceKind: ICE_KIND_WORDS[icing.iceKind[level]!]!,
    largeDrops: LARGE_DROPS_WORDS[icing.largeDrops[level]!]!,
    largeDropProbability: roundTo(icing.largeDropProbability[level]!, 0.001),
    envelopeRatio: roundTo(icing.envelopeRatio[level]!, 0.001),
  };
}

/** How much of the water in its path the whole rod catches; only where there is water. */
function rodAnswer(
  column: {
    readonly profile: Profile;
    readonly icing: IcingColumns;
    readonly trueAirspeedMps: Float64Array;
    readonly rodRadiusM: number;
  },
  level: number,
) {
  const { profile, icing } = column;
  if (icing.state[level] !== CELL_STATE.known || !(icing.liquidWaterKgPerM3[level]! > 0)) return {};
  const impact = {
    ...makeImpact(),
    pressurePa: profile.pressurePa[level]!,
    temperatureK: profile.temperatureK[level]!,
    trueAirspeedMps: column.trueAirspeedMps[level]!,
    diameterM: icing.medianVolumeDiameterM[level]!,
  };
  return { rodOverallEfficiency: roundTo(wholeEfficiency(impact, column.rodRadiusM), 0.0001) };
}

const finiteOrNull = (value: number, step: number) => (Number.isFinite(value) ? roundTo(value, step) : null);
