/** What the picture says, in capitals that its letters have. */
import type { Brief, VerdictCode } from '../../schema/brief.ts';

export const CAUTION = 'ADVICE ONLY. AGE OF DATA AND REASONS: OPEN THE LINK';
export const INVENTED = 'INVENTED DATA';

export const VERDICT_WORDS: Readonly<Record<VerdictCode, string>> = {
  'no-ice-found': 'NO ICE FOUND',
  'within-limits': 'WITHIN LIMITS',
  'outside-limits': 'OUTSIDE LIMITS',
  unknown: 'UNKNOWN',
};

const MONTHS = ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC'];

/** "11,000" */
export function feetText(altitudeFt: number): string {
  return String(Math.round(altitudeFt)).replace(/\B(?=(?:\d{3})+$)/g, ',');
}

export function fileText({ brief: { file } }: Brief): string {
  return file === null ? 'NO ALTITUDE TO FILE' : `FILE ${feetText(file.altitudeFt)} FT`;
}

export function legText({ brief: { leg } }: Brief): string {
  return `${leg.from} > ${leg.to}`;
}

/** "14 JAN 11:30 UTC" */
export function departureText({ brief: { leg } }: Brief): string {
  const [, month, day, hour, minute] = /^\d{4}-(\d\d)-(\d\d)T(\d\d):(\d\d)/.exec(leg.departureUtc) ?? [];
  const monthWord = MONTHS[Number(month) - 1];
  return monthWord === undefined ? 'TIME UNKNOWN' : `${day} ${monthWord} ${hour}:${minute} UTC`;
}

/** Nothing in use but an invented scenario. */
export function isInvented({ brief: { data } }: Brief): boolean {
  return data.length > 0 && data.every(({ invented }) => invented);
}
