/** A pilot's report as the page offers it: place from the cursor, ice from what was seen, the rest to be tapped or typed. */
import { magneticCourseDeg, makeMagneticModel } from '../../../worker/flight/magnetic.ts';
import type { LargeDropSign, SeenAnswer } from '../../../worker/flight/seen-ice.ts';
import type { EntryFault, ReportEntry } from '../../../worker/formats/pilot-reports/compose.ts';
import {
  greatCircleDistanceM,
  initialCourseRad,
  type Position,
} from '../../../worker/science/great-circle.ts';
import { nmFromM } from '../../../worker/science/units.ts';
import type { BriefMember, RoutePoint } from '../contract.ts';
import { placeAtNm, timeAtMs } from '../leg-time.ts';
import { positionAt } from '../plan/cursor-position.ts';
import { heightFtOf } from './figures.ts';
import type { Here, SeenEntry } from './seen-here.ts';

export const ICE_CHOICES = ['not-reported', 'none', 'trace', 'light', 'moderate', 'severe'] as const;
export type IceChoice = (typeof ICE_CHOICES)[number];
export type KindChoice = 'unstated' | 'rime' | 'mixed' | 'clear';
export type AmountChoice = 'unstated' | 'few' | 'scattered' | 'broken' | 'overcast';
export const WEATHER_CHOICES = ['FZRA', 'FZDZ', 'PL', 'SN'] as const;
export type WeatherChoice = (typeof WEATHER_CHOICES)[number];

/** What somebody tapped or typed; 'not-reported', 'unstated' and '' leave the element out. */
export interface ReportFields {
  readonly ice: IceChoice;
  readonly kind: KindChoice;
  readonly fromFt: string;
  readonly toFt: string;
  readonly altitudeFt: string;
  /** hhmm UTC. */
  readonly time: string;
  readonly amount: AmountChoice;
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
  altitudeFt: '',
  time: '',
  amount: 'unstated',
  topsFt: '',
  basesFt: '',
  weather: [],
  aircraftType: '',
  remarks: '',
};

export interface ReportPlace {
  readonly station: string;
  readonly place: ReportEntry['place'];
  /** Of the plan, in hundreds: offered, and told of nobody who does not say so. */
  readonly plannedFt: number;
  readonly plannedPhase: ReportEntry['phase'];
  /** undefined where only the pilot can know it. */
  readonly timeMs: number | undefined;
  /** Over the place by the plan: the day of a typed time is taken from it. */
  readonly plannedMs: number;
}

const IDENTIFIER = /^[A-Z0-9]{3,5}$/;
const STATION = /^[A-Z0-9]{3,4}$/;
/** Nearer to a fix it is over it. */
const OVER_NM = 2;

interface ReportAt {
  readonly here: Pick<Here, 'distanceNm' | 'altitudeFt' | 'phase'>;
  readonly nowMs: number;
  /** Its clock stands at the plan. */
  readonly isInvented: boolean;
}

/** undefined for a leg of which no fix and no end has an identifier that reports can name. */
export function reportPlaceAt({ leg }: Pick<BriefMember, 'leg'>, at: ReportAt): ReportPlace | undefined {
  const { distanceNm, altitudeFt, phase } = at.here;
  const [lonDeg, latDeg] = positionAt(leg.points, distanceNm) ?? [Number.NaN, Number.NaN];
  const here = { latDeg, lonDeg };
  const plannedMs = timeAtMs(leg.points, distanceNm);
  const ends = leg.points.filter(
    ({ fix }) => STATION.test(fix ?? '') && (fix === leg.from || fix === leg.to),
  );
  const station = nearest(ends, here);
  const fix = nearest(
    leg.points.filter((point) => IDENTIFIER.test(point.fix ?? '')),
    here,
  );
  if (station === undefined || fix === undefined || plannedMs === undefined) return undefined;
  return {
    station: station.fix!,
    place: placeFrom(fix, here, plannedMs),
    plannedFt: Math.round(altitudeFt / 100) * 100,
    plannedPhase: phase === 'level' ? undefined : phase,
    timeMs: timeOf(leg.points, plannedMs, at),
    plannedMs,
  };
}

/** So long after the planned arrival a flight may still be under way, or its pilot at the keys. */
const AFTERWARDS_MS = 3 * 3_600_000;
/** A cursor so far behind the plan's place is where the ice was, not where the aeroplane is. */
const BEHIND_NM = 10;

/** Now while it is flown and just afterwards; of a place further back the time over it; else nobody knows. */
function timeOf(points: readonly RoutePoint[], plannedMs: number, at: ReportAt): number | undefined {
  if (at.isInvented) return plannedMs;
  const leavesMs = Date.parse(points[0]!.etaUtc);
  const arrivesMs = Date.parse(points.at(-1)!.etaUtc);
  if (at.nowMs < leavesMs || at.nowMs > arrivesMs + AFTERWARDS_MS) return undefined;
  const nowNm = placeAtNm(points, at.nowMs);
  const isBehind = nowNm !== undefined && at.here.distanceNm < nowNm - BEHIND_NM;
  return isBehind ? Math.min(plannedMs, at.nowMs) : at.nowMs;
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

export interface SeenForReport {
  /** Static, of a gauge that was read; undefined otherwise. */
  readonly temperatureC: number | undefined;
  readonly signs: readonly LargeDropSign[];
  readonly isIceSeen: boolean;
}

export type ReportDraft =
  | { readonly kind: 'entry'; readonly entry: ReportEntry }
  | { readonly kind: 'faults'; readonly faults: readonly EntryFault[] };

/** Nothing of the forecast and nothing of the plan goes into it unsaid: only what was seen, read, tapped and typed. */
export function reportEntryOf(place: ReportPlace, fields: ReportFields, seen: SeenForReport): ReportDraft {
  const timeMs = fields.time.trim() === '' ? place.timeMs : typedTimeMs(fields.time, place.plannedMs);
  const faults = faultsOf(fields, seen, timeMs);
  if (faults.length > 0 || timeMs === undefined) return { kind: 'faults', faults };
  const altitudeFt = heightOf(fields.altitudeFt);
  const entry: ReportEntry = {
    station: place.station,
    place: place.place,
    timeMs,
    altitudeFt,
    phase: altitudeFt === place.plannedFt ? place.plannedPhase : undefined,
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
  return { kind: 'entry', entry };
}

function faultsOf(
  { ice, amount, basesFt, time }: ReportFields,
  { signs, isIceSeen }: SeenForReport,
  timeMs: number | undefined,
): EntryFault[] {
  const faults: EntryFault[] = [];
  if (timeMs === undefined)
    faults.push({ field: 'time', found: time.trim() === '' ? 'nothing' : time, expected: 'hhmm UTC' });
  if (ice === 'none' && (signs.length > 0 || isIceSeen))
    faults.push({
      field: 'icing',
      found: 'no ice met, and ice or its signs entered above',
      expected: 'the one or the other',
    });
  if (basesFt.trim() !== '' && amount === 'unstated')
    faults.push({ field: 'sky.0.baseFt', found: 'bases alone', expected: 'how much cloud, too' });
  return faults;
}

const MS_PER_DAY = 86_400_000;
const MS_PER_MIN = 60_000;

/** The last instant of that time of day that the flight can be at; undefined for what is no time. */
function typedTimeMs(text: string, plannedMs: number): number | undefined {
  const [, hour, minute] = /^([01]\d|2[0-3]):?([0-5]\d)$/.exec(text.trim()) ?? [];
  if (hour === undefined || minute === undefined) return undefined;
  const ofDayMs = (Number(hour) * 60 + Number(minute)) * MS_PER_MIN;
  const days = Math.floor((plannedMs + AFTERWARDS_MS - ofDayMs) / MS_PER_DAY);
  return days * MS_PER_DAY + ofDayMs;
}

/** What cannot be read is NaN, which the composer refuses by its field: nothing that was typed is left out unsaid. */
function heightOf(text: string): number | undefined {
  return text.trim() === '' ? undefined : (heightFtOf(text) ?? Number.NaN);
}

const SIGN_REMARKS: Readonly<Record<LargeDropSign, string>> = {
  'rain-or-splash': 'SUPERCOOLED RAIN OR SPLASHES',
  'ice-aft': 'ICE AFT OF USUAL',
  'side-window': 'ICE ON SIDE WINDOWS',
  spinner: 'ICE FAR BACK ON SPINNER',
};

function skyOf({ amount, topsFt, basesFt }: ReportFields): ReportEntry['sky'] {
  const [topFt, baseFt] = [heightOf(topsFt), heightOf(basesFt)];
  if (topFt === undefined && baseFt === undefined && amount === 'unstated') return [];
  return [{ thinnest: amount, thickest: amount, baseFt, topFt }];
}

function icingOf({ ice, kind, fromFt, toFt }: ReportFields): ReportEntry['icing'] {
  if (ice === 'not-reported' || ice === 'none') return { kind: ice };
  return {
    kind: 'met',
    lightest: ice,
    heaviest: ice,
    what: kind,
    lowerFt: heightOf(fromFt),
    upperFt: heightOf(toFt),
  };
}

/** Ice where it is not usual, or that the protection does not take off, is severe at any rate (AIM 7-1-19). */
const SEVERE_SIGNS: ReadonlySet<LargeDropSign> = new Set(['ice-aft', 'side-window', 'spinner']);

type SeenWord = Pick<SeenEntry, 'part' | 'thicknessMm' | 'gaugeC' | 'signs' | 'isProtectionBehind'>;

/**
 * The word that what was seen makes; undefined where nothing was entered, and where only the forecast's temperature would lead
 * from the rod to the wing: then the pilot says it.
 */
export function iceChoiceOf(answer: SeenAnswer, seen: SeenWord): IceChoice | undefined {
  if (seen.isProtectionBehind || seen.signs.some((sign) => SEVERE_SIGNS.has(sign))) return 'severe';
  const isMeasured = seen.part === 'wing' || seen.gaugeC !== undefined;
  const middle = answer.onWing?.middle;
  if (seen.thicknessMm === 0 || !isMeasured || middle?.kind !== 'found') return undefined;
  return middle.rateWord === 'none' ? 'trace' : middle.rateWord;
}

/** The pilot's own word is lighter than what was entered above. */
export function isLighter(chosen: IceChoice, suggested: IceChoice | undefined): boolean {
  return suggested !== undefined && ICE_CHOICES.indexOf(chosen) < ICE_CHOICES.indexOf(suggested);
}
