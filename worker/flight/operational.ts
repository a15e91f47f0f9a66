/** Facts about an altitude that are not icing: minimum altitudes not known or in the cold, oxygen, direction, unknown wind. */
import { mFromFt, nmFromM } from '../science/units.ts';
import { coldReasons } from './cold-altitude.ts';
import type { FlownCandidate } from './fly-candidate.ts';
import { type OxygenNeed, oxygenNeed } from './oxygen.ts';
import { rounded } from './rounding.ts';
import {
  type ChooseInput,
  type FlightReason,
  MINIMUM_SOURCES,
  type MinimumAltitudes,
  type MinimumSource,
} from './types.ts';
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

function minimumReasons({ route, minimum }: ChooseInput): FlightReason[] {
  const reasons = stretchesOf(minimum.source, 'unknown').map(({ fromPoint, toPoint }) => {
    const fromNm = nmFromM(route.distanceM[fromPoint]!);
    const toNm = nmFromM(route.distanceM[toPoint]!);
    return reason(
      'minimum-altitude-unknown',
      `The minimum altitude is unknown ${betweenWords(fromNm, toNm)}: enter it from the chart`,
      { fromNm: rounded(fromNm, 'distanceNm', 'api'), toNm: rounded(toNm, 'distanceNm', 'api') },
    );
  });
  reasons.push(...overruledReasons(minimum));
  const spots = stretchesOf(minimum.source, 'spot-heights');
  if (spots.length === 0) return reasons;
  const sentence =
    'Minimum altitudes from spot heights plus 2,000 ft: higher ground between spots is not known';
  return [...reasons, reason('minimum-altitude-from-spot-heights', sentence, { stretches: spots.length })];
}

/** The lowest entered minimum that known ground rules out. */
function overruledReasons(minimum: MinimumAltitudes): FlightReason[] {
  let worst = -1;
  minimum.overruledM.forEach((enteredM, point) => {
    if (Number.isNaN(enteredM)) return;
    if (
      worst < 0 ||
      enteredM - minimum.terrainM[point]! < minimum.overruledM[worst]! - minimum.terrainM[worst]!
    ) {
      worst = point;
    }
  });
  if (worst < 0) return [];
  const enteredM = minimum.overruledM[worst]!;
  const groundM = minimum.terrainM[worst]!;
  const sentence = `The entered minimum of ${feet(enteredM)} does not hold over ground of ${feet(groundM)}: check it`;
  return [
    reason('entered-minimum-overruled', sentence, {
      enteredFt: apiFeet(enteredM),
      groundFt: apiFeet(groundM),
    }),
  ];
}

function betweenWords(fromNm: number, toNm: number): string {
  const from = rounded(fromNm, 'distanceNm', 'screen');
  const to = rounded(toNm, 'distanceNm', 'screen');
  return from === to ? `at ${from} NM` : `from ${from} to ${to} NM`;
}

/** Runs of points whose minimum comes from one source. */
function stretchesOf(source: Uint8Array, wanted: MinimumSource): { fromPoint: number; toPoint: number }[] {
  const code = MINIMUM_SOURCES.indexOf(wanted);
  const found: { fromPoint: number; toPoint: number }[] = [];
  source.forEach((each, point) => {
    if (each !== code) return;
    const last = found.at(-1);
    if (last !== undefined && last.toPoint === point - 1) last.toPoint = point;
    else found.push({ fromPoint: point, toPoint: point });
  });
  return found;
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
