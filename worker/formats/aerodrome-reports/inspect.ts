/** Reports as JSON for people: instants as ISO 8601, numbers rounded, lists and members that say nothing left out. */
import { type AerodromeItem, type ReportContext, readAerodromeText } from './read-aerodrome-reports.ts';
import type { MetarReport } from './report.ts';
import { isBelowZero } from './temperature-pressure-groups.ts';

export interface InspectedReport {
  readonly kind: 'metar' | 'speci' | 'taf' | 'refused';
  /** Of the file, from 1. */
  readonly line: number;
  readonly [member: string]: unknown;
}

/**
 * One object a report or refused text, in the order of the file. Members are the report's own; those ending in Ms end in
 * Utc here. Numbers have at most three decimals. Of a METAR that lacks them wind, visibility, sky, temperatures and
 * altimeter setting are null; other members that say nothing are left out. A METAR with a temperature says whether it is
 * below zero, since M00 and 00 are both 0, and null where its remarks tell another temperature. A report of a bulletin names its heading.
 */
export function inspectAerodromeReports(text: string, context: ReportContext): InspectedReport[] {
  return readAerodromeText(text, context).map(inspectAerodromeItem);
}

function inspectAerodromeItem(item: AerodromeItem): InspectedReport {
  const { line } = item.place;
  if (item.kind === 'refused') return { kind: 'refused', line, reason: item.reason, text: item.text };
  const { report, heading } = item;
  const bulletin =
    heading === undefined
      ? {}
      : { bulletin: [heading.designator, heading.center, heading.timeFigures].join(' ') };
  const isBelow =
    report.kind === 'taf' || report.temperatureC === null
      ? {}
      : { isTemperatureBelowZero: isDoubtful(report) ? null : isBelowZero(report.temperatureC) };
  const unknowns = report.kind === 'taf' || report.isNil ? {} : UNKNOWN;
  const members = shown(report) as Readonly<Record<string, unknown>>;
  return { ...unknowns, ...members, kind: report.kind, line, ...bulletin, ...isBelow };
}

const isDoubtful = ({ doubts }: MetarReport) => doubts.some(({ element }) => element === 'temperature');

/** What every observation should have: shown as null, never left out. */
const UNKNOWN = {
  wind: null,
  visibility: null,
  sky: null,
  temperatureC: null,
  dewPointC: null,
  altimeterHPa: null,
};

/** The value for people; undefined when it says nothing: null, false, an empty list, an object of such. */
function shown(value: unknown): unknown {
  if (value === null || value === undefined || value === false) return undefined;
  if (typeof value === 'number') return Number(value.toFixed(3)) + 0;
  if (Array.isArray(value)) return value.length === 0 ? undefined : value.map(shown);
  if (typeof value !== 'object') return value;
  const members = Object.entries(value).map(([name, member]) => shownMember(name, member));
  const told = members.filter(([, member]) => member !== undefined);
  return told.length === 0 ? undefined : Object.fromEntries(told);
}

function shownMember(name: string, member: unknown): readonly [string, unknown] {
  if (name.endsWith('Ms') && typeof member === 'number') {
    return [`${name.slice(0, -2)}Utc`, Number.isFinite(member) ? isoSeconds(member) : undefined];
  }
  return [name, shown(member)];
}

function isoSeconds(timeMs: number): string {
  return new Date(timeMs).toISOString().replace('.000Z', 'Z');
}
