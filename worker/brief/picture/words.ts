/** What the picture says, in capitals that its letters have. */
import type { Brief, VerdictCode } from '../../schema/brief.ts';
import { type Invented, inventedPart } from '../../schema/data-origin.ts';

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

export function departureText({ brief: { leg } }: Brief): string {
  return instantText(leg.departureUtc);
}

/** Whoever shows the picture may keep it for good: it says of when it is. */
export function cautionText(madeUtc: string): string {
  return `ADVICE ONLY, AS OF ${instantText(madeUtc)}. REASONS: OPEN THE LINK`;
}

/** "14 JAN 11:30 UTC" */
function instantText(utc: string): string {
  const [, month, day, hour, minute] = /^\d{4}-(\d\d)-(\d\d)T(\d\d):(\d\d)/.exec(utc) ?? [];
  const monthWord = MONTHS[Number(month) - 1];
  return monthWord === undefined ? 'TIME UNKNOWN' : `${day} ${monthWord} ${hour}:${minute} UTC`;
}

const INVENTED_WORDS: Readonly<Record<Invented, string | undefined>> = {
  none: undefined,
  partly: 'PARTLY INVENTED',
  wholly: 'INVENTED DATA',
};

/** undefined for real data. */
export function inventedText({ brief: { data } }: Brief): string | undefined {
  return INVENTED_WORDS[inventedPart(data)];
}
