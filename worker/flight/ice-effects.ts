/** What ice on the unprotected parts, and the inlet separator, take from an aeroplane's performance. */
import { tableValue } from './performance-table.ts';
import type { Aircraft } from './types.ts';

/** The state of the aeroplane that its performance depends on. */
export interface IcedState {
  /** Ice on the unprotected outer wing, m. */
  readonly builtM: number;
  readonly isSeparatorOn: boolean;
}

/** With less on the wing an aeroplane flies as a clean one; from here on the iced ceiling holds, m (judgement). */
export const ICED_FROM_M = 0.001;

/**
 * A loss in proportion holds no further (judgement): with so much ice the verdict has been given, and a flight must still come out
 * that it can be given for.
 */
export const MOST_ICE_M = 0.02;

const left = (lossRatio: number): number => Math.max(0, 1 - lossRatio);
const counted = (builtM: number): number => Math.min(MOST_ICE_M, builtM);

/** @returns m/s; 0 when nothing is left. */
export function climbRateMps(aircraft: Aircraft, pressureAltitudeM: number, state: IcedState): number {
  const clean = tableValue(aircraft.climbRateMps, pressureAltitudeM);
  const separator = state.isSeparatorOn ? left(aircraft.separator.climbRateLoss) : 1;
  return clean * left(aircraft.iceLoss.climbRatePerM * counted(state.builtM)) * separator;
}

/** Part of a clean airspeed that is left, 0-1. */
export function airspeedLeft(aircraft: Aircraft, state: IcedState): number {
  const separator = state.isSeparatorOn ? left(aircraft.separator.airspeedLoss) : 1;
  return left(aircraft.iceLoss.airspeedPerM * counted(state.builtM)) * separator;
}

/** @returns kg/s. */
export function fuelFlowKgPerS(aircraft: Aircraft, pressureAltitudeM: number, state: IcedState): number {
  const clean = tableValue(aircraft.fuelFlowKgPerS, pressureAltitudeM);
  const separator = state.isSeparatorOn ? 1 + aircraft.separator.fuelFlowGain : 1;
  return clean * (1 + aircraft.iceLoss.fuelFlowGainPerM * counted(state.builtM)) * separator;
}
