/**
 * Events of a small XML document from somebody we do not trust: elements, their attributes, their text.
 *
 * Our own because the platform of the Worker has no XML parser. It reads well-formed XML 1.0 without what an attacker needs:
 * a document type declaration is refused, so there are no entities but the five of the standard and character references,
 * and nothing outside the document is ever asked for. Every step moves forward: the work is linear in the length. More
 * lenient than the standard in the letters of names, and namespaces are not looked up.
 */
import { XmlFault, type XmlPlace } from './xml-fault.ts';
import { expandReferences, readAttributes } from './xml-text.ts';

export type XmlEvent =
  | { readonly kind: 'open'; readonly name: string; readonly attributes: ReadonlyMap<string, string> }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'close'; readonly name: string };

export interface XmlBounds {
  readonly mostCharacters: number;
  readonly mostDepth: number;
}

const NAME = /[A-Za-z_:\u00c0-\ufffd][-\w:.\u00b7-\ufffd]*/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: XML 1.0, production 2, leaves these out
const NOT_A_CHARACTER = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/;
/** Keeps what readers do with a name within bounds. */
const LONGEST_NAME = 200;
const BLANK = /^[ \t\r\n]*$/;

interface Cursor {
  readonly text: string;
  at: number;
  /** Names of the elements open here, outermost first. */
  readonly open: string[];
  sawRoot: boolean;
}

/**
 * @param text  The whole document; a byte order mark before it is allowed.
 * @returns     Events in document order, empty elements as open and close; text between tags in one or more pieces,
 *              references expanded, comments and processing instructions left out.
 * @throws      XmlFault with the line for anything not well formed, any DOCTYPE, and what lies beyond the bounds.
 * @source      Extensible Markup Language (XML) 1.0, fifth edition, 26 November 2008.
 */
export function* readXml(text: string, bounds: XmlBounds): Generator<XmlEvent & { place: XmlPlace }> {
  const place = (offset: number): XmlPlace => ({ text, offset });
  if (text.length > bounds.mostCharacters) {
    throw new XmlFault(place(0), `${text.length} characters`, `at most ${bounds.mostCharacters}`);
  }
  const bad = NOT_A_CHARACTER.exec(text);
  if (bad !== null) throw new XmlFault(place(bad.index), 'a control character', 'characters of XML');
  const cursor: Cursor = { text, at: text.startsWith('\ufeff') ? 1 : 0, open: [], sawRoot: false };
  while (cursor.at < text.length) {
    const from = cursor.at;
    for (const event of step(cursor, bounds)) yield { ...event, place: place(from) };
  }
  const unclosed = cursor.open.at(-1);
  if (unclosed !== undefined) throw new XmlFault(place(text.length), 'the end', `</${unclosed}>`);
  if (!cursor.sawRoot) throw new XmlFault(place(text.length), 'the end', 'an element');
}

/** Reads one tag, comment, instruction or stretch of text; always moves on. */
function step(cursor: Cursor, bounds: XmlBounds): XmlEvent[] {
  const { text, at } = cursor;
  if (text[at] !== '<') return characters(cursor);
  if (text.startsWith('<!--', at)) return comment(cursor);
  if (text.startsWith('<![CDATA[', at)) return section(cursor);
  if (text.startsWith('<?', at)) return instruction(cursor);
  if (text.startsWith('<!', at))
    fault(cursor, 'a declaration (DOCTYPE or the like)', 'none: they are refused');
  return text.startsWith('</', at) ? [closeTag(cursor)] : openTag(cursor, bounds);
}

function characters(cursor: Cursor): XmlEvent[] {
  const from = cursor.at;
  const next = cursor.text.indexOf('<', from);
  const to = next < 0 ? cursor.text.length : next;
  const raw = cursor.text.slice(from, to);
  if (cursor.open.length === 0) {
    if (!BLANK.test(raw)) fault(cursor, 'text outside the root element', 'nothing');
    cursor.at = to;
    return [];
  }
  if (raw.includes(']]>')) fault(cursor, ']]> in text', 'it only at the end of CDATA');
  const text = expandReferences(raw, { text: cursor.text, offset: from });
  cursor.at = to;
  return [{ kind: 'text', text }];
}

function comment(cursor: Cursor): XmlEvent[] {
  const end = cursor.text.indexOf('--', cursor.at + 4);
  if (end < 0 || cursor.text[end + 2] !== '>') fault(cursor, 'a comment', 'its end --> and no -- within');
  cursor.at = end + 3;
  return [];
}

function section(cursor: Cursor): XmlEvent[] {
  if (cursor.open.length === 0) fault(cursor, 'CDATA outside the root element', 'nothing');
  const text = cursor.text.slice(cursor.at + 9, endOf(cursor, ']]>', 9));
  cursor.at += 9 + text.length + 3;
  return [{ kind: 'text', text: text.replace(/\r\n?/g, '\n') }];
}

function instruction(cursor: Cursor): XmlEvent[] {
  const end = endOf(cursor, '?>', 2);
  const isDeclaration = /^<\?xml[ \t\r\n?]/i.test(cursor.text.slice(cursor.at, cursor.at + 6));
  const first = cursor.text.startsWith('\ufeff') ? 1 : 0;
  if (isDeclaration && cursor.at !== first)
    fault(cursor, 'an XML declaration', 'it at the very beginning only');
  cursor.at = end + 2;
  return [];
}

function endOf(cursor: Cursor, mark: string, skip: number): number {
  const end = cursor.text.indexOf(mark, cursor.at + skip);
  if (end < 0) fault(cursor, 'the end of the document', mark);
  return end;
}

function nameAt(cursor: Cursor, at: number): string {
  NAME.lastIndex = at;
  const name = NAME.exec(cursor.text)?.[0];
  if (name === undefined)
    return fault(cursor, `"${cursor.text.slice(cursor.at, cursor.at + 10)}"`, 'a tag with a name');
  if (name.length > LONGEST_NAME) fault(cursor, 'a longer name', `at most ${LONGEST_NAME} characters`);
  return name;
}

function closeTag(cursor: Cursor): XmlEvent {
  const name = nameAt(cursor, cursor.at + 2);
  const end = endOf(cursor, '>', 2);
  if (!BLANK.test(cursor.text.slice(cursor.at + 2 + name.length, end)))
    fault(cursor, `</${name} with more in it`, '>');
  const open = cursor.open.pop();
  if (open !== name) fault(cursor, `</${name}>`, open === undefined ? 'nothing' : `</${open}>`);
  cursor.at = end + 1;
  return { kind: 'close', name };
}

function openTag(cursor: Cursor, bounds: XmlBounds): XmlEvent[] {
  if (cursor.open.length === 0 && cursor.sawRoot) fault(cursor, 'a second root element', 'one');
  const name = nameAt(cursor, cursor.at + 1);
  const tag = readAttributes(cursor.text, cursor.at + 1 + name.length);
  cursor.sawRoot = true;
  cursor.at = tag.end;
  const opened: XmlEvent = { kind: 'open', name, attributes: tag.attributes };
  if (tag.isEmpty) return [opened, { kind: 'close', name }];
  cursor.open.push(name);
  if (cursor.open.length > bounds.mostDepth)
    fault(cursor, 'elements nested deeper', `at most ${bounds.mostDepth} levels`);
  return [opened];
}

function fault(cursor: Cursor, found: string, expected: string): never {
  throw new XmlFault({ text: cursor.text, offset: cursor.at }, found, expected);
}
