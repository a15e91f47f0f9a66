/** Growth on the wing for many draws of water, drop size and temperature in one cell: all else is worked out once. */
import { airViscosityPaS, modifiedInertia, rangeRatio, stagnationEfficiency } from './collection.ts';
import { CELL_STATE, type DiagnosisSettings, type IcingColumns, type WeatherColumns } from './columns.ts';
import {
  DRY_AIR_GAS_CONSTANT,
  FREEZING_K,
  WATER_DENSITY_KG_PER_M3,
  WATER_HEAT_CAPACITY,
} from './constants.ts';
import { leadingEdge, thicknessRateMps } from './growth.ts';
import { airColdK, convectionWPerM2K, dropColdK, freezingFraction } from './heat-balance.ts';
import { makeImpact } from './impact.ts';

/** Flat arrays [point][cell], at the cell's temperature or, where that is warmer, at 0 degC; 0 where the cell is not known. */
export interface GrowthTables {
  readonly temperatureK: Float64Array;
  readonly trueAirspeedMps: Float64Array;
  /** Inertia parameter of a drop of 1 m, and its Reynolds number: they go with the square and with the diameter. */
  readonly inertiaPerM2: Float64Array;
  readonly reynoldsPerM: Float64Array;
  readonly convectionWPerM2K: Float64Array;
  readonly airColdK: Float64Array;
  /** Change of airColdK for each K that the air is warmer. */
  readonly airColdPerK: Float64Array;
}

/** What one draw meets; filled anew for each. */
export interface DrawnGrowth {
  catchKgPerM2S: number;
  freezingFraction: number;
  growthMps: number;
}

/** Step of the difference that gives airColdPerK. */
const STEP_K = 1;

export function makeGrowthTables(
  { weather, icing }: { readonly weather: WeatherColumns; readonly icing: IcingColumns },
  settings: DiagnosisSettings,
): GrowthTables {
  const { cellCount, middlePressurePa } = icing.axis;
  const count = icing.state.length;
  const zeros = () => new Float64Array(count);
  const tables: GrowthTables = {
    temperatureK: zeros(),
    trueAirspeedMps: zeros(),
    inertiaPerM2: zeros(),
    reynoldsPerM: zeros(),
    convectionWPerM2K: zeros(),
    airColdK: zeros(),
    airColdPerK: zeros(),
  };
  const impact = makeImpact();
  const part = leadingEdge(settings.wingNoseRadiusM);
  for (let index = 0; index < count; index += 1) {
    if (icing.state[index] !== CELL_STATE.known) continue;
    const cell = index % cellCount;
    const temperatureK = Math.min(weather.temperatureK[index]!, FREEZING_K);
    const speedMps = settings.trueAirspeedMps[cell]!;
    const viscosityPaS = airViscosityPaS(temperatureK);
    impact.pressurePa = middlePressurePa[cell]!;
    impact.temperatureK = temperatureK;
    impact.trueAirspeedMps = speedMps;
    const coldK = airColdK(temperatureK, impact.pressurePa, speedMps);
    tables.temperatureK[index] = temperatureK;
    tables.trueAirspeedMps[index] = speedMps;
    tables.inertiaPerM2[index] =
      (WATER_DENSITY_KG_PER_M3 * speedMps) / (18 * viscosityPaS * part.catchRadiusM);
    tables.reynoldsPerM[index] =
      (impact.pressurePa * speedMps) / (DRY_AIR_GAS_CONSTANT * temperatureK * viscosityPaS);
    tables.convectionWPerM2K[index] = convectionWPerM2K(impact, part.heatDiameterM);
    tables.airColdK[index] = coldK;
    tables.airColdPerK[index] =
      (coldK - airColdK(temperatureK - STEP_K, impact.pressurePa, speedMps)) / STEP_K;
  }
  return tables;
}

/**
 * Growth in one cell of one draw. The same equations as accrete() in growth.ts, whose air properties are held at the cell's
 * own temperature: within 2 % for errors of temperature to 4 K.
 *
 * @param tables  Of the curtain.
 * @param index   [point][cell].
 * @param drawn   Temperature, K, below 0 degC; water, kg/m3, positive; median volume diameter, m.
 * @param result  Filled.
 * @checked       tests/science/draw-icing.test.ts
 */
export function growDrawn(
  tables: GrowthTables,
  index: number,
  drawn: { readonly temperatureK: number; readonly waterKgPerM3: number; readonly diameterM: number },
  result: DrawnGrowth,
): void {
  const speedMps = tables.trueAirspeedMps[index]!;
  const inertia = tables.inertiaPerM2[index]! * drawn.diameterM * drawn.diameterM;
  const range = rangeRatio(tables.reynoldsPerM[index]! * drawn.diameterM);
  const caught = drawn.waterKgPerM3 * speedMps * stagnationEfficiency(modifiedInertia(inertia, range));
  const warmerK = drawn.temperatureK - tables.temperatureK[index]!;
  const heatRatio = (caught * WATER_HEAT_CAPACITY) / tables.convectionWPerM2K[index]!;
  const coldOfAirK = tables.airColdK[index]! + tables.airColdPerK[index]! * warmerK;
  result.catchKgPerM2S = caught;
  result.freezingFraction =
    caught > 0 ? freezingFraction(dropColdK(drawn.temperatureK, speedMps), coldOfAirK, heatRatio) : 0;
  result.growthMps = thicknessRateMps(caught, result.freezingFraction);
}
