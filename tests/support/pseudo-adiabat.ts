/**
 * A saturated parcel followed upward in height, and by conservation of its equivalent potential temperature: two ways to the
 * water it condenses that share neither saturation formula nor method with the code under test.
 */
import { goffGratchWaterPa } from './goff-gratch.ts';
import { integrate } from './runge-kutta.ts';

const GRAVITY_MPS2 = 9.80665;
const DRY_GAS_CONSTANT = 287.05;
const MASS_RATIO = 0.62198;
const STEP_M = 25;

/** Where it starts, saturated. */
export interface CloudBase {
  readonly pressurePa: number;
  readonly temperatureK: number;
}

/** @returns vapor over dry air at saturation over water, kg/kg. */
export function saturatedMixingRatio(temperatureK: number, pressurePa: number): number {
  const vaporPa = goffGratchWaterPa(temperatureK);
  return (MASS_RATIO * vaporPa) / (pressurePa - vaporPa);
}

/** @returns density of saturated air, kg/m3. */
export function saturatedDensityKgPerM3(temperatureK: number, pressurePa: number): number {
  const vaporPa = goffGratchWaterPa(temperatureK);
  return (pressurePa - vaporPa * (1 - MASS_RATIO)) / (DRY_GAS_CONSTANT * temperatureK);
}

/** Rates of temperature and pressure with height in a saturated parcel whose condensate falls out. */
export type ParcelLaw = (temperatureK: number, pressurePa: number) => readonly [number, number];

/**
 * First law and hydrostatic balance of moist air with nothing left out but the condensate: condensing heat by temperature,
 * vapor warmed and cooled with the air, slopes of saturation taken from the formula itself. Heats from memory.
 */
export const fullLaw: ParcelLaw = (temperatureK, pressurePa) => {
  const ratioAt = saturatedMixingRatio;
  const mixingRatio = ratioAt(temperatureK, pressurePa);
  const perKelvin =
    (ratioAt(temperatureK + 0.01, pressurePa) - ratioAt(temperatureK - 0.01, pressurePa)) / 0.02;
  const perPascal = (ratioAt(temperatureK, pressurePa + 1) - ratioAt(temperatureK, pressurePa - 1)) / 2;
  const condensing = 2.501e6 - 2361 * (temperatureK - 273.15);
  const fall = -GRAVITY_MPS2 * saturatedDensityKgPerM3(temperatureK, pressurePa);
  const volumeOfDryKg = (DRY_GAS_CONSTANT * temperatureK * (1 + mixingRatio / MASS_RATIO)) / pressurePa;
  const capacity = 1005.7 + mixingRatio * 1870 + condensing * perKelvin;
  return [((volumeOfDryKg - condensing * perPascal) * fall) / capacity, fall];
};

/** The usual simplification, as the reference of the code under test prints it: one condensing heat, dry air else. */
export const textbookLaw: ParcelLaw = (temperatureK, pressurePa) => {
  const condensing = 2.50084e6;
  const mixingRatio = saturatedMixingRatio(temperatureK, pressurePa);
  const fall = (-GRAVITY_MPS2 * pressurePa) / (287.047 * temperatureK);
  const numerator = 287.047 * temperatureK + condensing * mixingRatio;
  const denominator = 1004.67 + (condensing ** 2 * mixingRatio * 0.622) / (287.047 * temperatureK ** 2);
  return [((numerator / denominator) * fall) / pressurePa, fall];
};

/** @returns the parcel's temperature and pressure at that height above base. */
export function liftParcel(base: CloudBase, heightM: number, law: ParcelLaw): CloudBase {
  const [temperatureK, pressurePa] = integrate(
    (state) => law(state[0]!, state[1]!),
    [base.temperatureK, base.pressurePa],
    { from: 0, to: heightM, steps: Math.ceil(heightM / STEP_M) },
  );
  return { temperatureK: temperatureK!, pressurePa: pressurePa! };
}

/** @returns what has condensed since base, kg/m3. */
export function waterOfParcelKgPerM3(base: CloudBase, parcel: CloudBase): number {
  const condensed =
    saturatedMixingRatio(base.temperatureK, base.pressurePa) -
    saturatedMixingRatio(parcel.temperatureK, parcel.pressurePa);
  return condensed * saturatedDensityKgPerM3(parcel.temperatureK, parcel.pressurePa);
}

/** Bolton 1980, eq. 43 (from memory), of saturated air. */
function equivalentPotentialK(temperatureK: number, pressurePa: number): number {
  const ratio = saturatedMixingRatio(temperatureK, pressurePa);
  const potentialK = temperatureK * (100_000 / pressurePa) ** (0.2854 * (1 - 0.28 * ratio));
  return potentialK * Math.exp((3376 / temperatureK - 2.54) * ratio * (1 + 0.81 * ratio));
}

/** @returns temperature of the parcel at another pressure, its equivalent potential temperature unchanged, K. */
export function conservedParcelK(base: CloudBase, pressurePa: number): number {
  const target = equivalentPotentialK(base.temperatureK, base.pressurePa);
  let cold = base.temperatureK - 60;
  let warm = base.temperatureK + 60;
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (cold + warm) / 2;
    if (equivalentPotentialK(middle, pressurePa) > target) warm = middle;
    else cold = middle;
  }
  return (cold + warm) / 2;
}
