/**
 * What an aeroplane carries from one leg into the next when several are flown on one tank: the fluid that is surely left, and
 * the ice that may still be on it. Pure. What is not known is a state of its own, never a number.
 */
import { CELL_STATE, type WeatherColumns } from '../science/columns.ts';
import { FREEZING_K, FREEZING_LATENT_HEAT } from '../science/constants.ts';
import { ICE_DENSITY_KG_PER_M3 } from '../science/growth.ts';
import { cellAt } from './cells.ts';
import { chooseAltitude } from './choose-altitude.ts';
import { isAcceptable } from './file-advice.ts';
import type { Aircraft, CandidateResult, Choice, ChooseInput, Exposure, Spread } from './types.ts';
import { UNKNOWN_TOLERANCE_S } from './verdict-facts.ts';

/**
 * known: at least so much is on board. not-given: the request does not say, the dispatch minimum may be taken for granted.
 * unknown: not even that, since legs before have used of it. none: no fluid system.
 */
export type FluidState =
  | { readonly kind: 'known'; readonly volumeM3: number }
  | { readonly kind: 'not-given' | 'unknown' | 'none' };

/** Ice on unprotected parts at its high estimate, m; undefined where it is unknown. */
export type CarriedIceM = number | undefined;

/** @param onBoardM3  undefined when the request does not say. */
export function fluidAtFirst({ protection }: Aircraft, onBoardM3: number | undefined): FluidState {
  if (protection.kind !== 'fluid') return { kind: 'none' };
  return onBoardM3 === undefined ? { kind: 'not-given' } : { kind: 'known', volumeM3: onBoardM3 };
}

/** Filled up to a quantity; more that is surely there is not taken out. */
export function refilled(fluid: FluidState, toM3: number | undefined): FluidState {
  if (toM3 === undefined || fluid.kind === 'none') return fluid;
  const leftM3 = fluid.kind === 'known' ? fluid.volumeM3 : 0;
  return { kind: 'known', volumeM3: Math.max(leftM3, toM3) };
}

/** Fluid that a leg takes from the tank with vectors and approach, priming included, m3; undefined without a fluid system. */
export function legFluidM3(
  { protection }: Aircraft,
  { fluidOnApproachM3 }: Pick<Exposure, 'fluidOnApproachM3'>,
): Spread | undefined {
  return protection.kind === 'fluid' ? fluidOnApproachM3 : undefined;
}

/** What unknown air on a leg may have taken, m3, and the dispatch minimum that it counts against. */
export interface UnsureFluid {
  readonly unknownAirM3: number;
  readonly minimumDispatchM3: number;
}

export function unsureFluid(
  { protection }: Aircraft,
  { onApproachUnknownS }: Pick<Exposure, 'onApproachUnknownS'>,
): UnsureFluid {
  if (protection.kind !== 'fluid') return { unknownAirM3: 0, minimumDispatchM3: 0 };
  const { normalFlowM3PerS, primingM3, minimumDispatchM3 } = protection;
  const unknownAirM3 = onApproachUnknownS > 0 ? normalFlowM3PerS * onApproachUnknownS + primingM3 : 0;
  return { unknownAirM3, minimumDispatchM3 };
}

/**
 * Where unknown air alone decides whether the dispatch minimum is left, what is left is unknown.
 *
 * @param taken  On the altitude flown; undefined when nothing could be flown: then nobody knows what is left.
 */
export function fluidAfter(
  fluid: FluidState,
  taken: Spread | undefined,
  { unknownAirM3, minimumDispatchM3 }: UnsureFluid = { unknownAirM3: 0, minimumDispatchM3: 0 },
): FluidState {
  if (fluid.kind === 'none') return fluid;
  if (taken === undefined) return { kind: 'unknown' };
  if (fluid.kind === 'known') {
    const volumeM3 = Math.max(0, fluid.volumeM3 - taken.high);
    const isUnsure = volumeM3 < minimumDispatchM3 && volumeM3 + unknownAirM3 >= minimumDispatchM3;
    return isUnsure ? { kind: 'unknown' } : { kind: 'known', volumeM3 };
  }
  return taken.high > 0 ? { kind: 'unknown' } : fluid;
}

/** What is left of a known quantity at each estimate of what was used, m3, never less than nothing. */
export function leftM3(volumeM3: number, taken: Spread): Spread {
  const left = (usedM3: number) => Math.max(0, volumeM3 - usedM3);
  return { low: left(taken.high), middle: left(taken.middle), high: left(taken.low) };
}

/**
 * Ice on the aeroplane on arrival: that at lift-off and that built on the way, vectors and approach included, at its high
 * estimate. Air that is unknown may hold any ice, so that it makes the whole unknown. Nothing melts or falls off on the way.
 */
export function iceAfterM(
  iceAtStartM: CarriedIceM,
  exposure: Pick<Exposure, 'builtOnApproachM' | 'residualIceM' | 'onApproachUnknownS'> | undefined,
): CarriedIceM {
  if (iceAtStartM === undefined || exposure === undefined) return undefined;
  if (exposure.onApproachUnknownS > UNKNOWN_TOLERANCE_S) return undefined;
  return iceAtStartM + exposure.builtOnApproachM.high - exposure.residualIceM;
}

/** A stop between two legs. Temperatures of the lowest air, K; NaN where unknown. */
export interface GroundStop {
  readonly isDeiced: boolean;
  readonly stayS: number;
  readonly arrivalTemperatureK: number;
  readonly departureTemperatureK: number;
}

/** Melting counts from this temperature of the lowest air on: the apron may be colder (judgement). */
const MELTING_FROM_K = FREEZING_K + 3;
/** Heat from still air to a surface with radiation, W/m2/K, at the low end of 10 to 25 (judgement). */
const STILL_AIR_W_PER_M2_K = 10;

/**
 * Ice left after a stop. De-icing takes all of it. Otherwise it melts by the heat of the air over the colder of the two
 * temperatures, a millimeter in about two hours at +7 degC, and none where either is unknown or in dry cold: sublimation
 * counts for nothing. Unknown ice is unknown until it is taken off.
 */
export function iceAfterStopM(iceM: CarriedIceM, stop: GroundStop): CarriedIceM {
  if (stop.isDeiced) return 0;
  if (iceM === undefined) return undefined;
  const aboveK = Math.min(stop.arrivalTemperatureK, stop.departureTemperatureK) - MELTING_FROM_K;
  if (!(aboveK > 0)) return iceM;
  const meltedM =
    (STILL_AIR_W_PER_M2_K * aboveK * stop.stayS) / (ICE_DENSITY_KG_PER_M3 * FREEZING_LATENT_HEAT);
  return Math.max(0, iceM - meltedM);
}

/** Temperature of the lowest air over a field, K; NaN where it is unknown. */
export function groundTemperatureK(
  { axis, state, temperatureK }: WeatherColumns,
  point: number,
  fieldPressureAltitudeM: number,
): number {
  let cell = cellAt(axis, fieldPressureAltitudeM) ?? 0;
  const offset = point * axis.cellCount;
  while (cell < axis.cellCount - 1 && state[offset + cell] === CELL_STATE.belowGround) cell += 1;
  return state[offset + cell] === CELL_STATE.known ? temperatureK[offset + cell]! : Number.NaN;
}

/** Altitudes whose high estimates of fluid differ by less are as thrifty, m3 (judgement). */
const AS_THRIFTY_M3 = 0.002;

/**
 * The altitude of a leg that others follow on the same tank: among those with the best verdict, the first in rank of those that
 * use least. Chosen over a full tank, so that it is the same whatever is on board: less fluid at the start then never leads to
 * an altitude that spares it for a later leg.
 *
 * @param choice  Made with a full tank.
 * @returns       undefined when nothing could be flown.
 */
export function thriftyCandidate(choice: Choice, aircraft: Aircraft): CandidateResult | undefined {
  const inRank = choice.candidates
    .filter(({ rank, exposure }) => rank !== undefined && exposure !== undefined)
    .sort((a, b) => a.rank! - b.rank!);
  const best = inRank[0];
  if (best === undefined || !isAcceptable(best.verdict)) return best;
  const takenM3 = ({ exposure }: CandidateResult) => legFluidM3(aircraft, exposure!)?.high ?? 0;
  const alike = inRank.filter(({ verdict }) => verdict === best.verdict);
  const leastM3 = Math.min(...alike.map(takenM3));
  return alike.find((each) => takenM3(each) <= leastM3 + AS_THRIFTY_M3);
}

/**
 * The choice for one leg of a sequence. The last leg has that of its own brief. One that others follow is judged with what is on
 * board at the one altitude that `thriftyCandidate` gives.
 */
export function chooseInSequence(input: ChooseInput, isLast: boolean): Choice {
  const { aircraft } = input;
  if (isLast) return chooseAltitude(input);
  const fullM3 = aircraft.protection.kind === 'fluid' ? aircraft.protection.usableM3 : undefined;
  const thrifty = thriftyCandidate(chooseAltitude({ ...input, fluidOnBoardM3: fullM3 }), aircraft);
  if (thrifty === undefined) return chooseAltitude(input);
  return chooseAltitude({ ...input, candidateAltitudesM: [thrifty.indicatedAltitudeM] });
}
