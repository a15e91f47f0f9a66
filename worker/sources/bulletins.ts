/** Configured addresses of plain-text bulletins: what may be one, how it is named, and what is remembered of it. */
import { sha256Hex } from './sha256-hex.ts';

const LONGEST_ADDRESS = 2000;

/** True for an https address written plainly, on the usual port, without user or fragment. It may have a query. */
export function isBulletinUrl(text: string): boolean {
  if (text.length > LONGEST_ADDRESS || !URL.canParse(text)) return false;
  const url = new URL(text);
  const isBare = [url.username, url.password, url.port].every((part) => part === '') && !text.includes('#');
  return url.protocol === 'https:' && url.href === text && isBare;
}

/** As it may be shown: without the query, which may hold a key. */
export function shownAddress(address: string): string {
  const { origin, pathname } = new URL(address);
  return `${origin}${pathname}`;
}

/** Hex digits of a SHA-256; 64 bits. */
const NAME_LENGTH = 16;

/** Its name in the store, which tells nothing of the address. */
export async function sourceName(address: string): Promise<string> {
  return (await sha256Hex(address)).slice(0, NAME_LENGTH);
}

/** Shorter parts are words such as "metar", which reasons have too. */
const SHORTEST_SECRET = 8;

/** Words about a source, unless they hold something of the query of its address: a page of errors may repeat it. */
export function withoutQuery(words: string, address: string): string {
  const { search, searchParams } = new URL(address);
  const lower = words.toLowerCase();
  const parts = [search.slice(1), ...[...searchParams].map(([name, value]) => (value === '' ? name : value))]
    .flatMap((part) => [part, encodeURIComponent(part)])
    .filter((part) => part.length >= SHORTEST_SECRET);
  return parts.some((part) => lower.includes(part.toLowerCase()))
    ? 'found something that repeats the query of the address'
    : words;
}

export interface BulletinRow {
  /** See sourceName. */
  readonly source: string;
  readonly askedMs: number;
  /** When it last gave a report that was stored; undefined: never so far. */
  readonly gaveMs: number | undefined;
  /** Of its last whole answer. */
  readonly stored: number;
  readonly refused: number;
  /** Reason of the first piece refused of it; empty where none was. */
  readonly refusal: string;
  /** Its last fault, whatever came after it; empty where there was none. */
  readonly fault: string;
  readonly faultMs: number | undefined;
}

/** What became of one fetch: an answer, a fault, or an answer that is one. */
export interface BulletinEnd {
  readonly answer?: Pick<BulletinRow, 'stored' | 'refused' | 'refusal'> | undefined;
  readonly fault?: string | undefined;
  readonly nowMs: number;
}

export interface BulletinRepository {
  /** True for the one round that may ask the source: it was not asked within `everyMs` before. */
  claim(source: string, round: { readonly everyMs: number; readonly nowMs: number }): Promise<boolean>;
  note(source: string, end: BulletinEnd): Promise<void>;
  list(): Promise<readonly BulletinRow[]>;
}
