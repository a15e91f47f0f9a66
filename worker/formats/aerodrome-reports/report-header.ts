/** Who and when: code name, COR or AMD, station, time, and the words that may follow them. */

import { type Clock, readClock } from './report-time.ts';
import type { RawReport } from './split-bulletins.ts';

export interface ReportHeader {
  readonly station: string;
  /** Undefined when the report gives no time of its own. */
  readonly clock: Clock | undefined;
  readonly isCorrection: boolean;
  readonly isAmendment: boolean;
  /** Index of the first group after the header. */
  readonly bodyStart: number;
}

export type HeaderResult =
  | { readonly kind: 'header'; readonly header: ReportHeader }
  | { readonly kind: 'refused'; readonly reason: string };

const CODE_NAME = /^\*?(?:METAR|SPECI|TAF)$/;
const STATION = /^[A-Z][A-Z0-9]{3}$/;
const TIME = /^\d{6}Z?$/i;
const CORRECTION = /^(?:COR|CC[A-Z])$/;

/**
 * Reads from the first group. A time without its Z, a repeated code name and a correction word at either side of the
 * station are let pass, as they come.
 */
export function readHeader(raw: RawReport): HeaderResult {
  const { groups } = raw;
  let { isCorrection, isAmendment } = raw;
  let index = 0;
  const passWords = (isPassed: (group: string) => boolean) => {
    for (; index < groups.length; index += 1) {
      const group = groups[index]!;
      if (CORRECTION.test(group)) isCorrection = true;
      else if (group === 'AMD') isAmendment = true;
      else if (!isPassed(group)) return;
    }
  };
  passWords((group) => CODE_NAME.test(group));
  const station = groups[index];
  const code = groups[index + 1];
  if (station?.length === 3 && (code === 'SA' || code === 'SP')) return notAerodrome(code);
  if (station === undefined || !STATION.test(station) || isWord(station)) {
    return refused('station', station, 'a location indicator of four letters or figures');
  }
  index += 1;
  passWords((group) => group === 'TAF');
  const time = groups[index];
  const hasTime = time !== undefined && TIME.test(time) && (/z$/i.test(time) || raw.code !== 'TAF');
  const clock = hasTime ? readClock(time) : undefined;
  if (hasTime && clock === undefined) return refused(`${station} time`, time, 'ddhhmmZ with a day to 31');
  if (hasTime) index += 1;
  passWords(() => false);
  return { kind: 'header', header: { station, clock, isCorrection, isAmendment, bodyStart: index } };
}

/** Words that stand before a time in remarks and are no station. */
function isWord(group: string): boolean {
  return group === 'AUTO' || group === 'NEXT' || group === 'LAST';
}

/** Three letters and SA: the code that North America used before METAR, and Canada's climate stations still do. */
function notAerodrome(code: string): HeaderResult {
  return {
    kind: 'refused',
    reason: `code: found ${code} (surface airways code), expected METAR, SPECI or TAF`,
  };
}

export function refused(
  what: string,
  found: string | undefined,
  expected: string,
): HeaderResult & { kind: 'refused' } {
  const shown = found === undefined ? 'the end of the report' : JSON.stringify(found.slice(0, 20));
  return { kind: 'refused', reason: `${what}: found ${shown}, expected ${expected}` };
}
