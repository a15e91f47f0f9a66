/**
 * The heat balance of an icing surface solved step by step: every flow of heat written out on its own, in W/m2, and the
 * state of the surface searched for until they cancel.
 *
 * Steady; no heat goes into the body; the caught water is warmed or cooled to the surface and what freezes stays there.
 */

/** 0 degC, K. */
export const ZERO_CELSIUS_K = 273.15;

/** What meets the surface. */
export interface Exposure {
  readonly airTemperatureK: number;
  readonly speedMps: number;
  /** Water caught, kg/m2/s. */
  readonly caughtKgPerM2S: number;
  readonly convectionWPerM2K: number;
  /** Water that leaves as vapor from a surface so warm, kg/m2/s; negative where vapor settles. */
  readonly evaporationKgPerM2S: (surfaceK: number) => number;
  readonly substance: Substance;
}

/** Heats, J/kg and J/kg/K; published heats of freezing are up to 0.3 % apart. */
export interface Substance {
  readonly airHeatCapacity: number;
  readonly waterHeatCapacity: number;
  readonly iceHeatCapacity: number;
  readonly freezingHeat: number;
  /** Heat that vapor takes from a surface at this temperature. */
  readonly evaporationHeat: (surfaceK: number) => number;
}

/** State of the surface: below 0 degC all is frozen, above nothing, at 0 degC a part. */
export interface SurfaceState {
  readonly temperatureK: number;
  readonly frozenPart: number;
}

/** Each flow of heat, W/m2; gains of the surface positive. */
export interface HeatFlows {
  readonly convection: number;
  readonly airFriction: number;
  readonly evaporation: number;
  readonly waterWarming: number;
  readonly dropSpeed: number;
  readonly freezing: number;
  readonly iceCooling: number;
}

/** @returns every flow of heat at a surface in that state. */
export function heatFlows(exposure: Exposure, { temperatureK, frozenPart }: SurfaceState): HeatFlows {
  const { airTemperatureK, speedMps, caughtKgPerM2S, convectionWPerM2K, substance } = exposure;
  const kineticJPerKg = (speedMps * speedMps) / 2;
  const waterEndsK = Math.max(temperatureK, ZERO_CELSIUS_K);
  const iceColdK = Math.max(0, ZERO_CELSIUS_K - temperatureK);
  return {
    convection: -convectionWPerM2K * (temperatureK - airTemperatureK),
    airFriction: (convectionWPerM2K * kineticJPerKg) / substance.airHeatCapacity,
    evaporation: -exposure.evaporationKgPerM2S(temperatureK) * substance.evaporationHeat(temperatureK),
    waterWarming: -caughtKgPerM2S * substance.waterHeatCapacity * (waterEndsK - airTemperatureK),
    dropSpeed: caughtKgPerM2S * kineticJPerKg,
    freezing: caughtKgPerM2S * frozenPart * substance.freezingHeat,
    iceCooling: caughtKgPerM2S * substance.iceHeatCapacity * iceColdK,
  };
}

const netHeat = (flows: HeatFlows): number => Object.values(flows).reduce((sum, flow) => sum + flow, 0);

/** One coordinate through all states: below 0 kelvins under 0 degC, 0 to 1 the melted part, beyond 1 kelvins above. */
function stateAt(coordinate: number): SurfaceState {
  if (coordinate < 0) return { temperatureK: ZERO_CELSIUS_K + coordinate, frozenPart: 1 };
  if (coordinate <= 1) return { temperatureK: ZERO_CELSIUS_K, frozenPart: 1 - coordinate };
  return { temperatureK: ZERO_CELSIUS_K + coordinate - 1, frozenPart: 0 };
}

/** @returns the state in which all flows cancel; each warmer state loses more heat, so there is one. */
export function solveSurface(exposure: Exposure): SurfaceState {
  let cold = -150;
  let warm = 41;
  if (!(netHeat(heatFlows(exposure, stateAt(cold))) > 0 && netHeat(heatFlows(exposure, stateAt(warm))) < 0)) {
    throw new Error('no balance between -150 and 40 degC');
  }
  while (warm - cold > 1e-10) {
    const middle = (cold + warm) / 2;
    if (netHeat(heatFlows(exposure, stateAt(middle))) > 0) cold = middle;
    else warm = middle;
  }
  return stateAt((cold + warm) / 2);
}
