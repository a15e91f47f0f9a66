/** Observations of aerodromes as facts that bear on legs. */
import type { Weather } from '../../formats/aerodrome-reports/conditions.ts';
import type { ChangeGroup, MetarReport } from '../../formats/aerodrome-reports/report.ts';
import { isBelowZero } from '../../formats/aerodrome-reports/temperature-pressure-groups.ts';
import { mFromFt } from '../../science/units.ts';
import type { ReportedIce } from '../reports.ts';
import { clockWords, type FactContext, MS_PER_HOUR, type NewReport, OPEN } from './make-report.ts';
import { stationAreas } from './station-areas.ts';
import { hasLiquid, iceOfWeather, mayHoldIce, type WeatherIce } from './weather-ice.ts';

/** An observation counts for flights until this long after it: a judgement, two hourly reports missed. */
export const FRESH_MS = 2 * MS_PER_HOUR;
/** At a higher temperature a group that could not be read is taken for rain, C. */
const MAY_FREEZE_C = 2;
/** Heights of ice aloft in remarks may count from the ground or from the sea. */
const REMARK_MARGIN_M = mFromFt(2000);

export function metarFacts(report: MetarReport, context: FactContext): NewReport {
  const { kind, station, timeMs, text } = report;
  const place = stationAreas(station, context);
  const untilMs = timeMs + FRESH_MS;
  return {
    kind,
    hazardKind: 'surface-report',
    series: `metar ${station} ${timeMs}`,
    rank: correctionRank(report),
    issuedMs: timeMs,
    validFromMs: timeMs,
    validToMs: untilMs,
    text,
    areas: place.areas,
    ice: place.counted([
      ...observedIce(report, place.elevationM).map(({ words, severity, lower, upper }) => ({
        severity,
        sentence: `${station} reports ${words} at ${clockWords(timeMs)}`,
        fromMs: timeMs,
        toMs: untilMs,
        lower,
        upper,
      })),
      ...trendIce(report, place.elevationM, untilMs),
    ]),
    cancels: undefined,
    isDoubtful: report.isNil || report.hasUnreadWeather || report.unread.length > 0,
  };
}

/** COR and CCA are the first correction, CCB the second. */
function correctionRank({ isCorrection, text }: Pick<MetarReport, 'isCorrection' | 'text'>): number {
  if (!isCorrection) return 0;
  const letter = /(?<![A-Z])CC([A-Z])(?![A-Z])/.exec(text)?.[1] ?? 'A';
  return letter.charCodeAt(0) - 'A'.charCodeAt(0) + 1;
}

function observedIce(report: MetarReport, elevationM: number): WeatherIce[] {
  const { remarks, weather } = report;
  const now = iceOfWeather(weather, elevationM);
  const recent = [...report.recentWeather, ...(remarks?.weatherEvents ?? []).map((each) => each.weather)];
  const past = iceOfWeather(withoutFog(recent), elevationM)
    .filter(({ words }) => now.every((each) => each.words !== words))
    .map((each) => ({ ...each, words: `recent ${each.words}` }));
  const near = iceOfWeather(withoutFog(remarks?.weatherMentioned ?? []), elevationM);
  const sensed = (remarks?.iceAccretion.length ?? 0) > 0 || remarks?.isIceDetected === true;
  const sensor = sensed ? [unstated('ice on its sensor')] : [];
  return [
    ...now,
    ...past,
    ...near.map(({ words }) => unstated(`${words} nearby`)),
    ...sensor,
    ...doubtfulIce(report),
    ...icingAloft(report),
  ];
}

const withoutFog = (weather: readonly Weather[]) =>
  weather.filter(({ phenomena }) => !phenomena.includes('FG') && !phenomena.includes('BR'));

function unstated(words: string): WeatherIce {
  return { severity: 'unstated', words, lower: OPEN, upper: { kind: 'freezing-level' } };
}

/** Rain where it may freeze, and weather that was not understood where it may be freezing. */
function doubtfulIce(report: MetarReport): WeatherIce[] {
  return [...coldRain(report), ...unreadIce(report, lowestC(report))];
}

function coldRain(report: MetarReport): WeatherIce[] {
  if (!hasLiquid(report.weather)) return [];
  const temperatureC = lowestC(report);
  if (temperatureC === null) return [unstated('rain at an unknown temperature')];
  return isBelowZero(temperatureC) ? [unstated('rain below freezing')] : [];
}

/** C, of the body and the remarks, which may disagree; null where it is missing. */
function lowestC({ temperatureC, remarks }: MetarReport): number | null {
  const toldC = [temperatureC, remarks?.temperatureC ?? null].filter((each) => each !== null);
  return toldC.length === 0 ? null : Math.min(...toldC);
}

function unreadIce(
  { unread, hasUnreadWeather }: MetarReport | ChangeGroup,
  temperatureC: number | null,
): WeatherIce[] {
  const mayFreeze = temperatureC === null || temperatureC <= MAY_FREEZE_C;
  return mayHoldIce(unread) || (hasUnreadWeather && mayFreeze)
    ? [unstated('weather that cannot be read')]
    : [];
}

function icingAloft({ remarks }: MetarReport): WeatherIce[] {
  return (remarks?.icing ?? []).map(({ intensity, lowerM, upperM }) => ({
    severity: intensity === 'light' ? 'unstated' : intensity,
    words: `${intensity} icing aloft`,
    lower: lowerM === null ? OPEN : { kind: 'altitude', altitudeM: lowerM, marginM: REMARK_MARGIN_M },
    upper: upperM === null ? OPEN : { kind: 'altitude', altitudeM: upperM, marginM: REMARK_MARGIN_M },
  }));
}

/** What the trend of two hours expects. */
function trendIce(report: MetarReport, elevationM: number, untilMs: number): ReportedIce[] {
  const { station, timeMs, trends } = report;
  return trends.flatMap((trend) => {
    const fromMs = trend.fromMs ?? trend.atMs ?? timeMs;
    const ice = [...iceOfWeather(trend.weather, elevationM), ...unreadIce(trend, lowestC(report))];
    return ice.map(({ words, severity, lower, upper }) => ({
      severity,
      sentence: `${station} expects ${words} from ${clockWords(fromMs)}`,
      fromMs,
      toMs: Math.max(fromMs, trend.untilMs ?? untilMs),
      lower,
      upper,
    }));
  });
}
