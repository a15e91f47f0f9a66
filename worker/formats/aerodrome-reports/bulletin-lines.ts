/** What the lines of a bulletin are: envelope, abbreviated heading, code line, or text of reports (WMO-No. 386, part II). */

export interface Heading {
  /** T1T2A1A2ii, as in `SAUS70`. */
  readonly designator: string;
  /** CCCC: where it was made up. */
  readonly center: string;
  /** YYGGgg as it stands. */
  readonly timeFigures: string;
  /** BBB: RRA delayed, CCA corrected, AAA amended ...; empty for none. */
  readonly sign: string;
}

export type CodeName = 'METAR' | 'SPECI' | 'TAF';

/** A line that holds a code name alone, and what it says of the reports below it. */
export interface CodeLine {
  readonly code: CodeName;
  readonly isCorrection: boolean;
  readonly isAmendment: boolean;
  /** YYGGgg of all reports below; undefined when they bring their own. */
  readonly timeFigures: string | undefined;
}

const HEADING = /^([A-Z]{4}\d{0,2}) ([A-Z]{4}) (\d{6})(?: ([A-Z]{3}))?$/;
const CODE_LINE = /^(METAR|SPECI|TAF)(?: (COR|AMD))?(?: (\d{6})Z?)?$/;
/** Start and end of a transmission in the older envelope. */
const ENVELOPE = /^(?:ZCZC\b.*|NNNN|\*{4}\d{9,10}\*{4}|\d{10})$/;
/** The number of a transmission, before its heading. */
const NUMBER = /^\d{3,5}$/;
/** The line that some centers put under the heading. */
const PRODUCT_NAME = /^[A-Z][A-Z0-9]{3,5}$/;
const NAMED_REPORT = /^\*?(?:METAR|SPECI|TAF) /;
const UNNAMED_REPORT = /^(?!NEXT )[A-Z][A-Z0-9]{3} \d{6}Z(?: |$)/;

export function readHeading(line: string): Heading | undefined {
  const match = HEADING.exec(line);
  if (match === null) return undefined;
  return { designator: match[1]!, center: match[2]!, timeFigures: match[3]!, sign: match[4] ?? '' };
}

export function readCodeLine(line: string): CodeLine | undefined {
  const match = CODE_LINE.exec(line);
  if (match === null) return undefined;
  return {
    code: match[1] as CodeName,
    isCorrection: match[2] === 'COR',
    isAmendment: match[2] === 'AMD',
    timeFigures: match[3],
  };
}

export const isEnvelope = (line: string): boolean => ENVELOPE.test(line);
export const isTransmissionNumber = (line: string): boolean => NUMBER.test(line);
export const isProductName = (line: string): boolean => PRODUCT_NAME.test(line);
/** True for a line on which a report begins, ended or not as the one before it is; further lines may be indented. */
export const startsReport = (line: string, isIndented: boolean): boolean =>
  NAMED_REPORT.test(line) || (!isIndented && UNNAMED_REPORT.test(line));

/** SA and SP, FT (12 hours and more) and FC (less): the code of bulletins that do not name it. */
export function codeOfHeading({ designator }: Heading): CodeName | undefined {
  return CODES[designator.slice(0, 2)];
}

const CODES: Readonly<Record<string, CodeName>> = { SA: 'METAR', SP: 'SPECI', FT: 'TAF', FC: 'TAF' };
