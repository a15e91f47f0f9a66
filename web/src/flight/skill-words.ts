/** Forecasts against reports, in words. */
import type { SkillRow, TopAnswer } from '../../../worker/schema/skill.ts';
import { feetText } from '../numbers.ts';
import { UNKNOWN_WORD } from '../words.ts';

export function forecastWords({ forecast, forecastTopFt, leadHours }: TopAnswer): string {
  if (forecast === 'unknown' || forecastTopFt === null)
    return forecast === 'no-cloud' ? 'no cloud' : UNKNOWN_WORD;
  const lead = leadHours === null ? '' : `, ${Math.round(leadHours)} h before`;
  return `${feetText(Math.round(forecastTopFt / 100) * 100)}${lead}`;
}

/** "1,300 too low". */
export function differenceWords({ differenceFt }: TopAnswer): string {
  if (differenceFt === null) return UNKNOWN_WORD;
  const off = Math.round(Math.abs(differenceFt) / 100) * 100;
  if (off === 0) return '0';
  return `${feetText(off)} too ${differenceFt > 0 ? 'high' : 'low'}`;
}

/** "3 of 4, 30–95 %"; nothing to count is not a share of nothing. */
export function shareWords(share: SkillRow['podYes'], count: number): string {
  if (share === null) return 'no such report';
  const percent = (ratio: number) => Math.round(ratio * 100);
  return `${count} of ${share.reports}, ${percent(share.low)}–${percent(share.high)} %`;
}
