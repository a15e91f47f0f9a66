/**
 * Whether the weather expected at an aerodrome at a time is at or above the minima that the operator gave. What is not told, not read or
 * not made is unknown, never above; below is below whatever else is not known.
 */
import type { AerodromeReport, MetarReport, TafReport } from '../formats/aerodrome-reports/report.ts';
import type { Minima, WeatherStanding } from '../schema/board.ts';
import { clockWords } from './clock-words.ts';
import { metarAt, type Told, tafAt, type WeatherAt } from './weather-at.ts';
import {
  type Ceiling,
  ceilingOf,
  ceilingStanding,
  type Seen,
  type Standing,
  seenOf,
  seenStanding,
  worstStanding,
} from './weather-elements.ts';
import { weatherPhrase } from './weather-phrase.ts';

const MS_PER_MIN = 60_000;
/** An observation tells of the weather so long before and after it. */
const OBSERVED_MS = 90 * MS_PER_MIN;
/** Routine forecasts come every six hours (common practice): where none came for so long, the one before does not hold for sure. */
const OLD_FORECAST_MS = 8 * 60 * MS_PER_MIN;

export interface MinimaQuestion {
  readonly aerodrome: string;
  /** Of the arrival, epoch ms. */
  readonly atMs: number;
  /** null where nobody entered any. */
  readonly minima: Minima | null;
  /** Newest first, the later of two corrections first; those of other aerodromes are passed over. */
  readonly reports: readonly AerodromeReport[];
  /** What was issued later is not looked at, epoch ms. */
  readonly nowMs: number;
}

/** One report held against the minima. */
type Judged = Pick<WeatherStanding, 'standing' | 'sentence' | 'ceilingFt' | 'visibilityM' | 'issuedUtc'>;

export function weatherStanding(question: MinimaQuestion): WeatherStanding {
  const { aerodrome, atMs, minima } = question;
  const found = judged(question);
  const isOpen = minima === null;
  return {
    aerodrome,
    atUtc: new Date(atMs).toISOString(),
    ...found,
    standing: isOpen ? 'unknown' : found.standing,
    sentence: isOpen ? `No minima entered. ${found.sentence}` : found.sentence,
  };
}

/** What is seen to be below wins over a forecast that does not say so; else the forecast decides, and an observation where there is none. */
function judged(question: MinimaQuestion): Judged {
  const forecast = fromForecast(question);
  const observed = fromObservation(question);
  if (forecast === undefined) return observed ?? nothing(question);
  if (observed?.standing !== 'below' || forecast.standing === 'below') return forecast;
  if (forecast.standing === 'unknown') return observed;
  const issued = clockWords(Date.parse(forecast.issuedUtc ?? ''), question.atMs);
  return { ...observed, sentence: `${observed.sentence}; TAF of ${issued} above` };
}

function nothing({ aerodrome, atMs, reports }: MinimaQuestion): Judged {
  const any = reports.some(({ station }) => station === aerodrome);
  const sentence = any
    ? `No TAF for ${clockWords(atMs, atMs)}, and no METAR within 90 minutes of it`
    : `No TAF and no METAR of ${aerodrome} at hand`;
  return { standing: 'unknown', sentence, ceilingFt: null, visibilityM: null, issuedUtc: null };
}

/** undefined where no forecast is made for the time, and none was due. */
function fromForecast(question: MinimaQuestion): Judged | undefined {
  let nilMs: number | undefined;
  const forecasts = forecastsOf(question);
  for (const taf of forecasts) {
    if (taf.isCancellation) break;
    if (taf.isNil) nilMs ??= issuedMsOf(taf, question);
    else if (isValidAt(taf, question.atMs)) {
      const issuedMs = issuedMsOf(taf, question);
      const found = judge(tafAt(taf, question.atMs), question, { name: 'TAF', issuedMs });
      if (found.standing === 'below') return found;
      if (nilMs !== undefined) break;
      const isOld = question.nowMs - issuedMs > OLD_FORECAST_MS;
      return isOld ? old(issuedMs, question, taf === forecasts[0]) : found;
    }
  }
  return nilMs === undefined ? undefined : nil(nilMs, question);
}

/** No forecast was made: the one before does not hold for sure. */
function nil(issuedMs: number, { atMs }: MinimaQuestion): Judged {
  return unheld(issuedMs, `TAF of ${clockWords(issuedMs, atMs)} says NIL: no forecast was made`);
}

/** One that came since may begin after the time that is asked for. */
function old(issuedMs: number, { atMs }: MinimaQuestion, isNewest: boolean): Judged {
  const newer = isNewest ? 'came' : `is for ${clockWords(atMs, atMs)}`;
  return unheld(issuedMs, `TAF of ${clockWords(issuedMs, atMs)} is old, no newer one ${newer}`);
}

function unheld(issuedMs: number, sentence: string): Judged {
  const issuedUtc = new Date(issuedMs).toISOString();
  return { standing: 'unknown', sentence, ceilingFt: null, visibilityM: null, issuedUtc };
}

/** Latest first; of one time the one that takes back or mends the other. */
function forecastsOf(question: MinimaQuestion): TafReport[] {
  const rank = (taf: TafReport) =>
    Number(taf.isCancellation) * 4 + Number(taf.isAmendment) + Number(taf.isCorrection);
  const issuedMs = (taf: TafReport) => issuedMsOf(taf, question);
  return question.reports
    .filter((each): each is TafReport => each.kind === 'taf' && each.station === question.aerodrome)
    .filter((each) => issuedMs(each) <= question.nowMs)
    .sort((a, b) => issuedMs(b) - issuedMs(a) || rank(b) - rank(a));
}

/** A forecast that does not say when it was issued was by the time that it begins, or by now. */
function issuedMsOf({ issuedMs, validFromMs }: TafReport, { nowMs }: MinimaQuestion): number {
  return issuedMs ?? Math.min(validFromMs ?? nowMs, nowMs);
}

function isValidAt({ validFromMs, validUntilMs }: TafReport, atMs: number): boolean {
  return validFromMs !== null && validUntilMs !== null && validFromMs <= atMs && atMs < validUntilMs;
}

/** The latest; one before it where that one leaves open what was seen to be below. undefined where none was made near the time. */
function fromObservation(question: MinimaQuestion): Judged | undefined {
  const found = question.reports
    .filter((each): each is MetarReport => each.kind !== 'taf' && each.station === question.aerodrome)
    .filter(({ timeMs }) => timeMs <= question.nowMs && Math.abs(question.atMs - timeMs) <= OBSERVED_MS)
    .sort((a, b) => b.timeMs - a.timeMs || Number(b.isCorrection) - Number(a.isCorrection))
    .map((report) => judgeObservation(report, question));
  const known = found.find(({ standing }) => standing !== 'unknown');
  return known?.standing === 'below' ? known : found[0];
}

/** Of a report that says NIL nothing is given: each element is told as such. */
function judgeObservation(report: MetarReport, question: MinimaQuestion): Judged {
  const name = report.kind === 'speci' ? 'SPECI' : 'METAR';
  return judge(metarAt(report, question.atMs), question, { name, issuedMs: report.timeMs });
}

interface Source {
  readonly name: string;
  readonly issuedMs: number;
}

function judge(
  { skies, visibilities, hasUnread }: WeatherAt,
  question: MinimaQuestion,
  source: Source,
): Judged {
  const { ceilingFt: requiredFt, visibilityM: requiredM } = question.minima ?? NONE_REQUIRED;
  const ceiling = worstOf(skies, ceilingOf, {
    standingOf: (each: Ceiling) => ceilingStanding(each, requiredFt),
    figureOf: ({ knownFt, possibleFt }) => knownFt ?? possibleFt ?? Infinity,
  });
  const seen = worstOf(visibilities, seenOf, {
    standingOf: (each: Seen) => seenStanding(each, requiredM),
    figureOf: ({ knownM }) => knownM ?? 0,
  });
  const standing = worstStanding([ceiling.standing, seen.standing, hasUnread ? 'unknown' : 'above']);
  const unread = hasUnread ? ', part of it cannot be read' : '';
  return {
    standing,
    sentence: `${source.name} of ${clockWords(source.issuedMs, question.atMs)}: ${elementWords(ceiling, seen)}${unread}`,
    ceilingFt: ceiling.figure.knownFt,
    visibilityM: seen.figure.knownM === null ? null : Math.round(seen.figure.knownM),
    issuedUtc: new Date(source.issuedMs).toISOString(),
  };
}

const NONE_REQUIRED: Minima = { ceilingFt: null, visibilityM: 0 };

interface Worst<Figure> {
  readonly figure: Figure;
  readonly standing: Standing;
  readonly told: Told<unknown>;
}

interface Scale<Figure> {
  readonly standingOf: (figure: Figure) => Standing;
  /** Lower is worse. */
  readonly figureOf: (figure: Figure) => number;
}

/** Of all that may hold, what stands worst; of equal ones the lowest. There is always one that prevails. */
function worstOf<Element, Figure>(
  all: readonly Told<Element>[],
  read: (element: Element | null) => Figure,
  { standingOf, figureOf }: Scale<Figure>,
): Worst<Figure> {
  const worst = all.map((told) => {
    const figure = read(told.element);
    return { figure, standing: standingOf(figure), told };
  });
  const isWorse = (a: Worst<Figure>, b: Worst<Figure>) =>
    a.standing === b.standing
      ? figureOf(a.figure) < figureOf(b.figure)
      : worstStanding([a.standing, b.standing]) === a.standing;
  return worst.reduce((found, each) => (isWorse(each, found) ? each : found));
}

/** "400 ft, 1,600 m in snow at times". */
function elementWords(ceiling: Worst<Ceiling>, seen: Worst<Seen>): string {
  const weather = weatherPhrase(seen.told.weather);
  const inWeather = weather === '' ? '' : ` in ${weather}`;
  const chance = ({ told }: Worst<unknown>) => (told.chance === '' ? '' : ` ${told.chance}`);
  const seenWords = `${seen.figure.words}${inWeather}${chance(seen)}`;
  const isSame = ceiling.told.chance === seen.told.chance;
  return `${ceiling.figure.words}${isSame ? '' : chance(ceiling)}, ${seenWords}`;
}
