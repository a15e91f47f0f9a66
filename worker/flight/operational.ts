/** Facts about an altitude that are not icing: minimum altitudes not known or in the cold, oxygen, direction, unknown wind. */

import { ftFromM, mFromFt, mFromNm, nmFromM } from '../science/units.ts';
import type { FlownCandidate } from './candidate.ts';
import { coldReasons } from './cold-altitude.ts';
import { crossingReasons } from './crossings.ts';
import { minimumReasons } from './minimum-reasons.ts';
import type { OxygenNeed } from './oxygen.ts';
import { oxygenOf } from './refusals.ts';
import { rounded } from './rounding.ts';
import type { ChooseInput, FlightReason } from './types.ts';
import {
  apiFeet,
  apiMinutes,
  feet,
  hazardMinutes,
  millimetersOf,
  minutesOf,
  reason,
  withThousands,
} from './words.ts';

const OXYGEN_WORDS: Readonly<Record<Exclude<OxygenNeed, 'none'>, string>> = {
  'crew-after-30-minutes': 'after 30 min',
  crew: 'all the time',
  'crew-and-occupants': 'all the time, and for every occupant',
};

/** @param flown  The recommended or least bad altitude; undefined when none could be flown. */
export function operationalReasons(
  input: ChooseInput,
  flown: FlownCandidate | undefined,
  leg: { readonly legCoursesDeg: readonly number[]; readonly departureM: number },
): FlightReason[] {
  const reasons = [...minimumReasons(input), ...coldReasons(input)];
  if (flown === undefined) return [...reasons, ...profileReasons(input)];
  return [
    ...reasons,
    ...climbReasons(input, flown),
    ...crossingReasons(input, flown.path, leg.departureM),
    ...directionReasons(flown, leg.legCoursesDeg),
    ...oxygenReasons(input, flown),
    ...iceReasons(input, flown),
    ...windReasons(flown),
    ...profileReasons(input),
  ];
}

/** So near to the departure and the destination procedures of their own hold, m. */
const TERMINAL_M = mFromNm(15);
/** Less is within what an altimeter may be wrong by, m. */
const UNDER_M = mFromFt(300);

/** The climb or the last descent passes under the minimum of a place on the way. */
function climbReasons({ route, minimum, ...input }: ChooseInput, { path }: FlownCandidate): FlightReason[] {
  const endM = route.distanceM.at(-1)!;
  const low = path.steps.find(({ phase, pointIndex, endAltitudeM, fromM, toM }) => {
    const isTerminal = toM < TERMINAL_M || fromM > endM - TERMINAL_M;
    const isUnder = endAltitudeM + input.indicatedMinusPressureM < minimum.altitudeM[pointIndex]! - UNDER_M;
    return phase !== 'cruise' && !isTerminal && isUnder;
  });
  if (low === undefined) return [];
  const atFt = rounded(ftFromM(low.endAltitudeM + input.indicatedMinusPressureM), 'marginFt', 'screen');
  const minimumM = minimum.altitudeM[low.pointIndex]!;
  const distanceNm = nmFromM(low.toM);
  const sentence = `About ${withThousands(atFt)} ft in the ${low.phase} at ${rounded(distanceNm, 'distanceNm', 'screen')} NM, where the minimum is ${feet(minimumM)}: climb or descend by the procedure`;
  return [
    reason('under-minimum-in-climb', sentence, {
      minimumFt: apiFeet(minimumM),
      distanceNm: rounded(distanceNm, 'distanceNm', 'api'),
    }),
  ];
}

function directionReasons(flown: FlownCandidate, legCoursesDeg: readonly number[]): FlightReason[] {
  if (flown.direction === 'right-way') return [];
  const courses = legCoursesDeg.map((courseDeg) => rounded(courseDeg, 'courseDeg', 'screen'));
  const words = courses.length === 1 ? 'a magnetic course' : 'magnetic courses';
  return [
    reason(
      'ask-for-altitude',
      `${feet(flown.indicatedAltitudeM)} does not suit ${words} of ${courses.join(', ')} degrees: ask for it`,
      { altitudeFt: apiFeet(flown.indicatedAltitudeM), magneticCoursesDeg: courses.join(', ') },
    ),
  ];
}

function oxygenReasons(input: ChooseInput, flown: FlownCandidate): FlightReason[] {
  if (input.aircraft.oxygen === 'pressurized') return [];
  const { need, rule, aboveS } = oxygenOf(input, flown.pressureAltitudeM, flown.path);
  if (need === 'none') return [];
  const sentence = `Unless the cabin is pressurized, the pilot needs oxygen ${OXYGEN_WORDS[need]} (${rule})`;
  return [
    reason('oxygen', sentence, {
      altitudeFt: apiFeet(flown.pressureAltitudeM),
      minutesAbove: rounded(minutesOf(aboveS), 'timeMinutes', 'api'),
    }),
  ];
}

/** Less ice on the wing at landing is within what a landing distance is known to, m. */
const WORTH_SAYING_BUILT_M = 0.001;

/** What ice, and the guard against it, do to the aeroplane. */
function iceReasons({ aircraft }: ChooseInput, { exposure, separatorS }: FlownCandidate): FlightReason[] {
  const reasons: FlightReason[] = [];
  const { separator, landingWithIce } = aircraft;
  if (separatorS > 0 && separator.climbRateLoss > 0) {
    const lossPct = Math.round(separator.climbRateLoss * 100);
    const sentence = `Inlet separator on for ${hazardMinutes(separatorS)}: climbs ${lossPct} % less`;
    reasons.push(
      reason('inlet-separator', sentence, { minutes: apiMinutes(separatorS), climbLossPct: lossPct }),
    );
  }
  const builtM = exposure.builtAtLandingM.high;
  if (builtM < WORTH_SAYING_BUILT_M || aircraft.landingWithIce.landingDistanceGain === 0) return reasons;
  const gainPct = Math.round(landingWithIce.landingDistanceGain * 100);
  const builtMm = rounded(millimetersOf(builtM), 'builtMm', 'screen');
  const flaps = landingWithIce.flapNote === '' ? '' : `. ${landingWithIce.flapNote}`;
  const sentence = `With hold and approach up to ${builtMm} mm of ice at landing: distance ${gainPct} % longer${flaps}`;
  reasons.push(
    reason('landing-with-ice', sentence, {
      builtMm: rounded(millimetersOf(builtM), 'builtMm', 'api'),
      landingDistanceGainPct: gainPct,
    }),
  );
  return reasons;
}

/** Figures that the profile leaves out. */
function profileReasons({ aircraft: { assumed } }: ChooseInput): FlightReason[] {
  if (assumed.length === 0) return [];
  const sentence = `Not in the aircraft profile, generic figures stand in: ${assumed.join(', ')}`;
  return [reason('profile-incomplete', sentence, { members: assumed.join(', ') })];
}

function windReasons({ path }: FlownCandidate): FlightReason[] {
  if (path.windUnknownS === 0) return [];
  return [
    reason(
      'wind-unknown',
      `The wind is unknown for ${hazardMinutes(path.windUnknownS)}: times there are those of still air`,
      { minutes: apiMinutes(path.windUnknownS) },
    ),
  ];
}
