/** Temperatures that a METAR gives twice, in whole degrees and in the tenths of its remarks, and that disagree. */
import type { UnreadText } from '../pilot-reports/report.ts';
import type { MetarReport } from './report.ts';

/** Rounding parts them by half a degree at most; tenths are compared as tenths. */
const MOST_APART_K = 0.6;
const EXACT_K = 1e-6;

/** One entry a quantity; which of its two values is wrong, and so on which side of zero it is, cannot be told. */
export function temperatureDoubts({
  temperatureC,
  dewPointC,
  remarks,
}: Pick<MetarReport, 'temperatureC' | 'dewPointC' | 'remarks'>): UnreadText[] {
  const pairs = [
    ['temperature', temperatureC, remarks?.temperatureC ?? null],
    ['dew-point', dewPointC, remarks?.dewPointC ?? null],
  ] as const;
  return pairs.flatMap(([element, wholeC, tenthsC]) => {
    if (wholeC === null || tenthsC === null || Math.abs(wholeC - tenthsC) <= MOST_APART_K + EXACT_K)
      return [];
    const text = `${wholeC} ${tenthsC}`;
    const reason = `${element}: found ${wholeC} in the body and ${tenthsC} in the remarks, expected at most ${MOST_APART_K} degrees between them`;
    return [{ element, text, reason }];
  });
}
