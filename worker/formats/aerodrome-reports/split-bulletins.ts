/**
 * Bulletins as received cut into reports: control characters, headings and code lines are the envelope, every other
 * character belongs to exactly one report or one refused text. A push parser that holds one report at a time.
 */
import {
  type CodeLine,
  type CodeName,
  codeOfHeading,
  type Heading,
  isEnvelope,
  isProductName,
  isTransmissionNumber,
  readCodeLine,
  readHeading,
  startsReport,
} from './bulletin-lines.ts';
import { type Clock, readClock } from './report-time.ts';

/** Where a text stands in its file. */
export interface Place {
  /** From 1. */
  readonly line: number;
  /** Of the first character; characters are bytes when bytes were pushed. */
  readonly offset: number;
  /** Up to and with the equals sign, line ends inside included. */
  readonly length: number;
}

/** One report as it came, not yet read. */
export interface RawReport {
  /** By the report itself, its code line or its heading; undefined when none of them names it. */
  readonly code: CodeName | undefined;
  readonly groups: readonly string[];
  /** The groups with single blanks between them. */
  readonly text: string;
  /** Of the code line, for reports that bring no time. */
  readonly commonClock: Clock | undefined;
  readonly isCorrection: boolean;
  readonly isAmendment: boolean;
  /** Undefined for text outside a bulletin. */
  readonly heading: Heading | undefined;
  readonly place: Place;
  /** True when the text was cut off because it was too long to be a report. */
  readonly isCutOff: boolean;
}

export interface BulletinSplitter {
  /** Takes the next stretch of the file; gives the reports that it has ended. */
  push(text: string): RawReport[];
  /** To be called once at the end of the file; gives the report that was open. */
  end(): RawReport[];
}

/** No report comes near; what is longer is told and left out beyond. */
const MOST_CHARACTERS = 8192;

/** What ends a stretch of text: line ends, the equals sign, and the marks of a transmission. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: the envelope is made of them
const END = /[\n=\u0001\u0003]/g;
/** Byte order mark of UTF-8, read one character a byte. */
const BYTE_ORDER_MARK = '\u00EF\u00BB\u00BF';
const START_OF_HEADING = '\u0001';
const END_OF_TEXT = '\u0003';
// biome-ignore lint/suspicious/noControlCharactersInRegex: the envelope is made of them
const BLANKS = /[\u0000-\u0020\u007F\u00A0\uFEFF]+/g;

interface OpenReport {
  parts: string[];
  characters: number;
  readonly line: number;
  readonly offset: number;
  end: number;
  isCutOff: boolean;
}

/** A line of figures that may be the number of the next transmission, or the end of a report. */
interface Pending {
  readonly raw: string;
  readonly offset: number;
  readonly line: number;
}

class Splitter implements BulletinSplitter {
  #rest = '';
  #restOffset = 0;
  #line = 1;
  #heading: Heading | undefined;
  #codeLine: CodeLine | undefined;
  #isAfterHeading = false;
  #isLineBegin = true;
  #open: OpenReport | undefined;
  #pending: Pending | undefined;
  #finished: RawReport[] = [];

  push(text: string): RawReport[] {
    let from = 0;
    END.lastIndex = this.#rest.length;
    this.#rest += text;
    for (let match = END.exec(this.#rest); match !== null; match = END.exec(this.#rest)) {
      this.#takeStretch(this.#rest.slice(from, match.index), this.#restOffset + from, match[0]);
      from = match.index + 1;
    }
    this.#keepRest(from);
    return this.#taken();
  }

  end(): RawReport[] {
    this.#takeStretch(this.#rest, this.#restOffset, '\n');
    this.#restOffset += this.#rest.length;
    this.#rest = '';
    this.#close();
    return this.#taken();
  }

  /** A stretch without an end is taken once it is too long for a report, so that no file can fill the memory. */
  #keepRest(from: number): void {
    this.#rest = this.#rest.slice(from);
    this.#restOffset += from;
    if (this.#rest.length <= MOST_CHARACTERS) return;
    this.#takeText(this.#rest, this.#restOffset);
    this.#restOffset += this.#rest.length;
    this.#rest = '';
    this.#isLineBegin = false;
  }

  #taken(): RawReport[] {
    const finished = this.#finished;
    this.#finished = [];
    return finished;
  }

  #takeStretch(stretch: string, offset: number, end: string): void {
    const isMarked = offset === 0 && stretch.startsWith(BYTE_ORDER_MARK);
    const raw = isMarked ? `   ${stretch.slice(BYTE_ORDER_MARK.length)}` : stretch;
    if (this.#isLineBegin && end !== '=') this.#takeLine(raw, offset);
    else if (this.#isLineBegin) this.#takeTextLine(raw, offset);
    else this.#takeText(raw, offset);
    if (end === '=') this.#endReport(offset + raw.length + 1);
    if (end === '\n') this.#line += 1;
    if (end === START_OF_HEADING || end === END_OF_TEXT) this.#endBulletin();
    this.#isLineBegin = end !== '=';
  }

  #takeLine(raw: string, offset: number): void {
    const line = plain(raw);
    if (line === '') return;
    if (this.#takeEnvelope(line)) return;
    if (isTransmissionNumber(line)) {
      this.#keepPending();
      this.#pending = { raw, offset, line: this.#line };
      return;
    }
    this.#takeTextLine(raw, offset);
  }

  /** A report that begins ends the one before it, which has no equals sign then. */
  #takeTextLine(raw: string, offset: number): void {
    if (startsReport(plain(raw), /^[ \t]/.test(raw))) this.#close();
    this.#takeText(raw, offset);
  }

  /** True when the line is one of the envelope: it ends the open report, and stays out of every report. */
  #takeEnvelope(line: string): boolean {
    const isProduct = this.#isAfterHeading && isProductName(line) && readCodeLine(line) === undefined;
    const heading = readHeading(line);
    const codeLine = readCodeLine(line);
    if (heading === undefined && codeLine === undefined && !isEnvelope(line) && !isProduct) return false;
    // Figures right above a heading are its transmission's number; above anything else they end a report.
    if (heading === undefined) this.#keepPending();
    this.#pending = undefined;
    this.#close();
    if (heading !== undefined) this.#beginBulletin(heading);
    else if (!isProduct && codeLine === undefined) this.#endBulletin();
    if (codeLine !== undefined) this.#codeLine = codeLine;
    this.#isAfterHeading = heading !== undefined;
    return true;
  }

  #beginBulletin(heading: Heading): void {
    this.#heading = heading;
    this.#codeLine = undefined;
  }

  #endBulletin(): void {
    this.#close();
    this.#heading = undefined;
    this.#codeLine = undefined;
    this.#isAfterHeading = false;
  }

  #keepPending(): void {
    const pending = this.#pending;
    if (pending === undefined) return;
    this.#pending = undefined;
    this.#add(pending.raw, pending.offset, pending.line);
  }

  #takeText(raw: string, offset: number): void {
    if (plain(raw) === '') return;
    this.#keepPending();
    this.#isAfterHeading = false;
    this.#add(raw, offset, this.#line);
  }

  #add(raw: string, offset: number, line: number): void {
    const begin = offset + (raw.length - raw.trimStart().length);
    this.#open ??= { parts: [], characters: 0, line, offset: begin, end: begin, isCutOff: false };
    const open = this.#open;
    open.end = offset + raw.trimEnd().length;
    const room = MOST_CHARACTERS - open.characters;
    if (raw.length > room) open.isCutOff = true;
    if (room <= 0) return;
    open.parts.push(raw.slice(0, room));
    open.characters += raw.length;
  }

  #endReport(end: number): void {
    this.#keepPending();
    if (this.#open !== undefined) this.#open.end = end;
    this.#close();
  }

  #close(): void {
    this.#keepPending();
    const open = this.#open;
    if (open === undefined) return;
    this.#open = undefined;
    const text = plain(open.parts.join(' '));
    const groups = text.split(' ');
    const codeLine = this.#codeLine;
    const sign = this.#heading?.sign ?? '';
    const { line, offset } = open;
    this.#finished.push({
      code: codeIn(groups) ?? codeLine?.code ?? (this.#heading && codeOfHeading(this.#heading)),
      groups,
      text,
      commonClock: codeLine?.timeFigures === undefined ? undefined : readClock(codeLine.timeFigures),
      isCorrection: codeLine?.isCorrection === true || sign === 'COR' || /^CC[A-Z]$/.test(sign),
      isAmendment: codeLine?.isAmendment === true || /^AA[A-Z]$/.test(sign),
      heading: this.#heading,
      place: { line, offset, length: open.end - offset },
      isCutOff: open.isCutOff,
    });
  }
}

export function createBulletinSplitter(): BulletinSplitter {
  return new Splitter();
}

/** Control characters and runs of blanks become one blank. */
function plain(raw: string): string {
  return raw.replace(BLANKS, ' ').trim();
}

function codeIn(groups: readonly string[]): CodeName | undefined {
  const match = /^\*?(METAR|SPECI|TAF)$/.exec(groups[0] ?? '');
  return match === null ? undefined : (match[1] as CodeName);
}
