/**
 * The outbox of a board: whatever has a number above the published one is told to its viewers and, where a verdict got worse, to
 * browsers that asked; then the number is set. A crash before that tells it once more, never less: deltas are whole rows, and a push
 * takes the place of an earlier one of its topic.
 */
import { utc } from '../brief/utc.ts';
import { AppBug } from '../errors.ts';
import type { BoardFlight, LiveMessage } from '../schema/board.ts';
import {
  type Board,
  type BoardRepository,
  type BoardRooms,
  boardNowMs,
  type PushMessage,
  type PushSender,
  type PushSubscriber,
  type StoredFlight,
  type StoredTail,
} from '../sources/boards.ts';
import { rowsOf } from './board-answer.ts';
import { pushMessages } from './push-words.ts';

export type ToFlight = (stored: StoredFlight) => BoardFlight;

export interface PublishDeps {
  readonly boards: Pick<
    BoardRepository,
    'find' | 'unpublished' | 'published' | 'changedSince' | 'waiting' | 'subscribers' | 'unsubscribe'
  >;
  readonly rooms: Pick<BoardRooms, 'publish'>;
  /** undefined: this instance sends none. */
  readonly push: PushSender | undefined;
  /** Of a board as it is now, how a flight of it is answered. */
  readonly answers: (board: Board) => Promise<ToFlight>;
  /** Flights that depart from then on are counted as waiting; as GET of the board does. */
  readonly waitingFromMs: (board: Board) => number;
  readonly nowMs: () => number;
  readonly log: (line: string) => void;
}

/** Flights read at once, and the most of one message. */
const PIECE = 100;
const LONGEST_MESSAGE_BYTES = 256 * 1024;
/** A Worker has six connections open at most. */
const PUSHES_AT_ONCE = 6;

interface Changes {
  /** All that changed, where it is few enough for one message. */
  readonly few:
    | { readonly flights: readonly StoredFlight[]; readonly tails: readonly StoredTail[] }
    | undefined;
  readonly worse: readonly StoredFlight[];
}

/** One board that fails keeps nothing from the others; the next round tries it again. */
export async function publishAll(deps: PublishDeps): Promise<void> {
  for (const board of await deps.boards.unpublished()) {
    try {
      await publishBoard(deps, board);
    } catch (error) {
      deps.log(`publish: board ${board.id} not told of everything: ${faultOf(error)}`);
    }
  }
}

/**
 * Reads the board anew: one that was read before its last change will do.
 *
 * @returns  The number up to which everybody was told.
 */
export async function publishBoard(deps: PublishDeps, { id, publishedSeq }: Board): Promise<number> {
  const board = await deps.boards.find(id);
  if (board === undefined) return publishedSeq;
  if (board.seq <= board.publishedSeq) return board.publishedSeq;
  const toFlight = await deps.answers(board);
  const { few, worse } = await readChanges(deps, board);
  // A push is worth more than a live row: it is sent even where the room fails, and again when the room is tried again.
  const room = await Promise.allSettled([tellRoom(deps, board, { few, toFlight })]);
  await pushWorse(deps, board, worse.map(toFlight));
  if (room[0].status === 'rejected') throw room[0].reason;
  await deps.boards.published(board.id, board.seq);
  return board.seq;
}

/** What changes while it reads has a greater number than the board had, and comes again in the next round. */
async function readChanges({ boards }: PublishDeps, board: Board): Promise<Changes> {
  const worse = new Map<string, StoredFlight>();
  let few: Changes['few'];
  let since = board.publishedSeq;
  for (let piece = 0; ; piece += 1) {
    const { flights, tails } = await boards.changedSince(board.id, since, PIECE);
    for (const flight of flights) {
      if (gotWorse(flight, board.publishedSeq)) worse.set(flight.id, flight);
      else worse.delete(flight.id);
    }
    if (piece === 0) few = { flights, tails };
    else if (flights.length > 0) few = undefined;
    const last = flights.at(-1)?.seq;
    if (last === undefined || flights.length < PIECE || last >= board.seq) break;
    if (last <= since) throw new AppBug(`changes since ${since}: found ${last} last, expected a greater one`);
    since = last;
  }
  return { few, worse: [...worse.values()] };
}

function gotWorse({ change, isRemoved, arrived, cancelled }: StoredFlight, publishedSeq: number): boolean {
  return (
    change?.kind === 'worse' &&
    change.seq > publishedSeq &&
    !isRemoved &&
    arrived === undefined &&
    cancelled === undefined
  );
}

interface Told {
  readonly few: Changes['few'];
  readonly toFlight: ToFlight;
}

async function tellRoom(deps: PublishDeps, board: Board, told: Told): Promise<void> {
  await deps.rooms.publish(board.id, await messageOf(deps, board, told));
}

async function messageOf(deps: PublishDeps, board: Board, { few, toFlight }: Told): Promise<LiveMessage> {
  const ask: LiveMessage = { kind: 'ask', seq: board.seq };
  if (few === undefined) return ask;
  const waiting = await deps.boards.waiting(board.id, deps.waitingFromMs(board));
  const message: LiveMessage = {
    kind: 'delta',
    delta: {
      sinceSeq: board.publishedSeq,
      seq: board.seq,
      asOfUtc: utc(boardNowMs(board, deps.nowMs())),
      ...rowsOf(few, toFlight),
      waiting,
      isTooOld: false,
    },
  };
  const { length } = new TextEncoder().encode(JSON.stringify(message));
  return length <= LONGEST_MESSAGE_BYTES ? message : ask;
}

async function pushWorse(deps: PublishDeps, board: Board, worse: readonly BoardFlight[]): Promise<void> {
  const { push } = deps;
  if (push === undefined || worse.length === 0) return;
  const messages = pushMessages(board, worse);
  const waiting = [...(await deps.boards.subscribers(board.id))];
  const work = async () => {
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      await pushTo({ ...deps, push }, next, messages);
    }
  };
  await Promise.all(Array.from({ length: PUSHES_AT_ONCE }, work));
}

/** A browser that cannot be reached keeps nothing from the others, and nothing open. */
async function pushTo(
  { boards, push, log }: PublishDeps & { readonly push: PushSender },
  subscriber: PushSubscriber,
  messages: readonly PushMessage[],
): Promise<void> {
  try {
    for (const message of messages) {
      const outcome = await push.send(subscriber, message);
      if (outcome === 'gone') return await boards.unsubscribe(subscriber.boardId, subscriber.endpoint);
    }
  } catch (error) {
    log(`push: board ${subscriber.boardId}: ${faultOf(error)}`);
  }
}

const LONGEST_FAULT = 200;

/** An address may be a secret: a browser's endpoint, a link. */
function faultOf(error: unknown): string {
  if (!(error instanceof Error)) return 'unknown';
  return `${error.name}: ${error.message.replace(/https?:\/\/\S+/g, '(address)')}`.slice(0, LONGEST_FAULT);
}
