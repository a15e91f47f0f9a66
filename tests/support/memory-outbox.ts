/** A board in memory whose viewers are told, with a room and a push service that fail when they are told to. */
import type { PublishDeps } from '../../worker/board/publish.ts';
import type { BoardFlight, Change, LiveMessage } from '../../worker/schema/board.ts';
import type {
  Board,
  PushMessage,
  PushOutcome,
  PushSubscriber,
  StoredFlight,
  StoredTail,
} from '../../worker/sources/boards.ts';

const LEG = 'LLLLLLLLLLLLLLLLLLLLLL';

export function boardOf(id: string, rest: Partial<Board> = {}): Board {
  return {
    ...{ id: id.padEnd(22, 'A'), operator: 'local', name: 'Night network', timeZone: 'UTC' },
    ...{ standsMs: undefined, createdMs: 0, seq: 0, publishedSeq: 0 },
    ...rest,
  };
}

/** @param change  What happened to it, with the same number. */
export function flightOf(
  seq: number,
  change?: Change['kind'],
  rest: Partial<StoredFlight> = {},
): StoredFlight {
  return {
    id: `${LEG.slice(0, 17)}${String(seq).padStart(5, '0')}.2026-01-14`,
    legId: `${LEG.slice(0, 17)}${String(seq).padStart(5, '0')}`,
    leg: { label: `IV ${seq}` } as StoredFlight['leg'],
    ...{ boardId: '', departureMs: Date.UTC(2026, 0, 14, 11, 30), seq, isRemoved: false },
    ...{ evaluation: undefined, failure: undefined, acknowledged: undefined, shared: undefined },
    ...{ departed: undefined, arrived: undefined, cancelled: undefined },
    change: change && { seq, atUtc: '2026-01-14T05:00:00Z', kind: change, sentence: `Sentence ${seq}` },
    ...rest,
  };
}

/** As a page would get it; the parts that matter to a push. */
export function shownFlight(stored: StoredFlight): BoardFlight {
  return {
    ...{ id: stored.id, legId: stored.legId, seq: stored.seq, label: stored.leg.label, tail: null },
    ...{ from: 'KBTV', to: 'KBGR', routeText: 'KBTV DCT KBGR', verdict: 'outside-limits', why: 'Why' },
    departureUtc: new Date(stored.departureMs).toISOString(),
    ...{
      evaluation: stored.evaluation ?? null,
      holdsUntilUtc: null,
      failure: null,
      inoperative: [],
      change: stored.change ?? null,
    },
    ...{
      acknowledged: null,
      shared: null,
      departed: null,
      arrived: null,
      overdueAtUtc: null,
      cancelled: false,
    },
  };
}

export function memoryOutbox() {
  const boards = new Map<string, Board>();
  const flights = new Map<string, StoredFlight[]>();
  const tails = new Map<string, { seq: number; tail: StoredTail }[]>();
  let subscribers: PushSubscriber[] = [];
  const told: { boardId: string; message: LiveMessage }[] = [];
  const pushed: { endpoint: string; message: PushMessage }[] = [];
  const lines: string[] = [];
  const faults: {
    room?: (boardId: string) => void;
    published?: () => void;
    push?: (endpoint: string) => PushOutcome;
    afterRead?: () => void;
  } = {};
  const deps: PublishDeps = {
    boards: {
      find: async (id) => boards.get(id),
      unpublished: async () => [...boards.values()].filter(({ seq, publishedSeq }) => seq > publishedSeq),
      published: async (id, seq) => {
        faults.published?.();
        const board = boards.get(id)!;
        boards.set(id, { ...board, publishedSeq: Math.max(board.publishedSeq, seq) });
      },
      changedSince: async (id, seq, limit) => {
        const changed = (flights.get(id) ?? [])
          .filter((flight) => flight.seq > seq)
          .sort((one, other) => one.seq - other.seq)
          .slice(0, limit);
        const changedTails = (tails.get(id) ?? []).filter((tail) => tail.seq > seq);
        faults.afterRead?.();
        return { flights: changed, tails: changedTails.map(({ tail }) => tail) };
      },
      waiting: async (_id, fromMs) => fromMs,
      subscribers: async (id) => subscribers.filter(({ boardId }) => boardId === id),
      unsubscribe: async (id, endpoint) => {
        subscribers = subscribers.filter((entry) => entry.boardId !== id || entry.endpoint !== endpoint);
      },
    },
    rooms: {
      publish: async (boardId, message) => {
        faults.room?.(boardId);
        told.push({ boardId, message });
      },
    },
    push: {
      takes: () => true,
      publicKey: 'key',
      send: async ({ endpoint }, message) => {
        pushed.push({ endpoint, message });
        return faults.push?.(endpoint) ?? 'sent';
      },
    },
    answers: async () => shownFlight,
    waitingFromMs: () => 7,
    nowMs: () => Date.UTC(2026, 0, 14, 5),
    log: (line) => lines.push(line),
  };
  return {
    ...{ deps, told, pushed, lines, faults, flights, tails },
    endpoints: () => subscribers.map(({ endpoint }) => endpoint),
    board: (id: string) => boards.get(id.padEnd(22, 'A'))!,
    /** A board with everything that happened to it so far. */
    have(id: string, changed: StoredFlight[], rest: Partial<Board> = {}): Board {
      const board = boardOf(id, { seq: Math.max(0, ...changed.map(({ seq }) => seq)), ...rest });
      boards.set(board.id, board);
      flights.set(board.id, changed);
      return board;
    },
    subscribe(board: Board, ...endpoints: string[]) {
      const keys = { p256dh: 'p', auth: 'a' };
      subscribers.push(
        ...endpoints.map((endpoint) => ({ boardId: board.id, keyId: 'k', by: 'desk', endpoint, keys })),
      );
    },
  };
}
