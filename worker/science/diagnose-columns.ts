/** From columns of air to columns of icing: the chain of every stage, in order, one column after another. */

import { envelopeRatio } from './certified-envelope.ts';
import { fillBodyTops } from './cloud-layers.ts';
import { type ColumnAir, loadColumnAir, makeColumnAir } from './column-air.ts';
import {
  type AltitudeAxis,
  CELL_STATE,
  type DiagnosisSettings,
  ICE_KIND,
  type IcingColumns,
  type WeatherColumns,
} from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { type Accretion, accrete, leadingEdge, type Part, rod } from './growth.ts';
import { airColdK, dropColdK } from './heat-balance.ts';
import { iceKindOf } from './ice-kind.ts';
import { emptyIcingColumns } from './icing-columns.ts';
import type { Impact } from './impact.ts';
import { intensityOfGrowth, screenedGrowthMps, withRain } from './intensity.ts';
import { markFreezingDrizzle } from './large-drops.ts';
import { fillAdiabaticWater } from './liquid-water.ts';
import { pressureAltitudeMFromPressurePa } from './standard-atmosphere.ts';
import { assessWater, type CellWater, type ColumnFindings } from './supercooled-water.ts';
import { fillFreezingRain } from './warm-layer.ts';

/** Everything that is made once for a call and used again for each column. */
interface Workbench {
  readonly air: ColumnAir;
  readonly findings: ColumnFindings;
  readonly hiddenBy: Uint8Array;
  readonly largeDrops: Uint8Array;
  readonly dropletNumberPerM3: number;
  readonly trueAirspeedMps: Float64Array;
  readonly pressureAltitudeM: Float64Array;
  readonly wing: Part;
  readonly rod: Part;
  readonly water: CellWater;
  readonly impact: Impact;
  readonly onWing: Accretion;
  readonly onRod: Accretion;
}

/**
 * Diagnoses icing in every cell.
 *
 * A cell that is not known stays so, with its state. A known cell may become unknown here: where the source gives condensate
 * but not in this cell, and where unknown air above keeps freezing rain from being excluded. Only pressures of the axis are
 * used, so its cells may be irregular.
 *
 * @param weather   Columns of air.
 * @param settings  Speeds at every cell, the parts' radii and the droplet number.
 * @returns         Icing on the same axis; amounts are those given liquid.
 * @throws          RangeError when there is not one speed a cell, or a setting is not a positive number.
 * @checked         tests/science/diagnose-columns.test.ts, tests/science/poison.test.ts, tests/data/insitu.test.ts
 */
export function diagnoseColumns(weather: WeatherColumns, settings: DiagnosisSettings): IcingColumns {
  const { axis, columnCount } = weather;
  assertSettings(settings, axis.cellCount);
  const icing = emptyIcingColumns(axis, columnCount);
  const bench = makeWorkbench(axis, settings);
  for (let column = 0; column < columnCount; column += 1) {
    loadColumnAir(bench.air, weather, column);
    fillBodyTops(bench.air, bench.findings.topK);
    fillAdiabaticWater(bench.air, bench.findings.adiabatic);
    fillFreezingRain(bench.air, bench.findings.rain, bench.hiddenBy);
    bench.largeDrops.set(bench.findings.rain);
    markFreezingDrizzle(bench.air, bench.dropletNumberPerM3, bench.largeDrops);
    for (let cell = 0; cell < axis.cellCount; cell += 1) {
      diagnoseCell(bench, cell, { icing, index: column * axis.cellCount + cell });
    }
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

function makeWorkbench(axis: AltitudeAxis, settings: DiagnosisSettings): Workbench {
  const cells = () => new Float64Array(axis.cellCount);
  const nothing = () => ({ efficiency: 0, catchKgPerM2S: 0, freezingFraction: 0, growthMps: 0 });
  return {
    air: makeColumnAir(axis),
    findings: {
      topK: cells(),
      adiabatic: cells(),
      rain: new Uint8Array(axis.cellCount),
    },
    hiddenBy: new Uint8Array(axis.cellCount),
    largeDrops: new Uint8Array(axis.cellCount),
    dropletNumberPerM3: settings.dropletNumberPerM3,
    trueAirspeedMps: settings.trueAirspeedMps,
    pressureAltitudeM: axis.middlePressurePa.map(pressureAltitudeMFromPressurePa),
    wing: leadingEdge(settings.wingNoseRadiusM),
    rod: rod(settings.rodRadiusM),
    water: { cloudProbability: 0, icingProbability: 0, liquidWaterKgPerM3: 0, diameterM: 0 },
    impact: {
      pressurePa: 0,
      temperatureK: 0,
      trueAirspeedMps: 0,
      liquidWaterKgPerM3: 0,
      diameterM: 0,
      dropColdK: 0,
      airColdK: 0,
    },
    onWing: nothing(),
    onRod: nothing(),
  };
}

/** Why a cell is unknown to the diagnosis, or known. */
function stateOf(bench: Workbench, cell: number): number {
  const { air, hiddenBy } = bench;
  const state = air.state[cell]!;
  if (state !== CELL_STATE.known) return state;
  if (hiddenBy[cell] !== CELL_STATE.known) return hiddenBy[cell]!;
  const lacksCondensate = air.condensateBasis !== 'none' && !Number.isFinite(air.condensateKgPerKg[cell]!);
  return lacksCondensate && air.temperatureK[cell]! < FREEZING_K ? CELL_STATE.quantityMissing : state;
}

function diagnoseCell(
  bench: Workbench,
  cell: number,
  { icing, index }: { icing: IcingColumns; index: number },
): void {
  const { air, water } = bench;
  const state = stateOf(bench, cell);
  icing.state[index] = state;
  if (state !== CELL_STATE.known) return;
  assessWater(bench, cell, water);
  accreteCell(bench, cell);
  icing.cloudProbability[index] = water.cloudProbability;
  icing.icingProbability[index] = water.icingProbability;
  icing.liquidWaterKgPerM3[index] = water.liquidWaterKgPerM3;
  icing.medianVolumeDiameterM[index] = water.diameterM;
  icing.collectionEfficiency[index] = bench.onWing.efficiency;
  icing.freezingFraction[index] = bench.onWing.freezingFraction;
  icing.wingGrowthMps[index] = bench.onWing.growthMps;
  icing.rodGrowthMps[index] = bench.onRod.growthMps;
  icing.wingCatchKgPerM2S[index] = bench.onWing.catchKgPerM2S;
  const screened = screenedGrowthMps(bench.onWing.catchKgPerM2S, bench.onWing.freezingFraction);
  icing.intensity[index] = withRain(intensityOfGrowth(screened), bench.findings.rain[cell]!);
  icing.iceKind[index] =
    bench.onWing.catchKgPerM2S > 0 ? iceKindOf(bench.onWing.freezingFraction) : ICE_KIND.none;
  icing.largeDrops[index] = bench.largeDrops[cell]!;
  icing.envelopeRatio[index] = envelopeRatio(
    water.liquidWaterKgPerM3,
    water.diameterM,
    air.temperatureK[cell]!,
    bench.pressureAltitudeM[cell]!,
  );
}

/** Growth on both parts; all zero where the cell has no supercooled water. */
function accreteCell(bench: Workbench, cell: number): void {
  const { air, water, impact } = bench;
  impact.pressurePa = air.axis.middlePressurePa[cell]!;
  impact.temperatureK = air.temperatureK[cell]!;
  impact.trueAirspeedMps = bench.trueAirspeedMps[cell]!;
  impact.liquidWaterKgPerM3 = water.liquidWaterKgPerM3;
  impact.diameterM = water.diameterM;
  if (water.liquidWaterKgPerM3 > 0) {
    impact.dropColdK = dropColdK(impact.temperatureK, impact.trueAirspeedMps);
    impact.airColdK = airColdK(impact.temperatureK, impact.pressurePa, impact.trueAirspeedMps);
    accrete(impact, bench.wing, bench.onWing);
    accrete(impact, bench.rod, bench.onRod);
    return;
  }
  clear(bench.onWing);
  clear(bench.onRod);
}

function clear(accretion: Accretion): void {
  accretion.efficiency = 0;
  accretion.catchKgPerM2S = 0;
  accretion.freezingFraction = 0;
  accretion.growthMps = 0;
}
