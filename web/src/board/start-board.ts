/** Opens the board of the address and keeps it up to date. */
import { batch, effect } from '@preact/signals';
import type { BoardAnswer, BoardDelta } from '../../../worker/schema/board.ts';
import type { Answer } from '../client/answer.ts';
import { askBoard, askChanges } from './board-calls.ts';
import { type BoardLink, keepKey, keptKey, secretOf } from './board-key.ts';
import { answerFromState, stateFromAnswer, withDelta } from './board-state.ts';
import { failureWords } from './failure-words.ts';
import { forgetBoard, keepBoard, keptBoard } from './kept-board.ts';
import { followBoard } from './live-connection.ts';
import {
  boardState,
  clock,
  deviceMs,
  flights,
  flightsById,
  isFirstLook,
  keptMs,
  link,
  live,
  nowMs,
  opening,
  seen,
} from './store.ts';
import { allLooked, storedSeen, storeSeen, withoutHeld } from './unread.ts';

const CLOCK_STEP_MS = 10_000;
/** A connection slower than that shows what is kept meanwhile. */
const SLOW_MS = 3000;
const KEEP_AFTER_MS = 5000;
/** Rows whose verdict went by the service's rules of age come with no delta. */
const WHOLE_AGAIN_MS = 1_800_000;

let follower: { stop(): void } | undefined;
let wholeMs = 0;
let isReloading = false;

/** Keeps the clock, and opens the board with the key of the address or of the device. */
export function startBoard(boardId: string): void {
  setInterval(() => {
    deviceMs.value = Date.now();
    if (follower !== undefined && Date.now() - wholeMs > WHOLE_AGAIN_MS) void reload();
  }, CLOCK_STEP_MS);
  keepSeen(boardId);
  keepNow(boardId);
  const ofAddress = secretOf(location.hash);
  const ofDevice = keptKey(boardId);
  // A picture of the screen, or an address that is copied, shall open nothing.
  if (location.hash !== '') history.replaceState(history.state, '', location.pathname + location.search);
  const keys = [ofAddress, ofDevice].filter((key) => key !== undefined);
  if (keys.length === 0) opening.value = { kind: 'no-key' };
  else void open(keys.map((key) => ({ boardId, key })));
}

/** Tries one key after the other: a link that was taken back does not cost a device the one it had. */
async function open([first, ...others]: readonly BoardLink[]): Promise<void> {
  if (first === undefined) return;
  link.value = first;
  const slow = setTimeout(() => void showKept(first.boardId), SLOW_MS);
  const answer = await askBoard(first, new AbortController().signal);
  clearTimeout(slow);
  if (answer.kind === 'ok') {
    keepKey(first);
    take(answer.value);
    follow(first);
  } else if (isRefusal(answer)) {
    if (others.length > 0) return open(others);
    refuse(first);
  } else {
    // The key may be the right one: without it the board could not be opened again once there is a connection.
    keepKey(first);
    live.value = { kind: 'offline', sinceMs: Date.now() };
    if (!(await showKept(first.boardId))) opening.value = { kind: 'failed', sentence: failureWords(answer) };
    follow(first);
  }
}

function refuse({ boardId }: BoardLink): void {
  batch(() => {
    opening.value = { kind: 'refused' };
    boardState.value = undefined;
    keptMs.value = undefined;
    live.value = { kind: 'refused', sinceMs: Date.now() };
  });
  void forgetBoard(boardId);
}

const isRefusal = (answer: Answer<unknown>) =>
  answer.kind === 'problem' && [401, 403, 410].includes(answer.problem.status);

async function showKept(boardId: string): Promise<boolean> {
  const kept = await keptBoard(boardId);
  if (kept === undefined || boardState.value !== undefined) return boardState.value !== undefined;
  batch(() => {
    take(kept.answer);
    keptMs.value = kept.keptMs;
    clock.value = { ...clock.peek()!, deviceMs: kept.keptMs };
  });
  return true;
}

function take(answer: BoardAnswer): void {
  batch(() => {
    const isOpening = boardState.peek() === undefined;
    boardState.value = stateFromAnswer(answer, boardState.peek());
    setClock(answer.board.standsAtUtc !== null);
    keptMs.value = undefined;
    if (isOpening) {
      const stored = storedSeen(answer.board.id);
      isFirstLook.value = stored === undefined;
      seen.value = stored ?? allLooked(answer.seq, flights.peek());
    }
    opening.value = { kind: 'open' };
  });
  wholeMs = Date.now();
}

function setClock(isStanding: boolean): void {
  const asOfMs = boardState.peek()!.asOfMs;
  deviceMs.value = Date.now();
  clock.value = { asOfMs, isStanding, deviceMs: Date.now(), ticksMs: performance.now() };
}

function takeDelta(delta: BoardDelta): void {
  const state = boardState.peek();
  // What is kept is not patched: of its rows some may have gone by age alone.
  if (state === undefined || keptMs.peek() !== undefined) {
    void reload();
    return;
  }
  batch(() => {
    const next = withDelta(state, delta);
    boardState.value = next;
    if (next.asOfMs > state.asOfMs || next.board.standsAtUtc !== null)
      setClock(next.board.standsAtUtc !== null);
  });
}

async function reload(): Promise<void> {
  const at = link.peek();
  if (at === undefined || isReloading) return;
  isReloading = true;
  const answer = await askBoard(at, new AbortController().signal);
  isReloading = false;
  if (answer.kind === 'ok') take(answer.value);
  else if (isRefusal(answer)) refuse(at);
}

function follow(at: BoardLink): void {
  follower?.stop();
  follower = followBoard({
    boardId: at.boardId,
    key: at.key,
    seq: () => boardState.peek()?.seq ?? 0,
    onDelta: takeDelta,
    onReload: () => void reload(),
    onState: (kind, sinceMs) => {
      live.value = { kind, sinceMs };
      if (kind === 'refused') refuse(at);
    },
    askChanges: (since, signal) => askChanges(at, since, signal),
  });
}

/** Another tab of this device may have looked, too. */
function keepSeen(boardId: string): void {
  addEventListener('storage', () => {
    const stored = storedSeen(boardId);
    if (stored !== undefined) seen.value = stored;
  });
  effect(() => {
    const shown = flightsById.value;
    if (boardState.value !== undefined) seen.value = withoutHeld(seen.peek(), shown);
  });
  let last = seen.peek();
  effect(() => {
    const now = seen.value;
    const state = boardState.value;
    if (state === undefined || now === last) return;
    last = now;
    storeSeen(boardId, now, new Set(state.flights.keys()));
  });
}

/** Some time after a change, not at each. */
function keepNow(boardId: string): void {
  let isPlanned = false;
  effect(() => {
    if (boardState.value === undefined || keptMs.value !== undefined || isPlanned) return;
    isPlanned = true;
    setTimeout(() => {
      isPlanned = false;
      keep(boardId);
    }, KEEP_AFTER_MS);
  });
}

/** While nobody answers nothing is kept: it would look younger than it is. */
function keep(boardId: string): void {
  const state = boardState.peek();
  if (state === undefined || keptMs.peek() !== undefined || state.board.id !== boardId) return;
  if (live.peek()?.kind === 'offline') return;
  const rows = [...state.flights.values()].map(({ flight }) => flight);
  void keepBoard(answerFromState(state, rows, nowMs.peek()), Date.now());
}
