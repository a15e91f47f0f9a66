/** The schedule's round over all boards: flights as the legs call for them, those that are due to the queue, viewers told. */
import {
  type AgeRule,
  type Board,
  type BoardRepository,
  boardNowMs,
  type DueFlight,
  type DueMessage,
  type FollowMessage,
} from '../sources/boards.ts';
import { flightsOfLegs } from './schedule.ts';

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 60 * MS_PER_MINUTE;
const MS_PER_DAY = 24 * 60 * MS_PER_MINUTE;

/** What the board shows, and the schedule keeps up: departures from so long ago to so far ahead. */
export const SHOWN = { backMs: 12 * MS_PER_HOUR, aheadMs: 30 * MS_PER_HOUR } as const;

/** How old an evaluation may get: the nearer the departure, the younger. */
export const AGES: readonly AgeRule[] = [
  { withinMs: 2 * 60 * MS_PER_MINUTE, mostMs: 15 * MS_PER_MINUTE },
  { withinMs: 6 * 60 * MS_PER_MINUTE, mostMs: 30 * MS_PER_MINUTE },
  { withinMs: SHOWN.aheadMs, mostMs: 120 * MS_PER_MINUTE },
];

/** A message holds so many flights: they share what they read, and an isolate's time. */
export const FLIGHTS_A_MESSAGE = 20;
/** Messages that a queue takes in one call. */
const MESSAGES_A_CALL = 100;
/** Flights asked for a round; the rest wait for the next. */
const MOST_A_ROUND = 10_000;
/** A message that was lost is asked for again after this. */
export const ASKED_LEASE_MS = 15 * MS_PER_MINUTE;
const FLIGHTS_KEPT_MS = 7 * MS_PER_DAY;
const AUDIT_KEPT_MS = 400 * MS_PER_DAY;

export interface WatchDeps {
  readonly boards: BoardRepository;
  readonly openOperators: readonly string[];
  readonly send: (messages: readonly DueMessage[]) => Promise<void>;
  readonly sendFollowing: (messages: readonly FollowMessage[]) => Promise<void>;
  readonly nowMs: () => number;
  readonly log: (line: string) => void;
}

export interface WatchResult {
  readonly asked: number;
  readonly messages: number;
}

/** A database takes a thousand statements of one invocation: beyond so many boards others follow their schedules. */
const BOARDS_A_ROUND = 50;

/**
 * Every few minutes. What is due is asked for first, whatever becomes of the rest; flights that the schedule adds are asked for by the
 * next round. @throws what store or queue throw; flights that were marked and not sent are asked for after the lease.
 */
export async function watchBoards(deps: WatchDeps): Promise<WatchResult> {
  const result = await askForDue(deps);
  const boards = await deps.boards.all();
  if (boards.length <= BOARDS_A_ROUND) await agreeBoards(deps, boards);
  else await deps.sendFollowing(partsOf(boards.map(({ id }) => id)));
  await deps.boards.forgetFlights(deps.nowMs() - FLIGHTS_KEPT_MS);
  await deps.boards.forgetAudit(deps.nowMs() - AUDIT_KEPT_MS);
  return result;
}

function partsOf(ids: readonly string[]): FollowMessage[] {
  return Array.from({ length: Math.ceil(ids.length / BOARDS_A_ROUND) }, (_, part) => ({
    follow: ids.slice(part * BOARDS_A_ROUND, (part + 1) * BOARDS_A_ROUND),
  }));
}

/** One board's fault is no other's. */
export async function agreeBoards(
  { boards, nowMs, log }: Pick<WatchDeps, 'boards' | 'nowMs' | 'log'>,
  some: readonly Board[],
): Promise<void> {
  for (const board of some) {
    try {
      await agreeBoard(boards, board, nowMs());
    } catch (error) {
      log(`board ${board.id}: schedule not followed: ${error instanceof Error ? error.message : 'unknown'}`);
    }
  }
}

/** The flights of a board as its legs call for them. */
export async function agreeBoard(boards: BoardRepository, board: Board, serviceMs: number): Promise<void> {
  const nowMs = boardNowMs(board, serviceMs);
  const window = { fromMs: nowMs - SHOWN.backMs, toMs: nowMs + SHOWN.aheadMs };
  const wanted = flightsOfLegs(await boards.legs(board.id), { timeZone: board.timeZone, ...window });
  await boards.agree(board.id, wanted, { ...window, nowMs });
}

/** Whatever is due on any board goes to the queue. */
export async function askForDue({
  boards,
  openOperators,
  send,
  nowMs,
  boardId,
}: Pick<WatchDeps, 'boards' | 'openOperators' | 'send' | 'nowMs'> & {
  /** Of one board alone. */
  readonly boardId?: string;
}): Promise<WatchResult> {
  const due = await boards.takeDue({
    nowMs: nowMs(),
    leaseMs: ASKED_LEASE_MS,
    ages: AGES,
    openOperators,
    limit: MOST_A_ROUND,
    ...(boardId === undefined ? {} : { boardId }),
  });
  const messages = messagesOf(due);
  for (let from = 0; from < messages.length; from += MESSAGES_A_CALL) {
    await send(messages.slice(from, from + MESSAGES_A_CALL));
  }
  return { asked: due.length, messages: messages.length };
}

/** Of one board each, in the order of the flights. */
export function messagesOf(due: readonly DueFlight[]): DueMessage[] {
  const byBoard = new Map<string, string[]>();
  for (const { boardId, flightId } of due) {
    const ids = byBoard.get(boardId);
    if (ids === undefined) byBoard.set(boardId, [flightId]);
    else ids.push(flightId);
  }
  return [...byBoard].flatMap(([boardId, ids]) =>
    Array.from({ length: Math.ceil(ids.length / FLIGHTS_A_MESSAGE) }, (_, part) => ({
      boardId,
      flightIds: ids.slice(part * FLIGHTS_A_MESSAGE, (part + 1) * FLIGHTS_A_MESSAGE),
    })),
  );
}
