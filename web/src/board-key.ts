/** The key of the board that the page was opened from: its operator's own data count in the brief. Few imports: see first-ask.ts. */
import { storedText } from './device-value.ts';

const KEYS = 'rimeway-board-keys';
const BOARD_ID = /^[A-Za-z0-9_-]{22}$/;

/** Read once: what is typed or considered later rewrites the address without it. */
let headers: Readonly<Record<string, string>> | undefined;

/** Nothing where the address names no board, or this device has no key of it. */
export function boardHeaders(): Readonly<Record<string, string>> {
  headers ??= headersOf(new URLSearchParams(location.search).get('board') ?? '');
  return headers;
}

function headersOf(board: string): Readonly<Record<string, string>> {
  if (!BOARD_ID.test(board)) return {};
  try {
    const key: unknown = (JSON.parse(storedText(KEYS) ?? '{}') as Record<string, unknown>)[board];
    return typeof key === 'string' ? { authorization: `Bearer ${key}`, 'x-rimeway-board': board } : {};
  } catch {
    return {};
  }
}
