/** The clock from the start of the final application. It tells time left and what is to be checked, and never that all is well. */

export interface HoldoverWindow {
  readonly minimumMinutes: number;
  readonly maximumMinutes: number;
}

/**
 * not-started: it lies ahead. running: less than the shortest time of the window. may-have-ended: between the shortest and the longest.
 * ended: past the longest. no-time: there is no window, and nothing to count.
 */
export type ClockPhase = 'not-started' | 'running' | 'may-have-ended' | 'ended' | 'no-time';

export interface HoldoverClock {
  readonly phase: ClockPhase;
  /** To the shortest and the longest time of the window, s; negative once past. Null without a window. */
  readonly toShortestS: number | null;
  readonly toLongestS: number | null;
  readonly mustCheck: string;
}

/** @source 14 CFR 135.227(b)(1): within five minutes before the take-off begins. */
export const CHECK_WITHIN_S = 300;

/** Each instant is asked anew, so that a page that slept or a clock that was set tells the time there is. */
export function holdoverClock(
  startMs: number,
  nowMs: number,
  window: HoldoverWindow | undefined,
): HoldoverClock {
  if (window === undefined)
    return { phase: 'no-time', toShortestS: null, toLongestS: null, mustCheck: CHECK };
  const elapsedS = (nowMs - startMs) / 1000;
  const toShortestS = window.minimumMinutes * 60 - elapsedS;
  const toLongestS = window.maximumMinutes * 60 - elapsedS;
  const phase = phaseOf(elapsedS, toShortestS, toLongestS);
  return { phase, toShortestS, toLongestS, mustCheck: phase === 'ended' ? TREAT_AGAIN : CHECK };
}

function phaseOf(elapsedS: number, toShortestS: number, toLongestS: number): ClockPhase {
  if (elapsedS < 0) return 'not-started';
  if (toShortestS > 0) return 'running';
  return toLongestS > 0 ? 'may-have-ended' : 'ended';
}

const CHECK =
  'Check wings, tail and controls for frost, ice and snow within 5 min before the take-off begins (14 CFR 135.227)';
const TREAT_AGAIN = `The time is over: treat again, or return. ${CHECK}`;

/** Of a check that was made, s; 0 once a new one is due. */
export function checkHoldsS(checkedMs: number, nowMs: number): number {
  const leftS = CHECK_WITHIN_S - (nowMs - checkedMs) / 1000;
  return nowMs < checkedMs ? 0 : Math.max(0, leftS);
}
