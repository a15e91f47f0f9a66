/**
 * Keeps the board's page up to date: over a socket while there is one, by asking while there is none. Whatever the way, what is
 * missing is asked for, and the page is told since when it may have missed something.
 */
import { type BoardDelta, liveMessageSchema } from '../../../worker/schema/board.ts';
import type { Answer } from '../client/answer.ts';
import { KeptSocket, type LiveSocket, type LiveTimers } from './live-socket.ts';

/**
 * live: every change comes at once. polling: asked for every little while. offline: nobody answers. refused: the link opens the board
 * no more, and nothing is tried again.
 */
export type LiveState = 'live' | 'polling' | 'offline' | 'refused';

export interface FollowOptions {
  boardId: string;
  key: string;
  /** Of what the page has taken in. */
  seq: () => number;
  /** Whole rows: taking one in twice does no harm. */
  onDelta: (delta: BoardDelta) => void;
  /** Too much happened since: the whole board is to be asked for. */
  onReload: () => void;
  /** @param sinceMs  When it became so; offline: when the service was last heard. */
  onState: (state: LiveState, sinceMs: number) => void;
  askChanges: (sinceSeq: number, signal: AbortSignal) => Promise<Answer<BoardDelta>>;
}

/** What the browser gives; tests give their own. */
export interface FollowPlatform {
  readonly makeSocket: (path: string, protocols: string[]) => LiveSocket;
  readonly timers: LiveTimers;
  readonly isHidden: () => boolean;
  /** Back on the network, or looked at again. @returns  What ends the listening. */
  readonly onReturn: (act: () => void) => () => void;
}

/** A key that opens nothing; a board that is gone answers the same. */
const REFUSALS = [401, 403, 410];
const POLL_MS = 20_000;
const HIDDEN_POLL_MS = 60_000;
/** While live: a message that was lost on its way is missed no longer than this. */
const LIVE_POLL_MS = 300_000;
/** Everybody's socket ends at once when the service is replaced. */
/** The whole board was asked for: whether it came is seen so soon. */
const RELOADED_MS = 5000;
const CLOSED_SPREAD_MS = 2_000;

/** Starts at once; what it finds comes through the options. */
export function followBoard(
  options: FollowOptions,
  platform: FollowPlatform = browserPlatform(),
): { stop(): void } {
  const follower = new Follower(options, platform);
  return { stop: () => follower.stop() };
}

class Follower {
  readonly #options: FollowOptions;
  readonly #platform: FollowPlatform;
  readonly #socket: KeptSocket;
  readonly #stopListening: () => void;
  #stopPoll: () => void = () => {};
  #asking: AbortController | undefined;
  /** Something came up while an answer was on its way that it may not have seen. */
  #asksAgain = false;
  /** What the service is known to have. */
  #targetSeq = 0;
  #isCaughtUp = false;
  #isStopped = false;
  #state: LiveState | undefined;
  #heardMs: number;

  constructor(options: FollowOptions, platform: FollowPlatform) {
    this.#options = options;
    this.#platform = platform;
    this.#heardMs = platform.timers.nowMs();
    const path = `/api/boards/${encodeURIComponent(options.boardId)}/live`;
    const make = () => platform.makeSocket(path, ['rimeway-board', `key.${options.key}`]);
    const told = {
      open: () => this.#ask(),
      heard: () => {
        this.#heardMs = platform.timers.nowMs();
      },
      text: (text: string) => this.#take(text),
      closed: () => this.#closed(),
    };
    this.#socket = new KeptSocket(make, told, platform.timers);
    this.#stopListening = platform.onReturn(() => {
      this.#socket.probe();
      this.#ask();
    });
    this.#socket.open();
    this.#ask();
  }

  stop(): void {
    this.#isStopped = true;
    this.#stopPoll();
    this.#stopListening();
    this.#socket.stop();
    this.#asking?.abort();
  }

  #take(text: string): void {
    const message = messageOf(text);
    if (message?.kind === 'delta') {
      this.#targetSeq = Math.max(this.#targetSeq, message.delta.seq);
      if (message.delta.seq <= this.#options.seq()) return;
      if (this.#fits(message.delta)) {
        this.#options.onDelta(message.delta);
        return;
      }
    }
    // Told to ask, after something that never came, or in words of a later version.
    if (message?.kind === 'ask') this.#targetSeq = Math.max(this.#targetSeq, message.seq);
    if (message?.kind !== 'ask' || message.seq > this.#options.seq()) this.#ask();
  }

  #fits({ sinceSeq, isTooOld }: BoardDelta): boolean {
    return !isTooOld && sinceSeq <= this.#options.seq();
  }

  #closed(): void {
    this.#isCaughtUp = false;
    this.#tell();
    this.#pollAfter(CLOSED_SPREAD_MS * this.#platform.timers.random());
  }

  #ask(): void {
    if (this.#isStopped) return;
    if (this.#asking !== undefined) {
      this.#asksAgain = true;
      return;
    }
    this.#stopPoll();
    this.#asksAgain = false;
    const asking = new AbortController();
    this.#asking = asking;
    const sinceSeq = this.#options.seq();
    const hadSocket = this.#socket.isOpen;
    void this.#options
      .askChanges(sinceSeq, asking.signal)
      .catch((): Answer<BoardDelta> => ({ kind: 'unreachable' }))
      .then((answer) => {
        if (this.#isStopped) return;
        this.#asking = undefined;
        this.#answered(answer, sinceSeq, hadSocket);
      });
  }

  #answered(answer: Answer<BoardDelta>, sinceSeq: number, hadSocket: boolean): void {
    if (answer.kind === 'problem' && REFUSALS.includes(answer.problem.status)) {
      this.#enter('refused');
      this.stop();
      return;
    }
    // What is too old to be taken in says nothing new: only the whole board does.
    const isTaken = answer.kind === 'ok' && this.#fits(answer.value);
    if (isTaken) this.#heardMs = this.#platform.timers.nowMs();
    if (answer.kind === 'ok') this.#takeAnswer(answer.value);
    const isBehind = this.#options.seq() < this.#targetSeq;
    // What was asked before the socket opened leaves a gap before its first message.
    if (isBehind) this.#isCaughtUp = false;
    else if (isTaken && hadSocket && this.#socket.isOpen) this.#isCaughtUp = true;
    this.#tell(isTaken);
    const hasMore = answer.kind === 'ok' && isBehind && this.#options.seq() > sinceSeq;
    if (this.#asksAgain || hasMore) this.#ask();
    else this.#pollAfter(answer.kind === 'ok' && !isTaken ? RELOADED_MS : this.#pollMs());
  }

  /** An answer without anything new still says as of when it is. */
  #takeAnswer(delta: BoardDelta): void {
    this.#targetSeq = Math.max(this.#targetSeq, delta.seq);
    if (!this.#fits(delta)) this.#options.onReload();
    else if (delta.seq >= this.#options.seq()) this.#options.onDelta(delta);
  }

  #pollMs(): number {
    if (this.#isCaughtUp) return LIVE_POLL_MS;
    return this.#platform.isHidden() ? HIDDEN_POLL_MS : POLL_MS;
  }

  #pollAfter(durationMs: number): void {
    this.#stopPoll();
    if (this.#isStopped) return;
    this.#stopPoll = this.#platform.timers.after(durationMs, () => this.#ask());
  }

  /** @param hasAnswer  Of the last question; undefined while none is answered since. */
  #tell(hasAnswer?: boolean): void {
    if (this.#isCaughtUp) this.#enter('live');
    else if (hasAnswer !== undefined) this.#enter(hasAnswer ? 'polling' : 'offline');
    else if (this.#state === 'live') this.#enter('polling');
  }

  #enter(state: LiveState): void {
    if (this.#isStopped || state === this.#state) return;
    this.#state = state;
    this.#options.onState(state, state === 'offline' ? this.#heardMs : this.#platform.timers.nowMs());
  }
}

function messageOf(text: string) {
  try {
    return liveMessageSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

function browserPlatform(): FollowPlatform {
  return {
    makeSocket: (path, protocols) =>
      new WebSocket(location.origin.replace(/^http/, 'ws') + path, protocols) as LiveSocket,
    timers: {
      nowMs: () => Date.now(),
      after: (durationMs, act) => {
        const timer = setTimeout(act, durationMs);
        return () => clearTimeout(timer);
      },
      random: () => Math.random(),
    },
    isHidden: () => document.visibilityState === 'hidden',
    onReturn: (act) => {
      const looked = () => {
        if (document.visibilityState === 'visible') act();
      };
      addEventListener('online', act);
      document.addEventListener('visibilitychange', looked);
      return () => {
        removeEventListener('online', act);
        document.removeEventListener('visibilitychange', looked);
      };
    },
  };
}
