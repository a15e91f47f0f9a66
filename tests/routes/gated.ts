/** The gate before handlers that only tell whom it let in, two operators, and boards of one of them. */
import { vi } from 'vitest';
import { createApp } from '../../worker/app.ts';
import type { Settings } from '../../worker/env.ts';
import type { Handler } from '../../worker/routes/board-handlers.ts';
import type { Call } from '../../worker/schema/call.ts';
import { CALLS, type CallName } from '../../worker/schema/calls.ts';
import type { AuditEntry, Board, BoardKey } from '../../worker/sources/boards.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';

export const NOW_MS = Date.UTC(2026, 0, 14, 11);
export const BOARD_ID = 'board-of-operator-own-';
export const OTHER_BOARD_ID = 'a-second-board-of-own-';
export const KEYS = {
  own: 'key-of-the-operator-own',
  other: 'key-of-the-operator-other',
  view: 'secret-of-the-view-link',
  edit: 'secret-of-the-edit-link',
  elsewhere: 'secret-of-another-board',
  wrong: 'a-key-of-nobody-at-all',
} as const;
export type KeyName = keyof typeof KEYS;

/** A board of the operator `own`. */
export const boardOf = (id: string): Board => ({
  ...{ id, operator: 'own', name: 'Invented', timeZone: 'America/New_York' },
  ...{ standsMs: undefined, createdMs: 0, seq: 0, publishedSeq: 0 },
});

/** What a handler behind the gate saw. */
export interface Seen {
  readonly name: string;
  readonly principal: string;
  readonly operators: readonly string[];
  readonly board: string | undefined;
  readonly access: string | undefined;
}

export const LET_IN = 200;

const probe =
  (name: string): Handler =>
  (context) => {
    const { principal, operators, board, access } = context.var;
    return context.json({ name, principal: principal.kind, operators, board: board?.id, access }, LET_IN);
  };

export interface Gated {
  readonly ask: (path: string, init?: RequestInit) => Promise<Response>;
  readonly audited: AuditEntry[];
  readonly stores: MemoryStores;
  /** What was looked for of boards. */
  readonly looked: string[];
  readonly later: (ms: number) => void;
}

interface GatedOptions {
  readonly signIn?: Settings['signIn'];
  readonly handlers?: Partial<Record<CallName, Handler>>;
  readonly stores?: Partial<MemoryStores>;
}

/** Of an instance where nobody may write. */
export const SETTINGS: Settings = {
  keyHashes: new Map(),
  openOperators: ['demo'],
  operatingArea: undefined,
  supply: { models: [], operator: 'open', horizonMs: 0, baseUrl: undefined, bulletinUrls: [] },
  terrain: undefined,
  reportsKeptMs: 0,
  signIn: undefined,
  push: undefined,
  alarmUrl: undefined,
};

export async function gated({
  signIn,
  handlers = {},
  stores: changed = {},
}: GatedOptions = {}): Promise<Gated> {
  let nowMs = NOW_MS;
  const audited: AuditEntry[] = [];
  const looked: string[] = [];
  const keys = await Promise.all([
    keyOf(BOARD_ID, 'view'),
    keyOf(BOARD_ID, 'edit'),
    keyOf(OTHER_BOARD_ID, 'edit', 'elsewhere'),
  ]);
  const plain = createMemoryStores();
  const stores: MemoryStores = {
    ...plain,
    nowMs: () => nowMs,
    boards: {
      ...plain.boards,
      find: async (id) => {
        looked.push('board');
        return [BOARD_ID, OTHER_BOARD_ID].includes(id) ? boardOf(id) : undefined;
      },
      findKey: async (id, sha256) => {
        looked.push('key');
        return keys.find((key) => key.boardId === id && key.sha256 === sha256);
      },
      audit: async (entry) => void audited.push(entry),
    },
    ...changed,
  };
  const settings: Settings = {
    ...SETTINGS,
    keyHashes: new Map([
      ['own', await sha256Hex(KEYS.own)],
      ['other', await sha256Hex(KEYS.other)],
    ]),
    signIn,
  };
  const probes = Object.fromEntries(Object.keys(CALLS).map((name) => [name, probe(name)]));
  const app = createApp(stores, settings, { ...probes, ...handlers } as Record<CallName, Handler>);
  return {
    ask: async (path, init) => app.request(`http://rimeway.test${path}`, init),
    ...{ audited, looked, stores },
    later: (ms) => {
      nowMs += ms;
    },
  };
}

async function keyOf(boardId: string, access: BoardKey['access'], name: KeyName = access): Promise<BoardKey> {
  const named = { keyId: `id-of-${name}`, boardId, access, label: name };
  return { ...named, sha256: await sha256Hex(KEYS[name]), createdMs: 0, revokedMs: undefined };
}

const PARAMETERS: Readonly<Record<string, string>> = {
  board: BOARD_ID,
  keyId: 'K'.repeat(22),
  leg: 'L'.repeat(22),
  flight: `${'L'.repeat(22)}.2026-01-14`,
  tail: 'N1',
  id: 'S'.repeat(22),
};

/** An address of a call, with something for each of its parameters. */
export function pathOfCall({ path }: Call, parameters: Readonly<Record<string, string>> = {}): string {
  return path.replace(/\{(\w+)\}/g, (_, name: string) => ({ ...PARAMETERS, ...parameters })[name]!);
}

/** The key where the call wants it. */
export function withKey({ keyIn }: Call, key: string | undefined): Record<string, string> {
  if (key === undefined) return {};
  return keyIn === 'subprotocol'
    ? { 'sec-websocket-protocol': `rimeway-board, key.${key}` }
    : { authorization: `Bearer ${key}` };
}

/** Expected faults are not told on the console of a test. */
export function muted() {
  return vi.spyOn(console, 'error').mockImplementation(() => undefined);
}
