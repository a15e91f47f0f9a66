/** Who makes a call, as its key or its sign-in says. */
import type { Settings } from '../env.ts';
import { AccessError } from '../errors.ts';
import type { AccessKind, Call } from '../schema/call.ts';
import type { Board, BoardKey } from '../sources/boards.ts';
import type { Dependencies } from '../sources/ports.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import type { BoardRight } from '../sources/sign-in-settings.ts';
import { bearerKey, isHashOf, subprotocolKey } from './access.ts';
import { signedIn, signInTokenOf } from './sign-in.ts';

/** A person whom the provider of sign-ins vouches for. */
export interface SignedIn {
  readonly kind: 'sign-in';
  readonly operator: string;
  /** On every board of the operator; `own` may do what the operator's key may. */
  readonly access: BoardRight;
  readonly subject: string;
}

export type Principal =
  | { readonly kind: 'nobody' }
  | { readonly kind: 'operator'; readonly operator: string }
  | {
      readonly kind: 'board-key';
      readonly board: Board;
      readonly keyId: string;
      readonly access: BoardKey['access'];
    }
  | SignedIn;

const NOBODY = { kind: 'nobody' } as const;

/** The board whose key it is, for calls that have none in their path. */
export const BOARD_HEADER = 'x-rimeway-board';
const BOARD_ID = /^[A-Za-z0-9_-]{22}$/;

export interface Caller {
  readonly principal: Principal;
  /** Of the path; undefined for a call without, and for one that there is not. */
  readonly board: Board | undefined;
}

/** Kinds of access whose key is looked at here. */
const IS_CHECKED: Readonly<Record<AccessKind, boolean>> = {
  open: false,
  read: true,
  operator: true,
  'board-view': true,
  'board-edit': true,
  'board-own': true,
  'brief-key': false,
};

/** @throws AccessError for a key or token that opens nothing here. Looks for the same things whatever of it is wrong. */
export async function callerOf(
  request: Request,
  call: Call,
  { deps, settings, boardId }: { deps: Dependencies; settings: Settings; boardId: string | undefined },
): Promise<Caller> {
  if (!IS_CHECKED[call.access]) return { principal: NOBODY, board: undefined };
  const token = signInTokenOf(request, settings.signIn);
  const key = isOnlyToken(token, settings) ? undefined : keyOf(request, call);
  const asked = boardId ?? (call.access === 'read' ? request.headers.get(BOARD_HEADER) : null);
  if (key !== undefined) return callerByKey(key, plainId(asked), { deps, settings });
  if (token === undefined || settings.signIn === undefined) return { principal: NOBODY, board: undefined };
  const [principal, board] = await Promise.all([
    signedIn(token, settings.signIn, deps),
    boardId === undefined ? undefined : deps.boards.find(plainId(boardId) ?? ''),
  ]);
  return { principal, board };
}

/** In the header of keys a token stands in a key's place; in one of its own a key beside it goes before it. */
function isOnlyToken(token: string | undefined, { signIn }: Settings): boolean {
  return token !== undefined && signIn?.header === 'authorization';
}

function keyOf(request: Request, call: Call): string | undefined {
  return call.keyIn === 'subprotocol' ? subprotocolKey(request) : bearerKey(request);
}

/** What is no name of a board is looked for as one that there cannot be; undefined where none is asked for. */
function plainId(id: string | null): string | undefined {
  if (id === null) return undefined;
  return BOARD_ID.test(id) ? id : '';
}

async function callerByKey(
  key: string,
  boardId: string | undefined,
  { deps, settings }: { deps: Dependencies; settings: Settings },
): Promise<Caller> {
  const hash = await sha256Hex(key);
  const operator = operatorOfHash(hash, settings.keyHashes);
  const [board, found] =
    boardId === undefined
      ? [undefined, undefined]
      : await Promise.all([deps.boards.find(boardId), deps.boards.findKey(boardId, hash)]);
  if (operator !== undefined) return { principal: { kind: 'operator', operator }, board };
  if (board === undefined || found === undefined) throw new AccessError('wrong');
  return {
    principal: { kind: 'board-key', board, keyId: found.keyId, access: found.access },
    board,
  };
}

/** Looks at every one, whichever it is. */
export function operatorOfHash(hash: string, keyHashes: Settings['keyHashes']): string | undefined {
  let found: string | undefined;
  for (const [operator, known] of keyHashes) if (isHashOf(hash, known)) found = operator;
  return found;
}

/** Whose data the principal may read beside those that everybody may; undefined for nobody. */
export function operatorOf(principal: Principal): string | undefined {
  if (principal.kind === 'nobody') return undefined;
  return principal.kind === 'board-key' ? principal.board.operator : principal.operator;
}

/** As the audit names it: never a secret. */
export function principalText(principal: Principal): string {
  switch (principal.kind) {
    case 'nobody':
      return 'nobody';
    case 'operator':
      return `operator ${principal.operator}`;
    case 'board-key':
      return `key ${principal.keyId}`;
    case 'sign-in':
      return `sign-in ${principal.subject}`;
  }
}
