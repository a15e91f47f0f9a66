/** Facts about an altitude that are not icing: minimum altitudes not known or in the cold, oxygen, direction, unknown wind. */
import { nmFromM } from '../science/units.ts';
import { coldReasons } from './cold-altitude.ts';
import { crossingReasons } from './crossings.ts';
import { type FlownCandidate, oxygenOf } from './fly-candidate.ts';
import type { OxygenNeed } from './oxygen.ts';
import { rounded } from './rounding.ts';
import {
  type ChooseInput,
  type FlightReason,
  MINIMUM_SOURCES,
  type MinimumAltitudes,
  type MinimumSource,
} from './types.ts';
import { apiFeet, apiMinutes, feet, hazardMinutes, millimetersOf, minutesOf, reason } from './words.ts';

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
    ...crossingReasons(input, flown.path, leg.departureM),
    ...directionReasons(flown, leg.legCoursesDeg),
    ...oxygenReasons(input, flown),
    ...iceReasons(input, flown),
    ...windReasons(flown),
    ...profileReasons(input),
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
  const sentence = `Up to ${builtMm} mm of ice at landing: distance ${gainPct} % longer${flaps}`;
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
