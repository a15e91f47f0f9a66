/** The words that begin a trend or a change group, and the times that may follow them. */
import type { ChangeGroup } from './report.ts';
import { timeOfDayNear } from './report-time.ts';

export interface ChangeWord {
  readonly change: ChangeGroup['change'];
  readonly probabilityPct: number | null;
  /** Figures of FM, hhmm or ddhhmm; undefined of the others. */
  readonly fromFigures: string | undefined;
  /** How many groups the word takes, its period not counted. */
  readonly taken: number;
}

const PROBABILITY = /^PROB(\d{2})$/;
const FROM = /^FM(\d{4}|\d{6})$/;

/** @returns  the change that begins at the index; undefined when none does. */
export function readChangeWord(groups: readonly string[], index: number): ChangeWord | undefined {
  const group = groups[index]!;
  const plain = { probabilityPct: null, fromFigures: undefined, taken: 1 };
  if (group === 'BECMG' || group === 'TEMPO' || group === 'INTER') return { ...plain, change: group };
  const from = FROM.exec(group);
  if (from !== null) return { ...plain, change: 'FM', fromFigures: from[1] };
  const next = groups[index + 1];
  if (group === 'FM' && /^\d{6}$/.test(next ?? '')) {
    return { ...plain, change: 'FM', fromFigures: next, taken: 2 };
  }
  const probability = PROBABILITY.exec(group);
  if (probability === null) return undefined;
  const probabilityPct = Number(probability[1]);
  const isTempo = next === 'TEMPO' || next === 'INTER';
  return { ...plain, change: isTempo ? next : 'PROB', probabilityPct, taken: isTempo ? 2 : 1 };
}

/** Words of changes that are cut, joined to their times or spelled otherwise. */
const CHANGE_LIKE = /^(?:FM|FROM|TEMP|TMPO|BECM|BCMG|INTER|PROB|GRADU|RAPID)/;

/** True for a group that should begin a change and does not: what follows it is of another time than what precedes. */
export function looksLikeChange(group: string): boolean {
  return CHANGE_LIKE.test(group);
}

const TREND_TIME = /^(FM|TL|AT)(\d{4})$/;
const TIME_OF = { FM: 'fromMs', TL: 'untilMs', AT: 'atMs' } as const;

/** A trend reaches two hours past its report, an Australian one three: its times lie nearest to an hour after it. */
const TREND_MIDDLE_MS = 3_600_000;

/** @returns  FMGGgg, TLGGgg or ATGGgg as the member of a trend that it fills; undefined for another group. */
export function readTrendTime(
  group: string,
  reportMs: number,
): { readonly name: 'fromMs' | 'untilMs' | 'atMs'; readonly timeMs: number } | undefined {
  const match = TREND_TIME.exec(group);
  if (match === null) return undefined;
  const timeMs = timeOfDayNear(match[2]!, reportMs + TREND_MIDDLE_MS);
  return timeMs === undefined ? undefined : { name: TIME_OF[match[1] as keyof typeof TIME_OF], timeMs };
}
