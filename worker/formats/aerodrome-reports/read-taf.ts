/** FM 51 TAF: one forecast, its base and its change groups. */
import type { ChangeWord } from './change-groups.ts';
import type { Draft } from './draft.ts';
import { emptyConditions, takeCondition, takeJoinedConditions } from './read-conditions.ts';
import type { ReadResult } from './read-metar.ts';
import type { ForecastConditions, TafChangeGroup, TafReport } from './report.ts';
import { type ReportHeader, readHeader, refused } from './report-header.ts';
import { instantNear } from './report-time.ts';
import type { RawReport } from './split-bulletins.ts';
import { findChange, findMissingChange, withdrawClear } from './taf-changes.ts';
import {
  readExtreme,
  readIcingLayer,
  readLowestAltimeterHPa,
  readTurbulenceLayer,
  readWindShear,
} from './taf-groups.ts';
import { type Period, readExtremeTime, readValidity, type Validity } from './taf-times.ts';
import { EXPECTED_IN_CHANGE, keepUnread, LostChange, type UnreadPlace } from './unread-groups.ts';

type TafDraft = Draft<TafReport>;
type ForecastDraft = Draft<ForecastConditions>;
type ChangeDraft = Draft<TafChangeGroup>;

/** The base or the change group that groups are read into, and where the others are kept. */
interface OpenPart extends UnreadPlace {
  readonly conditions: ForecastDraft;
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
  const bodyStart = header.bodyStart + (validity === undefined ? 0 : 1);
  readBody(draft, raw.groups, { index: bodyStart, validity });
  endFromGroups(draft.changes as ChangeDraft[], draft.validUntilMs);
  return { kind: 'report', report: draft };
}

function readBody(draft: TafDraft, groups: readonly string[], start: BodyStart): void {
  const reader = new BodyReader(draft, groups, start.validity);
  const notesAt = groups.findIndex((group, index) => index > start.index && NOTES_WORD.test(group));
  const end = notesAt === -1 ? groups.length : notesAt;
  for (let index = start.index; index < end; ) index += reader.step(index);
  if (end === groups.length) return;
  draft.remarksText = groups.slice(groups[end] === 'RMK' ? end + 1 : end).join(' ');
}

interface BodyStart {
  readonly index: number;
  /** Undefined for a forecast without one. */
  readonly validity: Validity | undefined;
}

class BodyReader {
  private readonly draft: TafDraft;
  private readonly groups: readonly string[];
  private readonly validity: Validity | undefined;
  private readonly lost: LostChange;
  private open: OpenPart;

  constructor(draft: TafDraft, groups: readonly string[], validity: Validity | undefined) {
    this.draft = draft;
    this.groups = groups;
    this.validity = validity;
    this.lost = new LostChange(draft.unread);
    this.open = partOf(draft.base as ForecastDraft, draft.unread, 'report');
  }

  /** Reads what starts at a group and gives the count of groups that it took, at least one. */
  step(index: number): number {
    const group = this.groups[index]!;
    const change = findChange(this.groups, index, this.validity);
    if (change.kind === 'change') {
      this.begin(emptyChange(change.word, change.period));
      return change.taken;
    }
    const found = change.kind === 'lost' ? change : findMissingChange(this.open.conditions, group);
    if (found.kind === 'lost') {
      withdrawClear(this.open, group);
      this.lost.take(found.groups, found.reason);
      return found.taken;
    }
    if (!this.lost.isOpen) return takeGroup(this.draft, this.open, this.groups, index);
    this.lost.take(group, '');
    return 1;
  }

  private begin(change: ChangeDraft): void {
    this.draft.changes.push(change);
    this.open = partOf(change, change.unread, change.change);
    this.lost.end();
  }
}

function partOf(conditions: ForecastDraft, unread: OpenPart['unread'], element: string): OpenPart {
  return { conditions, unread, element, expected: EXPECTED_IN_CHANGE };
}

const NOTES_WORD = /^(?:RMK|AMD|COR|LAST|LIMITED|NXT|NEXT)$/;

/** FM lasts until the next FM, or to the end. */
function endFromGroups(changes: readonly ChangeDraft[], validUntilMs: number | null): void {
  const starts = changes.filter(({ change }) => change === 'FM');
  starts.forEach((each, index) => {
    each.untilMs = starts[index + 1]?.fromMs ?? validUntilMs ?? each.untilMs;
  });
}

/** Takes the group at the index; one that nothing understands is kept where it stands. */
function takeGroup(draft: TafDraft, open: OpenPart, groups: readonly string[], index: number): number {
  const group = groups[index]!;
  const taken =
    takeForecastGroup(open.conditions, group) ||
    takeCondition(open.conditions, groups, index) ||
    takeWord(draft, group) ||
    takeJoinedConditions(open.conditions, group);
  if (taken === 0) keepUnread(open, group);
  return taken || 1;
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
