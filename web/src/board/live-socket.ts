/** One socket that is kept: pinged, given up when nothing is heard, and opened again later each time. */

/** What is used of a WebSocket. */
export interface LiveSocket {
  send(text: string): void;
  close(): void;
  onopen: (() => void) | null;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  onclose: (() => void) | null;
  onerror: (() => void) | null;
}

export interface LiveTimers {
  nowMs(): number;
  /** @returns  What takes the wish back. */
  after(durationMs: number, act: () => void): () => void;
  /** From 0 to 1. */
  random(): number;
}

/** Silence of a pinged socket after which it is dead, ms. */
export const DEAD_AFTER_MS = 45_000;
const PING_AFTER_MS = 30_000;
const ANSWER_WITHIN_MS = DEAD_AFTER_MS - PING_AFTER_MS;
const OPEN_WITHIN_MS = 20_000;
const FIRST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 60_000;
/** Waits double up to the longest. */
const MOST_DOUBLINGS = 6;

interface Told {
  readonly open: () => void;
  /** Anything at all, a pong too. */
  readonly heard: () => void;
  readonly text: (text: string) => void;
  readonly closed: () => void;
}

/** Timers of its own are few on purpose: a hidden page runs them late, and late timers must not call a live socket dead. */
export class KeptSocket {
  readonly #make: () => LiveSocket;
  readonly #told: Told;
  readonly #timers: LiveTimers;
  #socket: LiveSocket | undefined;
  #isOpen = false;
  #failures = 0;
  #stopTimer: () => void = () => {};
  #isStopped = false;

  /** @param make  May throw where the browser refuses the address. */
  constructor(make: () => LiveSocket, told: Told, timers: LiveTimers) {
    this.#make = make;
    this.#told = told;
    this.#timers = timers;
  }

  get isOpen(): boolean {
    return this.#isOpen;
  }

  open(): void {
    if (this.#isStopped || this.#socket !== undefined) return;
    this.#stopTimer();
    try {
      this.#socket = this.#make();
    } catch {
      this.#again();
      return;
    }
    const socket = this.#socket;
    socket.onopen = () => {
      this.#isOpen = true;
      this.#heard();
      this.#told.open();
    };
    socket.onmessage = ({ data }) => {
      this.#heard();
      if (data === 'pong') this.#failures = 0;
      else if (typeof data === 'string') this.#told.text(data);
    };
    socket.onclose = () => this.#lost();
    socket.onerror = () => this.#lost();
    this.#timer(OPEN_WITHIN_MS, () => this.#lost());
  }

  /** The network may be another one: asks at once whether the socket still lives, or opens one. */
  probe(): void {
    if (this.#isOpen) this.#ping();
    else if (this.#socket === undefined) {
      this.#failures = 0;
      this.open();
    }
  }

  stop(): void {
    this.#isStopped = true;
    this.#stopTimer();
    this.#letGo();
  }

  #heard(): void {
    this.#told.heard();
    this.#timer(PING_AFTER_MS, () => this.#ping());
  }

  #ping(): void {
    try {
      this.#socket?.send('ping');
    } catch {
      // A socket that is closing throws; what follows finds it dead.
    }
    this.#timer(ANSWER_WITHIN_MS, () => this.#lost());
  }

  #lost(): void {
    this.#letGo();
    this.#again();
    this.#told.closed();
  }

  /** A dead network answers no close: nothing waits for one. */
  #letGo(): void {
    const socket = this.#socket;
    this.#socket = undefined;
    this.#isOpen = false;
    if (socket === undefined) return;
    socket.onopen = socket.onmessage = socket.onclose = socket.onerror = null;
    socket.close();
  }

  /** Between half of the wait and all of it: a service that comes back is not asked by everybody at once. */
  #again(): void {
    const longestMs = Math.min(
      LONGEST_WAIT_MS,
      FIRST_WAIT_MS * 2 ** Math.min(this.#failures, MOST_DOUBLINGS),
    );
    this.#failures += 1;
    this.#timer(longestMs * (0.5 + this.#timers.random() / 2), () => this.open());
  }

  #timer(durationMs: number, act: () => void): void {
    this.#stopTimer();
    this.#stopTimer = this.#timers.after(durationMs, act);
  }
}
