/** Liquid water given that a cell holds supercooled cloud: from humidity, and from a model's condensate. */

import { type ColumnAir, isUnknownAir } from './column-air.ts';
import { CELL_STATE } from './columns.ts';
import { DRY_AIR_GAS_CONSTANT, FREEZING_K } from './constants.ts';
import {
  condensationKgPerM4,
  condensedKgPerM3,
  moistAdiabatStepK,
  saturationMixingRatio,
} from './moist-adiabat.ts';

/** Where no base shows, cloud is given this depth below the cell, m: cloud thinner than a sensor tells (judgement). */
const LEAST_DEPTH_M = 100;

/** However little depth shows, water of this much of ascent is never excluded, m (judgement). */
const POSSIBLE_DEPTH_M = 500;

/** Mixing with dry air holds the water of a deep layer to this, kg/m3: fitted to the research flights. */
const ENTRAINED_LIMIT_KG_PER_M3 = 0.2e-3;

/** In convective cloud less is mixed in, kg/m3 (cumuliform cloud holds 0.2-2.5 g/m3 over miles; judgement within that). */
const CONVECTIVE_LIMIT_KG_PER_M3 = 0.6e-3;

/** A parcel from the base gains this much where cloud is convective, J/kg (judgement: more than profile noise). */
const CONVECTIVE_J_PER_KG = 50;

/** Given liquid, at least this part of the entrained water is liquid whatever the top (four wet layers, weak evidence). */
const LEAST_LIQUID_SHARE = 0.5;

/**
 * Water of an unmixed parcel after entrainment: nearly all of it in thin layers, a constant in deep ones.
 *
 * @param adiabatic     kg/m3; Infinity for a base of unknown depth.
 * @param isConvective  A parcel from the base is buoyant here.
 * @returns             kg/m3, at most 0.2e-3, in convective cloud 0.6e-3; rises with adiabatic.
 * @throws              never.
 * @source              Saturating form fitted to five research flights; deep layers average 0.14 g/m3 in Korolev et al. 2007.
 */
export function entrainedKgPerM3(adiabatic: number, isConvective = false): number {
  const limit = isConvective ? CONVECTIVE_LIMIT_KG_PER_M3 : ENTRAINED_LIMIT_KG_PER_M3;
  return limit / (1 + limit / adiabatic);
}

/**
 * Water in cloud of partly frozen kind, given that it holds liquid.
 *
 * @param entrained          kg/m3.
 * @param liquidProbability  That the cloud is liquid, 0-1.
 * @returns                  kg/m3.
 * @throws                   never.
 */
export function inCloudWaterKgPerM3(entrained: number, liquidProbability: number): number {
  return entrained * Math.max(LEAST_LIQUID_SHARE, liquidProbability);
}

/** Water of rising parcels in one column; filled anew for each. */
export interface RisingWater {
  /** Of a parcel from the base of the cell's cloud, kg/m3; Infinity over unknown air, where the base may lie anywhere. */
  readonly adiabatic: Float64Array;
  /** The most that is not excluded, kg/m3. */
  readonly most: Float64Array;
  /** 1 where the parcel from the base has gained CONVECTIVE_J_PER_KG. */
  readonly isConvective: Uint8Array;
}

export function makeRisingWater(cellCount: number): RisingWater {
  return {
    adiabatic: new Float64Array(cellCount),
    most: new Float64Array(cellCount),
    isConvective: new Uint8Array(cellCount),
  };
}

/** A parcel while a column is read upward. */
interface Parcel {
  isRising: boolean;
  isBaseUnknown: boolean;
  temperatureK: number;
  baseMixingRatio: number;
  gainedJPerKg: number;
}

/**
 * Adiabatic water above the foot of the saturated run that each cell stands in, at the cell's middle. Saturated is what the
 * source reads in cloud; a cell in no such run has the water of LEAST_DEPTH_M.
 *
 * @param air     The column.
 * @param rising  Filled: NaN for cells that are not known.
 * @throws        never.
 */
export function fillRisingWater(air: ColumnAir, rising: RisingWater): void {
  const parcel: Parcel = {
    isRising: false,
    isBaseUnknown: false,
    temperatureK: Number.NaN,
    baseMixingRatio: Number.NaN,
    gainedJPerKg: 0,
  };
  for (let cell = 0; cell < air.axis.cellCount; cell += 1) {
    rising.adiabatic[cell] = Number.NaN;
    rising.most[cell] = Number.NaN;
    rising.isConvective[cell] = 0;
    if (air.state[cell] === CELL_STATE.known) riseTo(air, cell, { parcel, rising });
    else {
      parcel.isBaseUnknown = isUnknownAir(air, cell);
      parcel.isRising = false;
    }
  }
}

function riseTo(
  air: ColumnAir,
  cell: number,
  { parcel, rising }: { readonly parcel: Parcel; readonly rising: RisingWater },
): void {
  const pressurePa = air.axis.middlePressurePa[cell]!;
  const isSaturated = air.humidityRatio[cell]! >= air.cloudReadingRatio[cell]!;
  const perMeter = condensationKgPerM4(air.temperatureK[cell]!, pressurePa);
  parcel.isBaseUnknown &&= isSaturated;
  parcel.isRising &&= isSaturated;
  rising.most[cell] = POSSIBLE_DEPTH_M * perMeter;
  rising.adiabatic[cell] = LEAST_DEPTH_M * perMeter;
  if (parcel.isBaseUnknown) {
    rising.adiabatic[cell] = Number.POSITIVE_INFINITY;
    rising.isConvective[cell] = 1;
  } else if (isSaturated) {
    liftParcel(air, cell, parcel);
    const condensed = condensedKgPerM3(parcel.baseMixingRatio, parcel.temperatureK, pressurePa);
    rising.adiabatic[cell] = Math.max(LEAST_DEPTH_M * perMeter, condensed);
    rising.isConvective[cell] = parcel.gainedJPerKg >= CONVECTIVE_J_PER_KG ? 1 : 0;
  }
  rising.most[cell] = Math.max(rising.most[cell]!, rising.adiabatic[cell]!);
}

/** To the middle of a saturated cell: up from the one below, else from the cell's own foot, where a run begins. */
function liftParcel(air: ColumnAir, cell: number, parcel: Parcel): void {
  const { middlePressurePa, edgePressurePa } = air.axis;
  const pressurePa = middlePressurePa[cell]!;
  const temperatureK = air.temperatureK[cell]!;
  if (!parcel.isRising) {
    const baseK = moistAdiabatStepK(temperatureK, pressurePa, edgePressurePa[cell]!);
    parcel.baseMixingRatio = saturationMixingRatio(baseK, edgePressurePa[cell]!);
    parcel.temperatureK = temperatureK;
    parcel.gainedJPerKg = 0;
    parcel.isRising = true;
    return;
  }
  const fromPa = middlePressurePa[cell - 1]!;
  parcel.temperatureK = moistAdiabatStepK(parcel.temperatureK, fromPa, pressurePa);
  const warmerK = parcel.temperatureK - temperatureK;
  parcel.gainedJPerKg = Math.max(
    0,
    parcel.gainedJPerKg + DRY_AIR_GAS_CONSTANT * warmerK * Math.log(fromPa / pressurePa),
  );
}

/**
 * Part of a model's condensate that is liquid, by temperature alone: midway between a diagnostic that freezes cloud early
 * and what satellites see at cloud tops. The two differ widely and are used as bounds.
 *
 * @param temperatureK  K.
 * @returns             0-1, rises with temperature.
 * @throws              never.
 * @source              Tiedtke 1993 form, and Hu et al. 2010; coefficients from memory.
 * @checked             tests/published/liquid-share.test.ts
 */
export function liquidShareOfCondensate(temperatureK: number): number {
  return (earlyFreezingLiquidShare(temperatureK) + cloudTopLiquidShare(temperatureK)) / 2;
}

/** Liquid share by ((T - 250.16) / 23) squared, 0-1 (Tiedtke 1993 form). */
export function earlyFreezingLiquidShare(temperatureK: number): number {
  return Math.min(1, Math.max(0, (temperatureK - 250.16) / 23)) ** 2;
}

/** Liquid share of cloud tops seen by satellite, 0-1 (Hu et al. 2010); the fit is held at its ends beyond 0 and -40 degC. */
export function cloudTopLiquidShare(temperatureK: number): number {
  const t = Math.min(0, Math.max(-40, temperatureK - FREEZING_K));
  const exponent = 5.3608 + t * (0.4025 + t * (0.08387 + t * (0.007182 + t * (2.39e-4 + t * 2.87e-6))));
  return 1 / (1 + Math.exp(-exponent));
}

/**
 * Water content of air with a mixing ratio of condensate.
 *
 * @param mixingRatio   kg/kg.
 * @param temperatureK  K.
 * @param pressurePa    Pa.
 * @returns             kg/m3.
 * @throws              never.
 * @source              q times the density of dry air.
 * @checked             tests/published/liquid-share.test.ts
 */
export function waterContentKgPerM3(mixingRatio: number, temperatureK: number, pressurePa: number): number {
  return (mixingRatio * pressurePa) / (DRY_AIR_GAS_CONSTANT * temperatureK);
}

/** Cloud covers at least this part of a box that holds condensate, so that a thin trace is not blown up. */
const LEAST_FRACTION = 0.1;

/**
 * Water inside the cloud of a grid box.
 *
 * @param boxKgPerM3     Mean of the box, kg/m3.
 * @param fractionRatio  Cloud fraction, 0-1; NaN where the model gives none: then the box's mean serves.
 * @param adiabatic      What an unmixed parcel would hold, kg/m3, Infinity where its base is not known: never more than
 *                       this, unless the box's own mean is.
 * @returns              kg/m3.
 * @throws               never.
 */
export function inCloudOfBoxKgPerM3(boxKgPerM3: number, fractionRatio: number, adiabatic: number): number {
  if (Number.isNaN(fractionRatio)) return boxKgPerM3;
  const inCloud = boxKgPerM3 / Math.min(1, Math.max(LEAST_FRACTION, fractionRatio));
  return Math.max(boxKgPerM3, Math.min(inCloud, adiabatic));
}
