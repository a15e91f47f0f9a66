/** FM 51 TAF: one forecast, its base and its change groups. */
import { type ChangeWord, readChangeWord } from './change-groups.ts';
import type { Draft } from './draft.ts';
import { emptyConditions, takeCondition, takeJoinedConditions } from './read-conditions.ts';
import type { ReadResult } from './read-metar.ts';
import type { ForecastConditions, TafChangeGroup, TafReport } from './report.ts';
import { type ReportHeader, readHeader, refused } from './report-header.ts';
import { instantNear } from './report-time.ts';
import type { RawReport } from './split-bulletins.ts';
import {
  readExtreme,
  readIcingLayer,
  readLowestAltimeterHPa,
  readTurbulenceLayer,
  readWindShear,
} from './taf-groups.ts';
import { type Period, readChangePeriod, readExtremeTime, readFrom, readValidity } from './taf-times.ts';

type TafDraft = Draft<TafReport>;
type ForecastDraft = Draft<ForecastConditions>;
type ChangeDraft = Draft<TafChangeGroup>;

/** The base or the change group that groups are read into, and where the others are kept. */
interface OpenPart {
  readonly forecast: ForecastDraft;
  readonly unread: string[];
}

/**
 * Reads a forecast whose groups follow regulations 51.1 to 51.12; validity and change groups also in the figures that
 * stood before November 2008. Refused: no station, no time and no validity, a forecast without a validity. Never throws.
 *
 * @param nearMs  epoch ms: the day of the month is taken so that the forecast lies nearest to this.
 * @source        WMO-No. 306, Manual on Codes, volume I.1, FM 51; AIM figure "Key to aerodrome forecast" for the US.
 * @checked       tests/formats/aerodrome-reports/published-wmo.test.ts
 */
export function readTaf(raw: RawReport, nearMs: number): ReadResult<TafReport> {
  const result = readHeader(raw);
  if (result.kind === 'refused') return result;
  const { header } = result;
  const clock = header.clock ?? raw.commonClock;
  const issuedMs = clock === undefined ? null : instantNear(clock, nearMs);
  const first = raw.groups[header.bodyStart];
  const validity = readValidity(first ?? '', issuedMs ?? nearMs);
  const draft = emptyTaf(raw, header, issuedMs);
  const end = raw.groups.includes('NIL', header.bodyStart) || raw.groups.includes('CNL', header.bodyStart);
  if (validity === undefined && !(end && issuedMs !== null)) {
    return refused(`${header.station} validity`, first, 'ddhh/ddhh');
  }
  draft.validFromMs = validity?.fromMs ?? null;
  draft.validUntilMs = validity?.untilMs ?? null;
  readBody(draft, raw.groups, header.bodyStart + (validity === undefined ? 0 : 1));
  endFromGroups(draft.changes as ChangeDraft[], draft.validUntilMs);
  return { kind: 'report', report: draft };
}

function readBody(draft: TafDraft, groups: readonly string[], bodyStart: number): void {
  let open: OpenPart = { forecast: draft.base as ForecastDraft, unread: draft.unread };
  for (let index = bodyStart; index < groups.length; ) {
    if (index > bodyStart && NOTES_WORD.test(groups[index]!)) {
      draft.remarksText = groups.slice(groups[index] === 'RMK' ? index + 1 : index).join(' ');
      return;
    }
    const change = beginChange(draft, groups, index);
    if (change === undefined) {
      index += takeGroup(draft, open, groups, index);
    } else {
      draft.changes.push(change.draft);
      open = { forecast: change.draft, unread: change.draft.unread };
      index += change.taken;
    }
  }
}

/**
 * What begins the words at the end: `AMD NOT SKED`, `AMD 0051`, `LAST NO AMDS AFT 1520 NEXT 1604`, `LIMITED METWATCH ...`.
 * Their times have the figures of a visibility, so that none of it is read as groups.
 */
const NOTES_WORD = /^(?:RMK|AMD|COR|LAST|LIMITED|NXT|NEXT)$/;

/** A change group with its times; undefined when none begins here, or its times cannot be read. */
function beginChange(
  draft: TafDraft,
  groups: readonly string[],
  index: number,
): { readonly draft: ChangeDraft; readonly taken: number } | undefined {
  const word = readChangeWord(groups, index);
  const { validFromMs, validUntilMs } = draft;
  if (word === undefined || validFromMs === null || validUntilMs === null) return undefined;
  const validity = { fromMs: validFromMs, untilMs: validUntilMs };
  if (word.fromFigures !== undefined) {
    const fromMs = readFrom(word.fromFigures, validity);
    if (fromMs === undefined) return undefined;
    return { draft: emptyChange(word, { fromMs, untilMs: validUntilMs }), taken: word.taken };
  }
  const period = readChangePeriod(groups[index + word.taken] ?? '', validity);
  return period && { draft: emptyChange(word, period), taken: word.taken + 1 };
}

/** FM lasts until the next FM, or to the end. */
function endFromGroups(changes: readonly ChangeDraft[], validUntilMs: number | null): void {
  const starts = changes.filter(({ change }) => change === 'FM');
  starts.forEach((each, index) => {
    each.untilMs = starts[index + 1]?.fromMs ?? validUntilMs ?? each.untilMs;
  });
}

/** Takes the group at the index; one that nothing understands is kept where it stands. */
function takeGroup(
  draft: TafDraft,
  { forecast, unread }: OpenPart,
  groups: readonly string[],
  index: number,
): number {
  const group = groups[index]!;
  const taken =
    takeForecastGroup(forecast, group) ||
    takeCondition(forecast, groups, index) ||
    takeWord(draft, group) ||
    takeJoinedConditions(forecast, group);
  if (taken > 0) return taken;
  unread.push(group);
  return 1;
}

function takeForecastGroup(open: ForecastDraft, group: string): number {
  const shear = readWindShear(group);
  if (shear !== undefined && open.windShear === null) {
    open.windShear = shear;
    return 1;
  }
  const icing = readIcingLayer(group);
  if (icing !== undefined) return open.icing.push(icing) && 1;
  const turbulence = readTurbulenceLayer(group);
  if (turbulence !== undefined) return open.turbulence.push(turbulence) && 1;
  const lowestHPa = readLowestAltimeterHPa(group);
  if (lowestHPa === undefined || open.lowestAltimeterHPa !== null) return 0;
  open.lowestAltimeterHPa = lowestHPa;
  return 1;
}

function takeWord(draft: TafDraft, group: string): number {
  const name = WORDS.get(group);
  if (name !== undefined && !draft[name]) {
    draft[name] = true;
    return 1;
  }
  const extreme = readExtreme(group);
  if (extreme === undefined || draft.validFromMs === null) return 0;
  const timeMs = readExtremeTime(extreme, draft.validFromMs);
  if (timeMs === undefined) return 0;
  draft.extremes.push({ kind: extreme.kind, temperatureC: extreme.temperatureC, timeMs });
  return 1;
}

const WORDS: ReadonlyMap<string, 'isNil' | 'isCancellation' | 'isAmendment' | 'isCorrection'> = new Map([
  ['NIL', 'isNil'],
  ['CNL', 'isCancellation'],
  ['AMD', 'isAmendment'],
  ['COR', 'isCorrection'],
]);

function emptyForecast(): ForecastDraft {
  return { ...emptyConditions(), windShear: null, icing: [], turbulence: [], lowestAltimeterHPa: null };
}

function emptyChange({ change, probabilityPct }: ChangeWord, period: Period): ChangeDraft {
  return { change, probabilityPct, ...period, atMs: null, ...emptyForecast(), unread: [] };
}

function emptyTaf(raw: RawReport, header: ReportHeader, issuedMs: number | null): TafDraft {
  return {
    kind: 'taf',
    station: header.station,
    issuedMs,
    validFromMs: null,
    validUntilMs: null,
    isAmendment: header.isAmendment,
    isCorrection: header.isCorrection,
    isCancellation: false,
    isNil: false,
    base: emptyForecast(),
    changes: [],
    extremes: [],
    remarksText: null,
    unread: [],
    text: raw.text,
  };
}
