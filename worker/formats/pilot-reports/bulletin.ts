/**
 * Text bulletins as the services exchange them: control characters, abbreviated headings, messages ended by an equals
 * sign (WMO-No. 386, Manual on the Global Telecommunication System, part II; from memory).
 */
import { plainText } from '../plain-text.ts';

export interface BulletinLine {
  readonly text: string;
  /** From 1 in the text that was read. */
  readonly line: number;
}

/** TTAAii CCCC YYGGgg, with BBB when it is a correction, delay or amendment. */
export interface BulletinHeading {
  readonly designator: string;
  readonly center: string;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
}

export interface BulletinMessage {
  /** At least one; upper case, without control characters, blanks at the ends removed. */
  readonly lines: readonly BulletinLine[];
  /** The heading above; undefined when there is none. */
  readonly heading: BulletinHeading | undefined;
}

/** Text that was not used, and why; nothing else is left out. */
export interface RefusedText {
  readonly kind: 'refused';
  readonly line: number;
  readonly text: string;
  /** What was found and what was expected. */
  readonly reason: string;
}

const HEADING = /^([A-Z]{4}\d{1,2})\s?([A-Z]{4}) (\d\d)(\d\d)(\d\d)Z?(?: [A-Z]{3})?$/;
/** A heading with what it heads on the same line, as pages print bulletins. */
const HEADING_AHEAD = /^[A-Z]{4}\d{1,2}\s?[A-Z]{4} \d{6}Z?(?: (?:RR|CC|AA)[A-Z])?(?= |\/)(?: ?\/(?= ))?/;
/** Canada's region under a heading, alone on its line or before the solidus of the next. */
const REGION = /^[A-Z]{2}(?:$| \/ (?=UU?A\b))/;
/** Line of the identifier that follows a heading, as PRCUS or WA2Z. */
const PRODUCT = /^[A-Z][A-Z0-9]{3,5}$/;
/** Sequence number, start and end of transmission, and the shortened heading of a relay. */
const FURNITURE = /^(?:\d{3,5}|ZCZC\b.*|NNNN|[A-Z]{2} \d{6})$/;

/**
 * Parts a text into messages. Headings, sequence numbers and product lines stand in no message; every other line that
 * is not blank stands in exactly one. Never throws.
 */
export function* bulletinMessages(text: string): Generator<BulletinMessage> {
  let heading: BulletinHeading | undefined;
  let isUnderHeading = false;
  let lines: BulletinLine[] = [];
  for (const { text: content, line } of cleanLines(text)) {
    const found = readHeading(content);
    if (found !== undefined || (lines.length === 0 && FURNITURE.test(content))) {
      if (lines.length > 0) yield { lines, heading };
      lines = [];
      heading = found ?? heading;
      isUnderHeading = found !== undefined || isUnderHeading;
      continue;
    }
    const isProduct = isUnderHeading && PRODUCT.test(content);
    const headed = isUnderHeading ? content.replace(REGION, '') : content;
    isUnderHeading = false;
    if (isProduct) continue;
    const parts = headed.split('=');
    for (const [index, part] of parts.entries()) {
      if (part.trim() !== '') lines.push({ text: part.trim(), line });
      if (index === parts.length - 1 || lines.length === 0) continue;
      yield { lines, heading };
      lines = [];
    }
  }
  if (lines.length > 0) yield { lines, heading };
}

function* cleanLines(text: string): Generator<BulletinLine> {
  const plain = plainText(text);
  const unified = plain.includes('\n') ? plain.replaceAll('\r', '') : plain.replaceAll('\r', '\n');
  let line = 0;
  for (const raw of unified.split('\n')) {
    line += 1;
    const content = withoutControls(raw).trim().toUpperCase();
    if (content === '') continue;
    const heading = HEADING_AHEAD.exec(content)?.[0] ?? '';
    const rest = content.slice(heading.length).trim();
    if (heading !== '' && rest !== '' && readHeading(withoutStroke(heading)) !== undefined) {
      yield { text: withoutStroke(heading), line };
      yield { text: rest, line };
    } else yield { text: content, line };
  }
}

const withoutStroke = (heading: string) => heading.replace(/ ?\/$/, '');

/** A tab is a blank; other control characters stand for nothing. */
function withoutControls(text: string): string {
  let result = '';
  for (const character of text.replaceAll('\t', ' ')) {
    const code = character.codePointAt(0)!;
    if (code >= 0x20 && code !== 0x7f) result += character;
  }
  return result;
}

function readHeading(content: string): BulletinHeading | undefined {
  const match = HEADING.exec(content);
  if (match === null) return undefined;
  const [day, hour, minute] = [Number(match[3]), Number(match[4]), Number(match[5])];
  if (day < 1 || day > 31 || hour > 23 || minute > 59) return undefined;
  return { designator: match[1]!, center: match[2]!, day, hour, minute };
}

/** Lines as one line of words parted by single blanks. */
export function joined(lines: readonly BulletinLine[]): string {
  return lines
    .map(({ text }) => text)
    .join(' ')
    .replace(/\s+/g, ' ')
    .trim();
}

/** At most so many characters, quoted, for a reason. */
export function quoted(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 40)}…` : text);
}
