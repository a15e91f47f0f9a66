/** Messages of the boards' queue: each flight is claimed, worked out, settled; then its board's viewers are told. */
import * as z from 'zod/mini';
import { boardIdSchema, flightIdSchema } from '../schema/board.ts';
import { type BoardRepository, boardNowMs, type FlightClaim, type StoredTail } from '../sources/boards.ts';
import type { BriefReads } from '../sources/ports.ts';
import { evaluateFlight } from './evaluate-flight.ts';
import { rememberedReads } from './remembered-reads.ts';
import { agreeBoards, FLIGHTS_A_MESSAGE } from './watch.ts';

const messageSchema = z.object({
  boardId: boardIdSchema,
  flightIds: z.array(flightIdSchema).check(z.minLength(1), z.maxLength(FLIGHTS_A_MESSAGE)),
});

const followSchema = z.object({ follow: z.array(boardIdSchema).check(z.maxLength(100)) });

/** One message as the platform hands it over. */
export interface BoardQueueMessage {
  readonly body: unknown;
  readonly attempts: number;
  ack(): void;
  retry(options: { readonly delaySeconds: number }): void;
}

/** Longer than the flights of a message take; after it another consumer may have the flight. */
const LEASE_MS = 5 * 60_000;
/** Over the lease: until then the flights of the message are claimed. */
const FIRST_WAIT_S = LEASE_MS / 1000 + 10;
const GREATEST_WAIT_S = 1200;
/** The same aeroplane's flights from so long before count for the fluid that is left. */
const SAME_TAIL_BACK_MS = 48 * 3_600_000;

export interface ConsumeBoardDeps {
  readonly stores: BriefReads;
  readonly boards: BoardRepository;
  readonly openOperators: readonly string[];
  /** Tells viewers what is new; its failure costs nothing, the schedule's round tells them. */
  readonly publish: (boardId: string) => Promise<void>;
  readonly nowMs: () => number;
  readonly log: (line: string) => void;
}

/** A message that comes twice finds nothing due. What the store refuses goes back to the queue, later each time. */
export async function consumeBoard(
  messages: readonly BoardQueueMessage[],
  deps: ConsumeBoardDeps,
): Promise<void> {
  for (const message of messages) {
    const follow = followSchema.safeParse(message.body);
    if (follow.success) {
      await followSchedules(deps, follow.data.follow);
      message.ack();
      continue;
    }
    const parsed = messageSchema.safeParse(message.body);
    if (!parsed.success) {
      deps.log('boards: dropped a message that names no flights');
      message.ack();
      continue;
    }
    const { boardId, flightIds } = parsed.data;
    try {
      const settled = await workOut(deps, boardId, flightIds);
      deps.log(`boards: ${boardId}: ${settled} of ${flightIds.length} flights worked out`);
      message.ack();
    } catch (error) {
      deps.log(`boards: ${boardId}: ${error instanceof Error ? error.message : 'failed'}`);
      message.retry({ delaySeconds: Math.min(GREATEST_WAIT_S, FIRST_WAIT_S * 2 ** (message.attempts - 1)) });
    }
    await deps.publish(boardId).catch((error: unknown) => {
      deps.log(`boards: ${boardId}: viewers not told: ${error instanceof Error ? error.message : 'failed'}`);
    });
  }
}

/** What fails is followed by the next round. */
async function followSchedules(deps: ConsumeBoardDeps, ids: readonly string[]): Promise<void> {
  const found = await Promise.all(ids.map((id) => deps.boards.find(id)));
  await agreeBoards(
    deps,
    found.flatMap((board) => (board === undefined ? [] : [board])),
  );
}

/** What an upload stored with the time at which it began may be seen a while later: it counts as come since. */
const COMING_IN_MS = 10_000;

/** @returns how many were settled. */
async function workOut(
  deps: ConsumeBoardDeps,
  boardId: string,
  flightIds: readonly string[],
): Promise<number> {
  const claims: FlightClaim[] = [];
  for (const flightId of flightIds) {
    const claim = await deps.boards.claim({ boardId, flightId }, { leaseMs: LEASE_MS, nowMs: deps.nowMs() });
    if (claim !== undefined) claims.push(claim);
  }
  if (claims.length === 0) return 0;
  const stores = rememberedReads(deps.stores);
  // Of the first reading: whatever comes in later has them all worked out again. What is entered of an aeroplane after the claim too.
  const startedMs = deps.nowMs();
  const tails = new Map((await deps.boards.tails(boardId)).map((tail) => [tail.tail, tail]));
  let settled = 0;
  for (const claim of claims) {
    const outcome = await evaluateFlight(stores, claim, await contextOf(deps, claim, { tails, startedMs }));
    const since = { ...outcome, startedMs: startedMs - COMING_IN_MS };
    if (await deps.boards.settle(claim, since)) settled += 1;
  }
  return settled;
}

async function contextOf(
  { boards, openOperators, nowMs }: ConsumeBoardDeps,
  { board, flight }: FlightClaim,
  { tails, startedMs }: { readonly tails: ReadonlyMap<string, StoredTail>; readonly startedMs: number },
) {
  const { tail: name } = flight.leg;
  const tail = name === null ? undefined : tails.get(name);
  // Without a figure for the fluid nobody asks what is left of it.
  const others =
    tail?.fluidOnBoardL === undefined
      ? []
      : (
          await boards.flightsOfTail(
            board.id,
            tail.tail,
            flight.departureMs - SAME_TAIL_BACK_MS,
            flight.departureMs,
          )
        ).filter(({ id }) => id !== flight.id);
  const operators = openOperators.includes(board.operator)
    ? openOperators
    : [board.operator, ...openOperators];
  return { operators, startedMs, nowMs: boardNowMs(board, nowMs()), tail, others };
}
