/** A pilot's report as the page offers it: place, time and level from the cursor, ice from what was seen, the rest to be tapped. */
import { magneticCourseDeg, makeMagneticModel } from '../../../worker/flight/magnetic.ts';
import type { LargeDropSign, SeenAnswer } from '../../../worker/flight/seen-ice.ts';
import type { ReportEntry } from '../../../worker/formats/pilot-reports/compose.ts';
import {
  greatCircleDistanceM,
  initialCourseRad,
  type Position,
} from '../../../worker/science/great-circle.ts';
import { nmFromM } from '../../../worker/science/units.ts';
import { levelAtFt } from '../considered.ts';
import type { BriefMember, Candidate, RoutePoint } from '../contract.ts';
import { timeAtMs } from '../leg-time.ts';
import { positionAt } from '../plan/cursor-position.ts';
import { figureOf } from './figures.ts';
import type { SeenEntry } from './seen-here.ts';

export const ICE_CHOICES = ['not-reported', 'none', 'trace', 'light', 'moderate', 'severe'] as const;
export type IceChoice = (typeof ICE_CHOICES)[number];
export const KIND_CHOICES = ['unstated', 'rime', 'mixed', 'clear'] as const;
export type KindChoice = (typeof KIND_CHOICES)[number];
export const WEATHER_CHOICES = ['FZRA', 'FZDZ', 'PL', 'SN'] as const;
export type WeatherChoice = (typeof WEATHER_CHOICES)[number];

/** What somebody tapped or typed; undefined and '' leave the element out. */
export interface ReportFields {
  readonly ice: IceChoice;
  readonly kind: KindChoice;
  readonly fromFt: string;
  readonly toFt: string;
  readonly topsFt: string;
  readonly basesFt: string;
  readonly weather: readonly WeatherChoice[];
  readonly aircraftType: string;
  readonly remarks: string;
}

export const NO_FIELDS: ReportFields = {
  ice: 'not-reported',
  kind: 'unstated',
  fromFt: '',
  toFt: '',
  topsFt: '',
  basesFt: '',
  weather: [],
  aircraftType: '',
  remarks: '',
};

export interface ReportPlace {
  readonly station: string;
  readonly place: ReportEntry['place'];
  readonly altitudeFt: number;
  readonly phase: ReportEntry['phase'];
  readonly timeMs: number;
}

const IDENTIFIER = /^[A-Z0-9]{3,5}$/;
const STATION = /^[A-Z0-9]{3,4}$/;
/** Nearer to a fix it is over it. */
const OVER_NM = 2;
/** Less is level flight and an altimeter. */
const CLIMBING_FT = 300;

/**
 * Where, when and how high: from the nearest fix of the leg, at the time of now while the leg is flown, else as it was planned.
 * undefined for a leg of which no fix and no end has an identifier that reports can name.
 */
export function reportPlaceAt(
  { leg }: Pick<BriefMember, 'leg'>,
  candidate: Candidate,
  at: { readonly distanceNm: number; readonly altitudeFt: number; readonly nowMs: number },
): ReportPlace | undefined {
  const [lonDeg, latDeg] = positionAt(leg.points, at.distanceNm) ?? [Number.NaN, Number.NaN];
  const here = { latDeg, lonDeg };
  const timeMs = timeOf(leg.points, at);
  const station = nearest(
    leg.points.filter((point) => STATION.test(point.fix ?? '') && isEnd(leg, point)),
    here,
  );
  const fix = nearest(
    leg.points.filter((point) => IDENTIFIER.test(point.fix ?? '')),
    here,
  );
  if (station === undefined || fix === undefined || timeMs === undefined) return undefined;
  return {
    station: station.fix!,
    place: placeFrom(fix, here, timeMs),
    altitudeFt: Math.round(at.altitudeFt / 100) * 100,
    phase: phaseAt(leg, candidate, at),
    timeMs,
  };
}

const isEnd = ({ from, to }: BriefMember['leg'], { fix }: RoutePoint) => fix === from || fix === to;

function timeOf(
  points: readonly RoutePoint[],
  { distanceNm, nowMs }: { readonly distanceNm: number; readonly nowMs: number },
): number | undefined {
  const [leavesMs, arrivesMs] = [points[0], points.at(-1)].map((point) => Date.parse(point?.etaUtc ?? ''));
  const isUnderWay =
    leavesMs !== undefined && arrivesMs !== undefined && nowMs >= leavesMs && nowMs <= arrivesMs;
  return isUnderWay ? nowMs : timeAtMs(points, distanceNm);
}

function nearest(points: readonly RoutePoint[], here: Position): RoutePoint | undefined {
  const farM = (point: RoutePoint) => greatCircleDistanceM(point, here);
  return points.toSorted((a, b) => farM(a) - farM(b))[0];
}

/** On its magnetic radial, 360 for north. */
function placeFrom(fix: RoutePoint, here: Position, timeMs: number): ReportEntry['place'] {
  const identifier = fix.fix!;
  const distanceNm = Math.round(nmFromM(greatCircleDistanceM(fix, here)));
  if (distanceNm < OVER_NM) return { kind: 'fix', identifier };
  const model = makeMagneticModel(timeMs);
  const radialDeg = Math.round(magneticCourseDeg(model, fix, initialCourseRad(fix, here)));
  return { kind: 'radial', identifier, radialDeg: radialDeg === 0 ? 360 : radialDeg, distanceNm };
}

function phaseAt(
  leg: BriefMember['leg'],
  candidate: Candidate,
  { distanceNm, altitudeFt }: { readonly distanceNm: number; readonly altitudeFt: number },
): ReportEntry['phase'] {
  if (altitudeFt > levelAtFt(candidate, distanceNm) - CLIMBING_FT) return undefined;
  return distanceNm < leg.distanceNm / 2 ? 'climb' : 'descent';
}

/** Nothing of the forecast goes into it: only what was seen, read and typed. */
export function reportEntryOf(
  place: ReportPlace,
  fields: ReportFields,
  seen: { readonly temperatureC: number | undefined; readonly signs: readonly LargeDropSign[] },
): ReportEntry {
  const { station, timeMs, altitudeFt, phase } = place;
  return {
    station,
    place: place.place,
    timeMs,
    altitudeFt,
    phase,
    aircraftType: fields.aircraftType.trim() === '' ? undefined : fields.aircraftType.trim(),
    sky: skyOf(fields),
    visibilitySm: undefined,
    weather: fields.weather,
    temperatureC: seen.temperatureC === undefined ? undefined : Math.round(seen.temperatureC),
    wind: undefined,
    turbulence: { kind: 'not-reported' },
    icing: icingOf(fields),
    remarks: [...seen.signs.map((sign) => SIGN_REMARKS[sign]), fields.remarks.trim()]
      .filter(Boolean)
      .join(' '),
    isJudgedHazardous: seen.signs.length > 0 || fields.weather.some((group) => group.startsWith('FZ')),
  };
}

const SIGN_REMARKS: Readonly<Record<LargeDropSign, string>> = {
  'rain-or-splash': 'SUPERCOOLED RAIN OR SPLASHES',
  'ice-aft': 'ICE AFT OF USUAL',
  'side-window': 'ICE ON SIDE WINDOWS',
  spinner: 'ICE FAR BACK ON SPINNER',
};

function skyOf({ topsFt, basesFt }: ReportFields): ReportEntry['sky'] {
  const [topFt, baseFt] = [figureOf(topsFt), figureOf(basesFt)];
  if (topFt === undefined && baseFt === undefined) return [];
  // The form has no base without an amount; who saw a base from below or left a top was in or over a layer.
  const amount = baseFt === undefined ? 'unstated' : 'overcast';
  return [{ thinnest: amount, thickest: amount, baseFt, topFt }];
}

function icingOf({ ice, kind, fromFt, toFt }: ReportFields): ReportEntry['icing'] {
  if (ice === 'not-reported' || ice === 'none') return { kind: ice };
  return {
    kind: 'met',
    lightest: ice,
    heaviest: ice,
    what: kind,
    lowerFt: figureOf(fromFt),
    upperFt: figureOf(toFt),
  };
}

/** Ice where it is not usual, or that the protection does not take off, is severe at any rate (AIM 7-1-19). */
const SEVERE_SIGNS: ReadonlySet<LargeDropSign> = new Set(['ice-aft', 'side-window', 'spinner']);

/** The word that what was seen makes on the wing; undefined where nothing was entered. */
export function iceChoiceOf(
  answer: SeenAnswer | undefined,
  { thicknessMm, signs, isProtectionBehind }: Pick<SeenEntry, 'thicknessMm' | 'signs' | 'isProtectionBehind'>,
): IceChoice | undefined {
  if (isProtectionBehind || signs.some((sign) => SEVERE_SIGNS.has(sign))) return 'severe';
  if (answer === undefined || thicknessMm === 0) return undefined;
  const { middle } = answer.onWing;
  if (middle.kind === 'beyond') return 'severe';
  return middle.intensity === 'none' ? 'trace' : middle.intensity;
}
