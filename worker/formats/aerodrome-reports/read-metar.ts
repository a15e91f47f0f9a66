/** FM 15 METAR and FM 16 SPECI: one report, group by group. */
import { looksLikeChange, readChangeWord } from './change-groups.ts';
import type { Conditions } from './conditions.ts';
import type { Draft } from './draft.ts';
import { takeBodyGroup } from './metar-body.ts';
import { emptyConditions, hasConditions, takeCondition, takeJoinedConditions } from './read-conditions.ts';
import { readRemarks } from './remarks.ts';
import type { MetarReport, NotObserved } from './report.ts';
import { readHeader, refused } from './report-header.ts';
import { instantNear } from './report-time.ts';
import type { RawReport } from './split-bulletins.ts';
import { temperatureDoubts } from './temperature-doubts.ts';
import { hPaFromInHg } from './temperature-pressure-groups.ts';
import { emptyTrend, type TrendDraft, takeTrendGroup } from './trend.ts';
import {
  EXPECTED_IN_CHANGE,
  EXPECTED_IN_REPORT,
  keepUnread,
  LostChange,
  lostReason,
} from './unread-groups.ts';

export type MetarDraft = Draft<MetarReport>;

export type ReadResult<Report> =
  | { readonly kind: 'report'; readonly report: Report }
  | { readonly kind: 'refused'; readonly reason: string };

/** RMK, and the ways in which it is joined to what follows. */
const REMARKS_WORD = /^RMKS?:?(.*)$/;

/**
 * Reads a report whose groups follow regulations 15.1 to 15.15, in any order; the same element told twice stands in
 * `unread` the second time. Refused: no station, no time, NIL without a time. Never throws.
 *
 * @param nearMs  epoch ms: the report's day of the month is taken so that it lies nearest to this.
 * @source        WMO-No. 306, Manual on Codes, volume I.1, FM 15 and FM 16; FMH-1 for North America.
 * @checked       tests/formats/aerodrome-reports/published-wmo.test.ts, tests/data/metar.test.ts
 */
export function readMetar(raw: RawReport, nearMs: number): ReadResult<MetarReport> {
  const result = readHeader(raw);
  if (result.kind === 'refused') return result;
  const { station, isCorrection, bodyStart } = result.header;
  const clock = result.header.clock ?? raw.commonClock;
  const first = raw.groups[bodyStart];
  if (clock === undefined) {
    if (first === 'NIL') return refused(`${station} time`, 'NIL', 'ddhhmmZ; no report was made');
    return refused(`${station} time`, first, 'ddhhmmZ');
  }
  const draft = emptyMetar(raw, station, instantNear(clock, nearMs));
  draft.isCorrection = isCorrection;
  readBody(draft, raw.groups, bodyStart);
  draft.altimeterHPa = settingHPa(draft);
  draft.notObserved = notObservedOf(draft);
  draft.doubts = temperatureDoubts(draft);
  return { kind: 'report', report: draft };
}

function readBody(draft: MetarDraft, groups: readonly string[], bodyStart: number): void {
  let trend: TrendDraft | undefined;
  const lost = new LostChange(draft.unread);
  for (let index = bodyStart; index < groups.length; ) {
    const remarks = REMARKS_WORD.exec(groups[index]!);
    if (remarks !== null) {
      const joined = remarks[1] === '' ? [] : [remarks[1]!];
      const context = { reportMs: draft.timeMs, altimeterHPa: settingHPa(draft) };
      draft.remarks = readRemarks([...joined, ...groups.slice(index + 1)], context);
      return;
    }
    const word = readChangeWord(groups, index);
    const isTime =
      word?.change === 'FM' && trend !== undefined && trend.change !== 'FM' && !hasConditions(trend);
    if (word !== undefined && !isTime) {
      trend = emptyTrend(word, draft.timeMs);
      draft.trends.push(trend);
      lost.end();
      index += word.taken;
    } else if (word === undefined && (lost.isOpen || looksLikeChange(groups[index]!))) {
      // A trend whose word is not one: what follows is not of the time of the report.
      lost.take(groups[index]!, lostReason(groups[index]!, 'TEMPO, BECMG or FM'));
      index += 1;
    } else index += takeGroup(draft, trend, groups, index);
  }
}

/** Takes the group at the index, into the open trend first; one that nothing understands is kept. */
function takeGroup(
  draft: MetarDraft,
  trend: TrendDraft | undefined,
  groups: readonly string[],
  index: number,
): number {
  const taken =
    trend === undefined
      ? takeCondition(draft, groups, index)
      : takeTrendGroup(trend, groups, index, draft.timeMs);
  const isTaken =
    taken || takeBodyGroup(draft, groups, index) || takeJoinedConditions(trend ?? draft, groups[index]!);
  if (isTaken > 0) return isTaken;
  const conditions = trend ?? draft;
  const element = trend?.change ?? 'report';
  const expected = trend === undefined ? EXPECTED_IN_REPORT : EXPECTED_IN_CHANGE;
  keepUnread({ conditions, unread: conditions.unread, element, expected }, groups[index]!);
  return 1;
}

/** That of the Q group, else the A group converted. */
function settingHPa({ altimeterHPa, altimeterInHg }: MetarDraft): number | null {
  return altimeterHPa ?? (altimeterInHg === null ? null : hPaFromInHg(altimeterInHg));
}

function emptyMetar(raw: RawReport, station: string, timeMs: number): MetarDraft {
  return {
    kind: raw.code === 'SPECI' ? 'speci' : 'metar',
    station,
    timeMs,
    isAutomatic: false,
    isCorrection: false,
    isNil: false,
    ...emptyConditions(),
    runwayVisualRanges: [],
    recentWeather: [],
    temperatureC: null,
    dewPointC: null,
    altimeterHPa: null,
    altimeterInHg: null,
    windShearRunways: [],
    seaSurface: null,
    runwayStates: [],
    colorStates: [],
    isNoChangeExpected: false,
    trends: [],
    remarks: null,
    notObserved: [],
    doubts: [],
    unread: [],
    text: raw.text,
  };
}

/** Slashes of the body and words of the remarks, each element once. */
function notObservedOf(draft: MetarDraft): NotObserved[] {
  const elements = new Set<NotObserved>(draft.notObserved);
  for (const each of notObservedConditions(draft)) elements.add(each);
  if (draft.runwayVisualRanges.some(({ visualRangeM }) => visualRangeM === null)) {
    elements.add('runway-visual-range');
  }
  if (draft.hasUnreadWeather) elements.add('present-weather');
  for (const each of draft.remarks?.notObserved ?? []) elements.add(each);
  if (draft.remarks?.stationType?.startsWith('AO1')) elements.add('precipitation-type');
  return [...elements];
}

function notObservedConditions({ wind, visibility, sky }: Conditions): NotObserved[] {
  const hasNoVisibility = visibility?.visibilityM === null && visibility.directions.length === 0;
  const hasUnknownLayer = sky?.layers.some(({ amount, baseAglFt }) => amount === null && baseAglFt === null);
  return [
    ...(wind !== null && wind.speedKt === null ? (['wind'] as const) : []),
    ...(hasNoVisibility ? (['visibility'] as const) : []),
    ...(hasUnknownLayer ? (['cloud'] as const) : []),
  ];
}
