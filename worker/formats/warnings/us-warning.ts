/**
 * Bulletins of the United States: AIRMET SIERRA, TANGO and ZULU with one paragraph an area, SIGMET by names of the
 * spelling alphabet, convective SIGMET by number, and cancellations.
 *
 * @source National Weather Service Instruction 10-811 (from memory) and bulletins WAUS4n KKCI, WSUSnn KKCI as sent.
 */
import { quoted, type RefusedText } from '../pilot-reports/bulletin.ts';
import type { UnreadText } from '../pilot-reports/report.ts';
import { readFreezingLevels } from './freezing-levels.ts';
import { geometryOf } from './geometry.ts';
import type { WarningContext } from './icao-warning.ts';
import { ICING_UNSTATED } from './icing-words.ts';
import { type Paragraph, readParagraph } from './us-sections.ts';
import { dayGroupMs, isWithinDay, nextTimeMs, type Validity } from './validity.ts';
import type { Phenomenon, Warning } from './warning.ts';

const AIRMET =
  /AIRMET (SIERRA|TANGO|ZULU)(?: (?:UPDT|UPDATE|AMD) ?(\d{1,2}))?(?: FOR [A-Z ]{2,60}?)? VALID UNTIL (\d{6})/y;
const SIGMET = /SIGMET ([A-Z]{4,8}) (\d{1,2}) VALID UNTIL (\d{6})/y;
const CONVECTIVE = /CONVECTIVE SIGMET (\d{1,3}[ECW]) VALID UNTIL (\d{4})Z/y;
const CANCEL = /CANCEL SIGMET ([A-Z]{4,8}) (\d{1,2})\.?/y;
/** Where a warning of these bulletins begins. */
export const US_START = new RegExp(
  [AIRMET, SIGMET, CONVECTIVE, CANCEL].map(({ source }) => source).join('|'),
  'g',
);
/** Area and kind of the bulletin with its day and time, as `MIAZ WA 271445`. */
export const US_ISSUE = /(?:^| )([A-Z]{3,4}) (?:WA|WS|UWS|WST) (\d{6})(?!\d)/;
const SECTION =
  /(?:AIRMET ([A-Z/ ]{2,30}?)|AREA \d{1,2}|(FRZLVL)|(LLWS POTENTIAL))\.{2,4} ?|(?:OTLK|OUTLOOK) VALID (\d{4,6})-(\d{4,6})Z?/g;
const HAZARD = /^(ICE|IFR|TURB|MTN OBSCN|STG SFC WNDS?|LLWS)(?![A-Z])/;

/** Bulletin around a warning. */
export interface UsIssue {
  /** Area of the bulletin; undefined when it names none. */
  readonly office: string | undefined;
  /** Epoch ms UTC of the issue; undefined when the text gives none. */
  readonly issuedMs: number | undefined;
}

interface Piece {
  readonly text: string;
  /** Offset of the text in the warning it is part of. */
  readonly offset: number;
}

/**
 * Reads what begins with one of the starts: one warning an area, outlook and line of the freezing level.
 *
 * @param lineAt   line of the input at an offset of the text.
 * @checked        tests/formats/warnings/us-warning.test.ts
 */
export function readUsWarnings(
  text: string,
  lineAt: (offset: number) => number,
  issue: UsIssue,
  context: WarningContext,
): (Warning | RefusedText)[] {
  for (const pattern of [AIRMET, SIGMET, CONVECTIVE, CANCEL]) pattern.lastIndex = 0;
  const airmet = AIRMET.exec(text);
  if (airmet !== null) return new SeriesReader(text, airmet, { lineAt, issue, context }).read();
  const reader = new SigmetReader(text, lineAt(0), issue, context);
  const cancel = CANCEL.exec(text);
  if (cancel !== null) return [reader.cancel(`${cancel[1]} ${cancel[2]}`)];
  const sigmet = SIGMET.exec(text);
  if (sigmet !== null) return [reader.warn(sigmet[0], `${sigmet[1]} ${sigmet[2]}`, sigmet[3]!)];
  const convective = CONVECTIVE.exec(text);
  if (convective !== null) return [reader.warn(convective[0], convective[1]!, convective[2]!)];
  const reason = `warning: found ${quoted(text)}, expected AIRMET or SIGMET with VALID UNTIL`;
  return [{ kind: 'refused', line: lineAt(0), text, reason }];
}

/** From the issue to a group of day and time, or of hour and minute. */
function untilOf(group: string, { issuedMs }: UsIssue, referenceMs: number): Validity {
  const nearMs = issuedMs ?? referenceMs;
  const endMs = group.length === 4 ? nextTimeMs(group, nearMs) : dayGroupMs(group, nearMs);
  const isInOrder = endMs !== undefined && (issuedMs === undefined || isWithinDay(issuedMs, endMs));
  return { validFromMs: issuedMs, validToMs: isInOrder ? endMs : undefined };
}

type Told = Pick<Warning, 'form' | 'identification' | 'line' | 'text' | 'phenomenon' | 'unread'> & Validity;

/** A warning of these bulletins with what its paragraph gives. */
function warningOf(told: Told, office: string | undefined, paragraph: Partial<Paragraph>): Warning {
  return {
    kind: 'warning',
    style: 'us',
    office,
    region: undefined,
    places: paragraph.places,
    status: 'operational',
    isOutlook: false,
    action: { kind: 'warn' },
    basis: { kind: 'unstated', atMs: undefined },
    areas: paragraph.areas ?? [],
    levels: paragraph.levels,
    movement: paragraph.movement,
    change: paragraph.change,
    freezingPrecipitation: paragraph.freezingPrecipitation ?? [],
    later: undefined,
    conditions: paragraph.conditions,
    ...told,
  };
}

/** Icing where the paragraph tells of it, or is headed by it; else what the words say. */
function phenomenonOf({ icing, freezingPrecipitation }: Paragraph, words: string): Phenomenon {
  const found = icing ?? (/^ICE(?![A-Z])/.test(words) ? ICING_UNSTATED : undefined);
  if (found !== undefined) return { ...found, cause: freezingPrecipitation[0] ?? 'unstated' };
  return words === '' ? { kind: 'not-stated' } : { kind: 'other', text: words };
}

function validityNote(group: string, validToMs: number | undefined): UnreadText[] {
  if (validToMs !== undefined) return [];
  const reason = `validity: found ${group}, expected a day and time within a day of the issue`;
  return [{ element: 'validity', text: group, reason }];
}

class SigmetReader {
  private readonly text: string;
  private readonly line: number;
  private readonly issue: UsIssue;
  private readonly context: WarningContext;

  constructor(text: string, line: number, issue: UsIssue, context: WarningContext) {
    this.text = text;
    this.line = line;
    this.issue = issue;
    this.context = context;
  }

  warn(head: string, identification: string, until: string): Warning {
    const validity = untilOf(until, this.issue, this.context.referenceMs);
    const paragraph = readParagraph(this.text.slice(head.length), this.context);
    const words = paragraph.unread.map(({ text }) => text).join(' ');
    const phenomenon = phenomenonOf(paragraph, words);
    const unread = phenomenon.kind === 'icing' ? paragraph.unread : [];
    const { text, line } = this;
    const told = { form: 'sigmet', identification, line, text, phenomenon, ...validity } as const;
    const notes = validityNote(until, validity.validToMs);
    return warningOf({ ...told, unread: [...notes, ...unread] }, this.issue.office, paragraph);
  }

  cancel(identification: string): Warning {
    const { text, line, issue } = this;
    const conditions = text.slice(text.indexOf(identification) + identification.length).replace(/^[. ]+/, '');
    const period = { validFromMs: issue.issuedMs, validToMs: undefined };
    const phenomenon = { kind: 'not-stated' } as const;
    const told = { form: 'sigmet', identification, line, text, phenomenon, unread: [], ...period } as const;
    const nothing = { validFromMs: undefined, validToMs: undefined };
    const warning = warningOf(told, issue.office, { conditions: conditions === '' ? undefined : conditions });
    return { ...warning, action: { kind: 'cancel', identification, ...nothing } };
  }
}

interface SeriesContext {
  readonly lineAt: (offset: number) => number;
  readonly issue: UsIssue;
  readonly context: WarningContext;
}

/** The paragraphs of one AIRMET bulletin. */
class SeriesReader {
  private readonly around: SeriesContext;
  private readonly identification: string;
  private readonly until: string;
  private readonly sections: readonly RegExpExecArray[];
  private readonly text: string;
  private readonly headLength: number;
  private validity: Validity;
  private isOutlook = false;

  constructor(text: string, start: RegExpExecArray, around: SeriesContext) {
    this.around = around;
    this.text = text;
    this.until = start[3]!;
    this.identification = [start[1], start[2]].filter((each) => each !== undefined).join(' ');
    this.headLength = start[0].length;
    this.validity = untilOf(this.until, around.issue, around.context.referenceMs);
    this.sections = [...text.matchAll(SECTION)].filter(({ index }) => index >= this.headLength);
  }

  read(): (Warning | RefusedText)[] {
    const items: (Warning | RefusedText)[] = [];
    const first = this.sections[0]?.index ?? this.text.length;
    const before = this.text.slice(this.headLength, first).replace(/[. ]+/g, ' ').trim();
    if (before !== '' || this.sections.length === 0) items.push(this.refuse(before, this.headLength));
    for (const [index, section] of this.sections.entries()) {
      const end = this.sections[index + 1]?.index ?? this.text.length;
      items.push(...this.readSection(section, this.text.slice(section.index, end)));
    }
    return items;
  }

  private refuse(text: string, offset: number): RefusedText {
    const reason = `airmet: found ${quoted(text)}, expected paragraphs that begin as AIRMET ICE...`;
    return {
      kind: 'refused',
      line: this.around.lineAt(offset),
      text: text === '' ? this.text : text,
      reason,
    };
  }

  private readSection(section: RegExpExecArray, text: string): (Warning | RefusedText)[] {
    const piece = { text: text.replace(/[ .]+$/, ''), offset: section.index };
    const body = text.slice(section[0].length);
    const [, hazard, freezing, windShear, from, to] = section;
    if (from !== undefined) return this.beginOutlook(from, to!, { text: body, offset: section.index });
    if (freezing !== undefined) return this.freezingLevels(piece, body);
    const named = hazard ?? windShear ?? HAZARD.exec(body)?.[1] ?? '';
    const words = hazard === undefined && windShear === undefined ? body.slice(named.length) : body;
    return [this.warning(piece, named, readParagraph(words.trim(), this.around.context))];
  }

  /** Periods are hours and minutes that begin at the end of the bulletin's own validity, or groups with the day. */
  private beginOutlook(from: string, to: string, rest: Piece): RefusedText[] {
    const nearMs = this.validity.validFromMs ?? this.around.context.referenceMs;
    const at = (group: string, afterMs: number) =>
      group.length === 4 ? nextTimeMs(group, afterMs) : dayGroupMs(group, afterMs);
    const validFromMs = at(from, nearMs);
    this.validity = { validFromMs, validToMs: at(to, validFromMs ?? nearMs) };
    this.isOutlook = true;
    const words = rest.text.replace(/[. ]+/g, ' ').trim();
    return words === '' ? [] : [this.refuse(words, rest.offset)];
  }

  private warning(piece: Piece, hazard: string, paragraph: Paragraph): Warning {
    const phenomenon = phenomenonOf(paragraph, hazard);
    const notes = validityNote(this.until, this.validity.validToMs);
    const told = this.told(piece, { phenomenon, unread: [...notes, ...paragraph.unread] });
    return { ...warningOf(told, this.around.issue.office, paragraph), isOutlook: this.isOutlook };
  }

  private told(piece: Piece, more: Pick<Warning, 'phenomenon' | 'unread'>): Told {
    const line = this.around.lineAt(piece.offset);
    const { identification, validity } = this;
    return { form: 'airmet', identification, line, text: piece.text, ...validity, ...more };
  }

  private freezingLevels(piece: Piece, body: string): (Warning | RefusedText)[] {
    this.isOutlook = false;
    this.validity = untilOf(this.until, this.around.issue, this.around.context.referenceMs);
    const { found, unread } = readFreezingLevels(body);
    const reason = `freezing level: found ${quoted(unread)}, expected RANGING FROM, ALG or MULT FRZLVL`;
    const words = unread === '' ? [] : [{ element: 'FRZLVL', text: unread, reason }];
    if (found.length === 0) return [{ ...this.refuse(piece.text, piece.offset), reason }];
    return found.map(({ phenomenon, statement, levels }, index) => {
      const told = this.told(piece, { phenomenon, unread: index === 0 ? words : [] });
      const areas =
        statement === undefined
          ? []
          : [{ statement, geometry: geometryOf(statement, undefined, this.around.context) }];
      return warningOf(told, this.around.issue.office, { areas, levels });
    });
  }
}
