/** Warnings as JSON for people: feet, knots, nautical miles, GeoJSON, null where a value is missing. */
import { ktFromMps, nmFromM } from '../../science/units.ts';
import type { RefusedText } from '../pilot-reports/bulletin.ts';
import { geoJsonOf } from './geojson.ts';
import type { WarningContext } from './icao-warning.ts';
import { readWarnings } from './read-warnings.ts';
import type { Movement, Warning, WarningArea, WarningGeometry } from './warning.ts';

/**
 * @returns  one object a warning or refusal, in the order of the text; each can be given to JSON.stringify.
 * @checked  tests/formats/warnings/inspect.test.ts
 */
export function* inspectWarnings(text: string, context: WarningContext): Generator<object> {
  for (const item of readWarnings(text, context)) {
    yield item.kind === 'refused' ? inspectRefused(item) : inspectWarning(item);
  }
}

function inspectRefused({ line, reason, text }: RefusedText): object {
  return { kind: 'refused', line, reason, text };
}

function inspectWarning(warning: Warning): object {
  const { action, basis, later } = warning;
  return {
    kind: warning.kind,
    form: warning.form,
    style: warning.style,
    line: warning.line,
    identification: warning.identification,
    office: orNull(warning.office),
    region: orNull(warning.region),
    places: orNull(warning.places),
    status: warning.status,
    isOutlook: warning.isOutlook,
    action: action.kind === 'warn' ? action : { ...action, ...utc(action) },
    ...utc(warning),
    phenomenon: warning.phenomenon,
    freezingPrecipitation: warning.freezingPrecipitation,
    basis: { kind: basis.kind, atUtc: isoSeconds(basis.atMs) },
    areas: warning.areas.map(inspectArea),
    levels: orNull(warning.levels),
    movement: warning.movement === undefined ? null : inspectMovement(warning.movement),
    change: orNull(warning.change),
    later:
      later === undefined ? null : { atUtc: isoSeconds(later.atMs), areas: later.areas.map(inspectArea) },
    conditions: orNull(warning.conditions),
    unread: warning.unread,
    text: warning.text,
  };
}

/** Replaces the instants of a period by texts. */
function utc(period: { validFromMs: number | undefined; validToMs: number | undefined }): object {
  return {
    validFromMs: undefined,
    validToMs: undefined,
    validFromUtc: isoSeconds(period.validFromMs),
    validToUtc: isoSeconds(period.validToMs),
  };
}

function inspectArea({ statement, geometry }: WarningArea): object {
  return {
    stated: statement.kind,
    geometry: geometry.kind,
    geoJson: rounded(geoJsonOf(geometry) ?? null),
    ...widthOf(geometry),
    sides: geometry.kind === 'sides' ? geometry.boundaries : undefined,
    reason: reasonOf(geometry),
  };
}

function reasonOf(geometry: WarningGeometry): string | undefined {
  if (geometry.kind === 'unknown') return geometry.reason;
  return geometry.kind === 'sides' ? 'area: ends at the border of its region, which is not given' : undefined;
}

function widthOf(geometry: WarningGeometry): object {
  if (geometry.kind === 'line') return { halfWidthNm: round(nmFromM(geometry.halfWidthM), 2) };
  return geometry.kind === 'circle' ? { radiusNm: round(nmFromM(geometry.radiusM), 2) } : {};
}

/** Degrees to 0.0001 wherever they stand. */
function rounded(value: unknown): unknown {
  if (typeof value === 'number') return round(value, 4);
  if (Array.isArray(value)) return value.map(rounded);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, rounded(each)]));
}

function inspectMovement(movement: Movement): object {
  if (movement.kind !== 'moving') return movement;
  const { speedMps, ...others } = movement;
  return { ...others, speedKt: speedMps === undefined ? null : round(ktFromMps(speedMps), 1) };
}

function isoSeconds(timeMs: number | undefined): string | null {
  return timeMs === undefined ? null : new Date(timeMs).toISOString().replace('.000Z', 'Z');
}

/** Without the sign of a negative zero. */
function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}

const orNull = <Value>(value: Value | undefined): Value | null => value ?? null;
