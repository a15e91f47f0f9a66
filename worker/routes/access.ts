/** Keys as requests carry them, and what a principal may do. */

import { AccessError } from '../errors.ts';
import type { AccessKind } from '../schema/call.ts';
import type { Board } from '../sources/boards.ts';
import { BOARD_RIGHTS, type BoardRight } from '../sources/sign-in-settings.ts';
import type { Principal } from './principal.ts';

/** @returns undefined without a header. @throws AccessError for one that is no key. */
export function bearerKey(request: Request): string | undefined {
  const header = request.headers.get('authorization');
  if (header === null) return undefined;
  const key = /^Bearer ([\x21-\x7e]{16,200})$/.exec(header)?.[1];
  if (key === undefined) throw new AccessError('wrong');
  return key;
}

const KEY_PROTOCOL = 'key.';

/** Of a WebSocket: a browser's sends no header but the names of subprotocols. @throws AccessError for one that is no key. */
export function subprotocolKey(request: Request): string | undefined {
  const names = (request.headers.get('sec-websocket-protocol') ?? '').split(',').map((name) => name.trim());
  const found = names.find((name) => name.startsWith(KEY_PROTOCOL));
  if (found === undefined) return undefined;
  const key = /^[A-Za-z0-9_.~-]{16,200}$/.exec(found.slice(KEY_PROTOCOL.length))?.[0];
  if (key === undefined) throw new AccessError('wrong');
  return key;
}

/** Takes as long whatever the digests are. */
export function isHashOf(a: string, b: string): boolean {
  let difference = a.length ^ b.length;
  for (let index = 0; index < a.length; index += 1) difference |= a.charCodeAt(index) ^ b.charCodeAt(index);
  return difference === 0;
}

const NEEDED: Readonly<Partial<Record<AccessKind, BoardRight>>> = {
  'board-view': 'view',
  'board-edit': 'edit',
  'board-own': 'own',
};

/**
 * What the principal may do on the board of a call; undefined for a call without one.
 *
 * @throws AccessError where the call needs a key and there is none, one of somebody else, or one that allows less. A board that there
 *         is not is refused as somebody else's is.
 */
export function checkedAccess(
  access: AccessKind,
  principal: Principal,
  board: Board | undefined,
): BoardRight | undefined {
  if (access === 'open' || access === 'read' || access === 'brief-key') return undefined;
  if (principal.kind === 'nobody') throw new AccessError('missing');
  const needed = NEEDED[access];
  if (needed === undefined) {
    refuseNoOperator(principal);
    return undefined;
  }
  const right = board === undefined ? undefined : rightOn(principal, board);
  if (right === undefined) throw new AccessError('wrong');
  if (BOARD_RIGHTS.indexOf(right) < BOARD_RIGHTS.indexOf(needed)) throw new AccessError('not-enough');
  return right;
}

/** A sign-in that owns the operator's boards speaks for the operator. */
function refuseNoOperator(principal: Principal): void {
  if (principal.kind === 'operator') return;
  if (principal.kind !== 'sign-in') throw new AccessError('wrong');
  if (principal.access !== 'own') throw new AccessError('not-enough');
}

function rightOn(principal: Principal, board: Board): BoardRight | undefined {
  switch (principal.kind) {
    case 'nobody':
      return undefined;
    case 'board-key':
      return principal.board.id === board.id ? principal.access : undefined;
    case 'operator':
      return principal.operator === board.operator ? 'own' : undefined;
    case 'sign-in':
      return principal.operator === board.operator ? principal.access : undefined;
  }
}
