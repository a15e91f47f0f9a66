/** Attributes and references of XML: only the five entities of the standard and numbers of characters. */
import { XmlFault, type XmlPlace } from './xml-fault.ts';

const ENTITIES: ReadonlyMap<string, string> = new Map([
  ['lt', '<'],
  ['gt', '>'],
  ['amp', '&'],
  ['apos', "'"],
  ['quot', '"'],
]);
const REFERENCE = /&(?:#(\d{1,7})|#x([\da-fA-F]{1,6})|([a-z]{1,4}));|&/g;
/** Blank, name, equals sign, quote. */
const ATTRIBUTE_START =
  /[ \t\r\n]+([A-Za-z_:\u00c0-\ufffd][-\w:.\u00b7-\ufffd]*)[ \t\r\n]*=[ \t\r\n]*(["'])/y;
const TAG_END = /[ \t\r\n]*(\/?)>/y;
const MOST_ATTRIBUTES = 50;

/** @throws XmlFault for any & that begins no reference known here. Line ends become LF, as production 2.11 has it. */
export function expandReferences(raw: string, place: XmlPlace): string {
  const text = raw.includes('\r') ? raw.replace(/\r\n?/g, '\n') : raw;
  if (!text.includes('&')) return text;
  return text.replace(REFERENCE, (found, decimal?: string, hex?: string, name?: string) => {
    if (name !== undefined) return ENTITIES.get(name) ?? refuse(found, place);
    const point = decimal === undefined ? Number.parseInt(hex ?? '', 16) : Number(decimal);
    return isCharacter(point) ? String.fromCodePoint(point) : refuse(found, place);
  });
}

/** Production 2 of the standard; NaN is none. */
function isCharacter(point: number): boolean {
  return (
    point === 9 ||
    point === 10 ||
    point === 13 ||
    (point >= 0x20 && point <= 0xd7ff) ||
    (point >= 0xe000 && point <= 0xfffd) ||
    (point >= 0x10000 && point <= 0x10ffff)
  );
}

function refuse(found: string, place: XmlPlace): never {
  throw new XmlFault(place, `"${found}"`, '&lt; &gt; &amp; &apos; &quot; or the number of a character');
}

export interface TagRest {
  readonly attributes: ReadonlyMap<string, string>;
  readonly isEmpty: boolean;
  /** Behind the tag. */
  readonly end: number;
}

/** What follows the name of an opening tag, from its first character on. */
export function readAttributes(text: string, from: number): TagRest {
  const attributes = new Map<string, string>();
  let at = from;
  for (;;) {
    const place = { text, offset: at };
    TAG_END.lastIndex = at;
    const close = TAG_END.exec(text);
    if (close !== null) return { attributes, isEmpty: close[1] === '/', end: TAG_END.lastIndex };
    ATTRIBUTE_START.lastIndex = at;
    const start = ATTRIBUTE_START.exec(text);
    if (start === null) throw new XmlFault(place, 'a tag without its end', 'name="value" or >');
    const [, name, quote] = start;
    const valueAt = ATTRIBUTE_START.lastIndex;
    const end = text.indexOf(quote!, valueAt);
    const raw = end < 0 ? '<' : text.slice(valueAt, end);
    if (raw.includes('<')) throw new XmlFault(place, `${name} without its closing quote`, quote!);
    if (attributes.has(name!)) throw new XmlFault(place, `${name} twice`, 'every attribute once');
    if (attributes.size === MOST_ATTRIBUTES)
      throw new XmlFault(place, 'more attributes', `at most ${MOST_ATTRIBUTES}`);
    attributes.set(name!, expandReferences(raw, place));
    at = end + 1;
  }
}
