/** More fluid than a tank holds is a slip of whoever typed it. */
import { InvalidRequestError } from '../errors.ts';
import type { Aircraft } from '../flight/types.ts';

const L_PER_M3 = 1000;

/** @throws InvalidRequestError with the field. */
export function refuseOverfull(field: string, askedL: number | undefined, { protection }: Aircraft): void {
  if (askedL === undefined || protection.kind !== 'fluid') return;
  const usableL = protection.usableM3 * L_PER_M3;
  if (askedL <= usableL + 1e-6) return;
  throw new InvalidRequestError({
    field,
    found: `${askedL} L`,
    expected: `at most the ${Math.round(usableL * 10) / 10} L that the tank of this aeroplane holds`,
  });
}
