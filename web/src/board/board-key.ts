/** The secret that opens a board: it comes behind the # of a link, is kept on the device, and leaves the address at once. */
import * as z from 'zod/mini';
import { boardIdSchema } from '../../../worker/schema/board.ts';
import { storedText, storeText } from '../device-value.ts';

const KEYS = 'rimeway-board-keys';
const keysSchema = z.record(z.string(), z.string());
const SECRET = /^[A-Za-z0-9_-]{16,200}$/;

export interface BoardLink {
  readonly boardId: string;
  readonly key: string;
}

/** Board that an address names; undefined for any other address. */
export function boardIdOf(pathname: string): string | undefined {
  const id = /^\/board\/([^/]+)\/?$/.exec(pathname)?.[1];
  return boardIdSchema.safeParse(id).data;
}

/** Secret behind the #; undefined for none, and for what is none. */
export function secretOf(hash: string): string | undefined {
  const secret = hash.replace(/^#/, '');
  return SECRET.test(secret) ? secret : undefined;
}

/** A link that was pasted, whole or from its path on. Whose service it names does not matter: it is opened on this one. */
export function linkOf(text: string): BoardLink | undefined {
  const found = /\/board\/([A-Za-z0-9_-]{22})\/?(?:\?[^#\s]*)?#([A-Za-z0-9_-]{16,200})$/.exec(text.trim());
  return found === null ? undefined : { boardId: found[1]!, key: found[2]! };
}

/** Storage may be refused: the key then lasts as long as the page. */
const ofPage = new Map<string, string>();

export function keptKey(boardId: string): string | undefined {
  return ofPage.get(boardId) ?? stored()[boardId];
}

export function keepKey({ boardId, key }: BoardLink): void {
  ofPage.set(boardId, key);
  storeText(KEYS, JSON.stringify({ ...stored(), [boardId]: key }));
}

/** Boards that this device has keys of. */
export function keptBoardIds(): readonly string[] {
  const ids = [...new Set([...ofPage.keys(), ...Object.keys(stored())])];
  return ids.filter((id) => boardIdSchema.safeParse(id).success);
}

function stored(): Record<string, string> {
  try {
    return keysSchema.safeParse(JSON.parse(storedText(KEYS) ?? '{}')).data ?? {};
  } catch {
    return {};
  }
}
