/** When to leave, whatever was forecast: signs of large drops in general words, and the limits of the aeroplane. */
import { ktFromMps } from '../science/units.ts';
import { reserveM3 } from './fluid.ts';
import { rounded } from './rounding.ts';
import type { Aircraft, FlightReason } from './types.ts';
import { apiLiters, litersOf, reason } from './words.ts';

/**
 * In the order in which a pilot meets them. The signs are those of AC 91-74B and of the airworthiness directives of 1996 and 1998
 * (61 FR 20616): from memory in their wording, and said in words of our own.
 */
export function leaveCues(aircraft: Aircraft): FlightReason[] {
  return [
    ...certificationCue(aircraft),
    reason(
      'large-drop-signs',
      'Large drops: rain or splashes below 0 °C, ice aft of where it usually ends, on side windows or far back on the spinner',
      {},
    ),
    ...ridgeCue(aircraft),
    reason(
      'leave-at-once',
      'Then, or when ice stays on a protected edge: leave at once and ask for priority; autopilot and flaps by the manual',
      {},
    ),
    speedCue(aircraft),
    ...failureCue(aircraft),
    reason('handling', 'Buffet, an uncommanded roll, or no view ahead: leave', {}),
    ...fluidCue(aircraft),
  ];
}

function certificationCue({ certifiedForIcing }: Aircraft): FlightReason[] {
  if (certifiedForIcing) return [];
  return [reason('not-certified', 'Not certified for ice: leave at the first of it', {})];
}

/** Water that is not caught by a wet edge freezes behind it. */
function ridgeCue({ protection }: Aircraft): FlightReason[] {
  if (protection.kind === 'none') return [];
  const where = protection.kind === 'fluid' ? 'behind the wetted part' : 'behind the boots';
  return [reason('ridge', `A ridge of ice ${where} is one of them`, {})];
}

function speedCue({ minimumIcingAirspeedMps }: Aircraft): FlightReason {
  if (minimumIcingAirspeedMps === undefined || minimumIcingAirspeedMps === 0)
    return reason('icing-speed', 'The manual’s minimum speed in ice cannot be held level: leave', {});
  const knots = rounded(ktFromMps(minimumIcingAirspeedMps), 'indicatedKt', 'api');
  return reason('icing-speed', `${knots} kt indicated cannot be held level: leave`, { indicatedKt: knots });
}

function failureCue({ protection }: Aircraft): FlightReason[] {
  if (protection.kind === 'none') return [];
  const what = protection.kind === 'fluid' ? 'pump, pressure or a dry panel' : 'pressure or a boot';
  return [reason('failure', `The protection fails (${what}): leave`, {})];
}

function fluidCue({ protection }: Aircraft): FlightReason[] {
  if (protection.kind !== 'fluid') return [];
  const keptM3 = reserveM3(protection) + protection.windshieldM3;
  const liters = rounded(litersOf(keptM3), 'fluidL', 'screen');
  return [
    reason('fluid-kept', `${liters} L left, for the approach and the windshield: out of the ice by then`, {
      keptL: apiLiters(keptM3),
    }),
  ];
}
