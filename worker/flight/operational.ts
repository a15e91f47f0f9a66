/** Facts about an altitude that are not icing: minimum altitudes not known or in the cold, oxygen, direction, unknown wind. */
import { mFromFt } from '../science/units.ts';
import { coldReasons } from './cold-altitude.ts';
import type { FlownCandidate } from './fly-candidate.ts';
import { minimumReasons } from './minimum-reasons.ts';
import { type OxygenNeed, oxygenNeed } from './oxygen.ts';
import { rounded } from './rounding.ts';
import type { ChooseInput, FlightReason } from './types.ts';
import { apiFeet, apiMinutes, feet, hazardMinutes, minutesOf, reason } from './words.ts';

/** Where the long-stay limit of 14 CFR 135.89(a) starts. */
const OXYGEN_FROM_M = mFromFt(10000);

const OXYGEN_WORDS: Readonly<Record<Exclude<OxygenNeed, 'none'>, string>> = {
  'crew-after-30-minutes': 'after 30 min',
  crew: 'all the time',
  'crew-and-occupants': 'all the time, and for every occupant',
};

/** @param flown  The recommended or least bad altitude; undefined when none could be flown. */
export function operationalReasons(
  input: ChooseInput,
  flown: FlownCandidate | undefined,
  legCoursesDeg: readonly number[],
): FlightReason[] {
  const reasons = [...minimumReasons(input), ...coldReasons(input)];
  if (flown === undefined) return reasons;
  return [
    ...reasons,
    ...directionReasons(flown, legCoursesDeg),
    ...oxygenReasons(flown),
    ...windReasons(flown),
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

function oxygenReasons(flown: FlownCandidate): FlightReason[] {
  const aboveS = flown.path.steps
    .filter((step) => step.pressureAltitudeM > OXYGEN_FROM_M)
    .reduce((sumS, step) => sumS + step.durationS, 0);
  const need = oxygenNeed('14 CFR 135.89(a)', flown.pressureAltitudeM, aboveS);
  if (need === 'none') return [];
  return [
    reason(
      'oxygen',
      `Unless the cabin is pressurized, the pilot needs oxygen ${OXYGEN_WORDS[need]} (14 CFR 135.89)`,
      {
        altitudeFt: apiFeet(flown.pressureAltitudeM),
        minutesAbove10000Ft: rounded(minutesOf(aboveS), 'timeMinutes', 'api'),
      },
    ),
  ];
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
