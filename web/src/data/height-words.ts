/** Between which altitudes something holds, in words. */
import { feetText } from '../numbers.ts';

const STEP_FT = 500;

/** Rounded outwards: a layer is never shown thinner than it is. */
export function heightWords(fromFt: number | null, toFt: number | null): string {
  const lowerFt = fromFt === null ? null : Math.floor(fromFt / STEP_FT) * STEP_FT;
  const upperFt = toFt === null ? null : Math.ceil(toFt / STEP_FT) * STEP_FT;
  if (lowerFt === null && upperFt === null) return 'at every altitude';
  if (lowerFt === null) return `below ${feetText(upperFt!)} ft`;
  if (upperFt === null) return `above ${feetText(lowerFt)} ft`;
  return `${feetText(lowerFt)} to ${feetText(upperFt)} ft`;
}
