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

/** Cloud base is the foot of a run of cells at least this moist over water, ratio. */
const BASE_HUMIDITY = 0.99;

/** Where no base shows, cloud is given this depth below the cell, m: cloud thinner than a sensor tells. */
const LEAST_DEPTH_M = 100;

/** Mixing with dry air holds the water of a deep layer to this, kg/m3. */
const ENTRAINED_LIMIT_KG_PER_M3 = 0.2e-3;

/** Given liquid, at least this part of the entrained water is liquid whatever the top (four wet layers, weak evidence). */
const LEAST_LIQUID_SHARE = 0.5;

/**
 * Water of an unmixed parcel after entrainment: nearly all of it in thin layers, a constant in deep ones.
 *
 * @param adiabatic  kg/m3; Infinity for a base of unknown depth.
 * @returns          kg/m3, at most 0.2e-3; rises with adiabatic.
 * @throws           never.
 * @source           Saturating form fitted to five research flights; deep layers average 0.14 g/m3 in Korolev et al. 2007.
 */
export function entrainedKgPerM3(adiabatic: number): number {
  return ENTRAINED_LIMIT_KG_PER_M3 / (1 + ENTRAINED_LIMIT_KG_PER_M3 / adiabatic);
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

/**
 * Adiabatic water above the foot of the saturated run that each cell stands in, at the cell's middle.
 *
 * A cell in no such run has the water of LEAST_DEPTH_M. Over unknown air the base may lie anywhere below: Infinity.
 *
 * @param air        The column.
 * @param adiabatic  Filled: kg/m3 for known cells, NaN for the rest.
 * @throws           never.
 */
export function fillAdiabaticWater(air: ColumnAir, adiabatic: Float64Array): void {
  const { cellCount, middlePressurePa, edgePressurePa } = air.axis;
  let parcelK = Number.NaN;
  let baseMixingRatio = Number.NaN;
  let isInRun = false;
  let isBaseUnknown = false;
  for (let cell = 0; cell < cellCount; cell += 1) {
    adiabatic[cell] = Number.NaN;
    if (air.state[cell] !== CELL_STATE.known) {
      isBaseUnknown = isUnknownAir(air, cell);
      isInRun = false;
      continue;
    }
    const pressurePa = middlePressurePa[cell]!;
    const temperatureK = air.temperatureK[cell]!;
    const isSaturated = air.humidityRatio[cell]! >= BASE_HUMIDITY;
    isBaseUnknown &&= isSaturated;
    if (isBaseUnknown) {
      adiabatic[cell] = Number.POSITIVE_INFINITY;
      continue;
    }
    const leastDepth = LEAST_DEPTH_M * condensationKgPerM4(temperatureK, pressurePa);
    if (!isSaturated) {
      adiabatic[cell] = leastDepth;
      isInRun = false;
      continue;
    }
    if (isInRun) {
      parcelK = moistAdiabatStepK(parcelK, middlePressurePa[cell - 1]!, pressurePa);
    } else {
      const basePa = edgePressurePa[cell]!;
      const baseK = moistAdiabatStepK(temperatureK, pressurePa, basePa);
      baseMixingRatio = saturationMixingRatio(baseK, basePa);
      parcelK = temperatureK;
      isInRun = true;
    }
    adiabatic[cell] = Math.max(leastDepth, condensedKgPerM3(baseMixingRatio, parcelK, pressurePa));
  }
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
