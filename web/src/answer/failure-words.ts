/** The protection failing where leaving the ice costs most, in one sentence. */

import { rounded } from '../../../worker/flight/rounding.ts';
import type { Candidate } from '../contract.ts';
import { amountText } from '../units.ts';
import { WAY_WORDS } from '../words.ts';

type Failure = NonNullable<Candidate['failure']>;

export function failureWords({ distanceNm, builtMm, minutes, way }: Failure): string {
  const place = `worst at ${Math.round(distanceNm)} NM`;
  if (way === 'none') return `${place}: no way out of the ice`;
  if (way === 'unknown') return `${place}: way out unknown`;
  const gathered = amountText(String(rounded(builtMm, 'builtMm', 'screen')), 'mm');
  const untilOut = Math.max(1, Math.ceil(minutes));
  return `${place}: ${gathered} on protected parts in ${untilOut} min until out (${WAY_WORDS[way]})`;
}
