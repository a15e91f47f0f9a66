/** Remarks of several groups: PK WND, WSHFT, VIS, CIG, SNINCR, SOG, MISG, ICE, and sensors at a second place. */
import { takeNotObserved } from './remark-groups.ts';
import { takeRemarkVisibility } from './remark-visibility.ts';
import type { RemarkContext, RemarksDraft, ReportedIcing } from './remarks.ts';
import type { NotObserved } from './report.ts';
import { lastTimeUntil } from './report-time.ts';

const M_PER_IN = 0.0254;

/** Takes the groups at the index; returns how many, 0 for none. */
type WordTaker = (
  draft: RemarksDraft,
  groups: readonly string[],
  index: number,
  context: RemarkContext,
) => number;

/**
 * The place of a second sensor stays among the unread groups.
 *
 * @returns  how many groups were taken; 0 when the words are none of these, or their place is filled.
 */
export function takeRemarkWords(
  draft: RemarksDraft,
  groups: readonly string[],
  index: number,
  context: RemarkContext,
): number {
  if (groups[index + 1] === 'MISG') return takeMissing(draft, groups[index]!);
  return TAKERS.get(groups[index]!)?.(draft, groups, index, context) ?? 0;
}

const TAKERS: ReadonlyMap<string, WordTaker> = new Map<string, WordTaker>([
  ['PK', takePeakWind],
  ['WSHFT', takeWindShift],
  ['VIS', takeRemarkVisibility],
  ['SFC', takeRemarkVisibility],
  ['TWR', takeRemarkVisibility],
  ['CIG', takeCeiling],
  ['SNINCR', takeSnowIncrease],
  ['SOG', takeSnowOnGround],
  ['PCPN', takePastHour],
  ['VISNO', (draft) => takeNotObserved(draft, 'visibility-at-second-place')],
  ['CHINO', (draft) => takeNotObserved(draft, 'ceiling-at-second-place')],
  ['TS', takeThunderstormUnknown],
  ['FBL', takeIcing],
  ['LGT', takeIcing],
  ['MOD', takeIcing],
  ['SEV', takeIcing],
]);

/** `PK WND dddff(f)/(hh)mm`. */
function takePeakWind(
  draft: RemarksDraft,
  groups: readonly string[],
  index: number,
  { reportMs }: RemarkContext,
): number {
  const match = /^(\d{3})(\d{2,3})\/(\d{4}|\d{2})$/.exec(groups[index + 2] ?? '');
  if (groups[index + 1] !== 'WND' || match === null || Number(match[1]) > 360) return 0;
  const timeMs = lastTimeUntil(match[3]!, reportMs);
  if (timeMs === undefined) return 0;
  const wind = { directionDeg: Number(match[1]), speedKt: Number(match[2]), timeMs };
  draft.peakWinds.push(wind);
  return 3;
}

/** `WSHFT (hh)mm`, perhaps with FROPA: at a passing front. */
function takeWindShift(
  draft: RemarksDraft,
  groups: readonly string[],
  index: number,
  { reportMs }: RemarkContext,
): number {
  const figures = /^(\d{4}|\d{2})$/.exec(groups[index + 1] ?? '');
  if (figures === null || draft.windShiftMs !== null) return 0;
  const timeMs = lastTimeUntil(figures[1]!, reportMs);
  if (timeMs === undefined) return 0;
  draft.windShiftMs = timeMs;
  draft.isFrontalPassage = groups[index + 2] === 'FROPA';
  return draft.isFrontalPassage ? 3 : 2;
}

/** `CIG hhhVhhh`, or `CIG hhh RWYdd` of a second sensor. */
function takeCeiling(draft: RemarksDraft, groups: readonly string[], index: number): number {
  const match = /^(\d{3})(?:V(\d{3}))?$/.exec(groups[index + 1] ?? '');
  if (match === null) return 0;
  const place = /^RWY\d{2}[LCR]?$/.test(groups[index + 2] ?? '') ? groups[index + 2]! : '';
  const lowestAglFt = Number(match[1]) * 100;
  const highestAglFt = Number(match[2] ?? match[1]) * 100;
  draft.ceilings.push({ lowestAglFt, highestAglFt, where: place });
  return place === '' ? 2 : 3;
}

/** `SNINCR growth/depth`, inches. */
function takeSnowIncrease(draft: RemarksDraft, groups: readonly string[], index: number): number {
  const match = /^(\d{1,2})\/(\d{1,3})$/.exec(groups[index + 1] ?? '');
  if (match === null || draft.snowIncrease !== null) return 0;
  draft.snowIncrease = { lastHourM: Number(match[1]) * M_PER_IN, depthM: Number(match[2]) * M_PER_IN };
  return 2;
}

/** `SOG nn`, centimeters of snow on the ground. */
function takeSnowOnGround(draft: RemarksDraft, groups: readonly string[], index: number): number {
  const match = /^\d{1,3}$/.exec(groups[index + 1] ?? '');
  if (match === null || draft.snowDepthM !== null) return 0;
  draft.snowDepthM = Number(match[0]) / 100;
  return 2;
}

/** `PCPN n.nMM PAST HR`. */
function takePastHour(draft: RemarksDraft, groups: readonly string[], index: number): number {
  const match = /^(\d{1,3}\.\d)MM$/.exec(groups[index + 1] ?? '');
  const isPastHour = groups[index + 2] === 'PAST' && groups[index + 3] === 'HR';
  if (match === null || !isPastHour || draft.precipitation1h !== null) return 0;
  draft.precipitation1h = { mm: Number(match[1]), isTrace: false };
  return 4;
}

/** `TS INFO NOT AVBL`. */
function takeThunderstormUnknown(draft: RemarksDraft, groups: readonly string[], index: number): number {
  const words = groups.slice(index + 1, index + 4).join(' ');
  return words === 'INFO NOT AVBL' && takeNotObserved(draft, 'thunderstorm') === 1 ? 4 : 0;
}

/** Canada: `WND MISG`, `CLD MISG` and so on. */
const MISSING: ReadonlyMap<string, NotObserved> = new Map([
  ['WND', 'wind'],
  ['CLD', 'cloud'],
  ['WX', 'present-weather'],
  ['VIS', 'visibility'],
  ['PCPN', 'precipitation-amount'],
  ['PRES', 'altimeter'],
  ['T', 'temperature'],
  ['TD', 'dew-point'],
  ['ICG', 'icing'],
  ['TS', 'thunderstorm'],
  ['SLP', 'sea-level-pressure'],
]);

function takeMissing(draft: RemarksDraft, word: string): number {
  const element = MISSING.get(word);
  return element !== undefined && takeNotObserved(draft, element) === 1 ? 2 : 0;
}

const INTENSITIES: Readonly<Record<string, ReportedIcing['intensity']>> = {
  FBL: 'light',
  LGT: 'light',
  MOD: 'moderate',
  SEV: 'severe',
};

/** `MOD ICE`, perhaps INC (in cloud), perhaps between two heights in meters. */
function takeIcing(draft: RemarksDraft, groups: readonly string[], index: number): number {
  if (groups[index + 1] !== 'ICE') return 0;
  let end = index + 2;
  const isInCloud = groups[end] === 'INC';
  if (isInCloud) end += 1;
  const heights = /^(\d{2,5})M?-(\d{2,5})M$/.exec(groups[end] ?? '');
  if (heights !== null) end += 1;
  const icing = {
    intensity: INTENSITIES[groups[index]!]!,
    isInCloud,
    lowerM: heights === null ? null : Number(heights[1]),
    upperM: heights === null ? null : Number(heights[2]),
  };
  draft.icing.push(icing);
  return end - index;
}
