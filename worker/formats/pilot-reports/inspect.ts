/** Pilot reports as JSON for people: feet, knots, nautical miles, degrees Celsius, null where a value is missing. */
import { cFromK, ktFromMps, nmFromM } from '../../science/units.ts';
import type { RefusedText } from './bulletin.ts';
import type { ReportContext } from './pirep.ts';
import { readPilotReports } from './read-pilot-reports.ts';
import { isNullIcing, type LocatedPoint, type PilotReport, type ReportedWind } from './report.ts';

/**
 * @returns  one object a report or refusal, in the order of the text; each can be given to JSON.stringify.
 * @checked  tests/formats/pilot-reports/inspect.test.ts
 */
export function* inspectPilotReports(text: string, context: ReportContext): Generator<object> {
  for (const item of readPilotReports(text, context)) {
    yield item.kind === 'refused' ? inspectRefused(item) : inspectReport(item);
  }
}

function inspectRefused({ line, reason, text }: RefusedText): object {
  return { kind: 'refused', line, reason, text };
}

function inspectReport(report: PilotReport): object {
  const { timeMs, temperatureK, wind, weather, place, location } = report;
  return {
    kind: report.kind,
    form: report.form,
    urgency: report.urgency,
    line: report.line,
    station: orNull(report.station),
    aircraft: orNull(report.aircraft),
    aircraftType: orNull(report.aircraftType),
    timeUtc: timeMs === undefined ? null : new Date(timeMs).toISOString().replace('.000Z', 'Z'),
    location:
      location.kind === 'points' ? { ...location, points: location.points.map(inspectPoint) } : location,
    place: place.kind === 'unknown' ? place : { ...place, points: place.points.map(inspectPlaced) },
    level: report.level,
    phase: orNull(report.phase),
    sky: inspectSky(report.sky),
    isInCloud: report.isInCloud,
    visibilitySm: inspectVisibility(weather.visibilityM),
    weather: weather.phenomena,
    isWeatherWhole: weather.isWhole,
    temperatureC: temperatureK === undefined ? null : rounded(cFromK(temperatureK), 1),
    wind: wind === undefined ? null : inspectWind(wind),
    icing: report.icing,
    icingMentions: report.icingMentions,
    isNullIcing: isNullIcing(report),
    turbulence: report.turbulence,
    remarks: orNull(report.remarks),
    unread: report.unread,
    text: report.text,
  };
}

function inspectPoint(point: LocatedPoint): object {
  if (point.kind === 'radial' || point.kind === 'direction') {
    const { distanceM, ...others } = point;
    return { ...others, distanceNm: rounded(nmFromM(distanceM), 1) };
  }
  return point.kind === 'coordinates' ? inspectPlaced(point) : point;
}

function inspectSky(sky: PilotReport['sky']): object {
  if (sky.kind !== 'reported') return sky;
  const layers = sky.layers.map((layer) => ({ ...layer, base: orNull(layer.base), top: orNull(layer.top) }));
  return { ...sky, layers };
}

function inspectPlaced<Placed extends { readonly latDeg: number; readonly lonDeg: number }>(
  place: Placed,
): Placed {
  return { ...place, latDeg: rounded(place.latDeg, 4), lonDeg: rounded(place.lonDeg, 4) };
}

function inspectWind({ directionDeg, north, speedMps }: ReportedWind): object {
  return { directionDeg, north, speedKt: rounded(ktFromMps(speedMps), 1) };
}

const M_PER_STATUTE_MILE = 1609.344;

function inspectVisibility(visibilityM: number | undefined): number | 'unrestricted' | null {
  if (visibilityM === undefined) return null;
  return Number.isFinite(visibilityM) ? rounded(visibilityM / M_PER_STATUTE_MILE, 1) : 'unrestricted';
}

/** Without the sign of a negative zero. */
function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}

const orNull = <Value>(value: Value | undefined): Value | null => value ?? null;
