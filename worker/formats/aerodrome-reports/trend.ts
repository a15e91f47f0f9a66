/** Trends of a METAR: TTTTT TTGGgg and the conditions that change (regulation 15.14). */
import { type ChangeWord, readTrendTime } from './change-groups.ts';
import type { Draft } from './draft.ts';
import { emptyConditions, takeCondition } from './read-conditions.ts';
import type { ChangeGroup } from './report.ts';
import { instantNear, readClock, timeOfDayNear } from './report-time.ts';

export type TrendDraft = Draft<ChangeGroup>;

/** FMGGgg at the head of a trend: Australia's forecast for landing reaches three hours. */
export function emptyTrend(word: ChangeWord, reportMs: number): TrendDraft {
  return {
    change: word.change,
    probabilityPct: word.probabilityPct,
    fromMs: word.fromFigures === undefined ? null : fromMs(word.fromFigures, reportMs),
    untilMs: null,
    atMs: null,
    ...emptyConditions(),
    unread: [],
  };
}

const MS_PER_HOUR = 3_600_000;

/** Null when the figures are no time; the group is then kept with what it begins. */
function fromMs(figures: string, reportMs: number): number | null {
  if (figures.length === 4) return timeOfDayNear(figures, reportMs + MS_PER_HOUR) ?? null;
  const clock = readClock(figures);
  return clock === undefined ? null : instantNear(clock, reportMs);
}

/** @returns  how many groups were taken into the trend; 0 when none, or a time that stands already. */
export function takeTrendGroup(
  trend: TrendDraft,
  groups: readonly string[],
  index: number,
  reportMs: number,
): number {
  const time = readTrendTime(groups[index]!, reportMs);
  if (time === undefined) return takeCondition(trend, groups, index);
  if (trend[time.name] !== null) return 0;
  trend[time.name] = time.timeMs;
  return 1;
}
