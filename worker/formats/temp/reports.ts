/** Telex text cut into reports: bulletin headings dropped, each part's groups kept with their lines. */
import type { Rejection, ReportText } from '../sounding.ts';

/** One group of a report, and the line it stands on (from 1). */
export interface Group {
  readonly text: string;
  readonly line: number;
}

export type Part = ReportText['part'];

/** One part of one report as it came. */
export interface Report {
  /** TT land station, UU ship; the other families of the standard are recognized so that they can be refused. */
  readonly family: string;
  readonly part: Part;
  readonly line: number;
  /** Groups after the part's name, up to the equals sign, the next part or the next heading. */
  readonly groups: readonly Group[];
  /** 0 for a first report, 1 for its first correction (COR, CCA), 2 for the next (CCB) and so on. */
  readonly correction: number;
}

const PART_NAME = /^(TT|UU|II|XX|PP|QQ|EE)(AA|BB|CC|DD)$/;
/** Abbreviated heading: data designators, place, day and time, and perhaps the sign of a delay, correction or change. */
const HEADING = /^[A-Z]{4}\d{0,2} [A-Z]{4} \d{6}(?: ([A-Z]{3}))?$/;
const CORRECTION = /^(?:COR|CC([A-Z]))$/;
/** Start and end lines of a transmission and its running number. */
const ENVELOPE = /^(?:ZCZC\b.*|NNNN|\d{1,4})$/;
/** The line that some centers put under the heading. */
const PRODUCT_NAME = /^[A-Z][A-Z0-9]{3,5}$/;

/** Levels each second of an ascent would not fill them. */
const MOST_GROUPS = 3000;
/** Groups have five figures; of a longer one this much is shown where it is refused. */
const LONGEST_GROUP = 60;

interface SplitState {
  readonly reports: Report[];
  readonly rejected: Rejection[];
  openReport: (Report & { groups: Group[] }) | undefined;
  /** Groups since the last report that belong to none yet. */
  stray: Group[];
  /** What the heading says of the reports under it. */
  correction: number;
  isAfterHeading: boolean;
}

/**
 * @returns  the parts in the order of the text, and the text that is neither heading nor report. A lone five-figure
 *           group right before a part (the station once more) is no fault. Never throws.
 */
export function splitReports(text: string): { reports: Report[]; rejected: Rejection[] } {
  const state: SplitState = {
    reports: [],
    rejected: [],
    openReport: undefined,
    stray: [],
    correction: 0,
    isAfterHeading: false,
  };
  text.split(/\r\n|\n|\r/).forEach((raw, index) => {
    takeLine(state, plainText(raw), index + 1);
  });
  closeReport(state);
  flushStray(state);
  return { reports: state.reports, rejected: state.rejected };
}

/** Control characters of the telex envelope and runs of blanks become one blank. */
function plainText(raw: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the telex envelope is made of them
  return raw.replace(/[\u0000-\u0020\u007F\u00A0\uFEFF]+/g, ' ').trim();
}

function takeLine(state: SplitState, line: string, lineNumber: number): void {
  if (line === '') return;
  const heading = HEADING.exec(line);
  if (heading !== null || ENVELOPE.test(line)) {
    closeReport(state);
    flushStray(state);
    state.correction = correctionOf(heading?.[1]) ?? 0;
    state.isAfterHeading = heading !== null;
    return;
  }
  const isProductName = state.isAfterHeading && PRODUCT_NAME.test(line) && !PART_NAME.test(line);
  state.isAfterHeading = false;
  if (isProductName) return;
  for (const token of line.replaceAll('=', ' = ').split(' ')) {
    if (token !== '') takeGroup(state, { text: token, line: lineNumber });
  }
}

/** Which correction a word announces; undefined for any other word. */
function correctionOf(word: string | undefined): number | undefined {
  const found = CORRECTION.exec(word ?? '');
  if (found === null) return undefined;
  return found[1] === undefined ? 1 : found[1].charCodeAt(0) - 64;
}

function takeGroup(state: SplitState, group: Group): void {
  const name = PART_NAME.exec(group.text);
  const { openReport } = state;
  if (name !== null) {
    openReportAt(state, group.line, name);
  } else if (group.text === '=') closeReport(state);
  else if (openReport === undefined) state.stray.push(group);
  else {
    // The mark of a correction may stand after the part's name too.
    const correction = openReport.groups.length === 0 ? correctionOf(group.text) : undefined;
    if (correction !== undefined) state.openReport = { ...openReport, correction };
    else if (openReport.groups.length < MOST_GROUPS)
      openReport.groups.push({ ...group, text: group.text.slice(0, LONGEST_GROUP) });
    else dropReport(state, openReport);
  }
}

function openReportAt(state: SplitState, line: number, name: RegExpExecArray): void {
  // Text up to here is stray only where no report is open: there the station, or a correction's mark, may go ahead.
  const correction = state.openReport === undefined ? correctionOf(state.stray.at(-1)?.text) : undefined;
  if (correction !== undefined) state.stray.pop();
  const isStationAgain = state.stray.length === 1 && /^\d{5}$/.test(state.stray[0]!.text);
  if (state.openReport !== undefined) closeReport(state);
  else if (!isStationAgain) flushStray(state);
  state.stray = [];
  state.openReport = {
    family: name[1]!,
    part: name[2]![0] as Part,
    line,
    groups: [],
    correction: correction ?? state.correction,
  };
}

/** No ascent fills so many groups: what follows is another text. */
function dropReport(state: SplitState, { family, part, line }: Report): void {
  const reason = `${family}${part}${part}: found more than ${MOST_GROUPS} groups, expected an equals sign or the next part before`;
  state.rejected.push({ line, reason });
  state.openReport = undefined;
}

function closeReport(state: SplitState): void {
  if (state.openReport !== undefined) state.reports.push(state.openReport);
  state.openReport = undefined;
}

/** Text outside every report, told once a line. */
function flushStray(state: SplitState): void {
  const lines = new Map<number, string[]>();
  for (const { line, text } of state.stray) {
    const texts = lines.get(line);
    if (texts === undefined) lines.set(line, [text]);
    else texts.push(text);
  }
  for (const [line, texts] of lines) {
    state.rejected.push({
      line,
      reason: `text outside a report: found ${JSON.stringify(texts.join(' ').slice(0, 60))}, expected a part such as TTAA`,
    });
  }
  state.stray = [];
}

/** A report as it is kept for parts that come later. */
export function reportText(report: Report): ReportText {
  const name = `${report.family}${report.part}${report.part}`;
  const text = [name, ...report.groups.map((group) => group.text)].join(' ');
  return { part: report.part, correction: report.correction, text };
}

/** Reports that were kept, to be read beside new ones. */
export function reportsOf(kept: readonly ReportText[]): Report[] {
  return kept.flatMap(({ text, correction }) =>
    splitReports(text).reports.map((report) => ({ ...report, correction })),
  );
}
