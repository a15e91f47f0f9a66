/** What changes the one cursor: a place along the leg, and the altitude or profile being considered. */
import { batch, effect } from '@preact/signals';
import { bestOf, type Considered, candidateOf, givenFromText, givenText } from './considered.ts';
import type { Brief, Candidate } from './contract.ts';
import {
  addressOfBrief,
  answered,
  considered,
  cursorNm,
  followingConsidered,
  followingNm,
  isGivenSaid,
  lastBrief,
  type OpenedBy,
  restingConsidered,
  restingNm,
} from './state.ts';
import { afterPaint } from './when-idle.ts';

/** Of the address: what somebody says was given, and what is only looked at. Who opens a link is not told the one for the other. */
const GIVEN_PARAMETER = 'given';
const LOOKED_AT_PARAMETER = 'at';

/** Somebody chose an altitude since the running brief was asked for: its answer does not take that away. */
let isChosenSince = false;

/** @param distanceNm  Along the leg. */
export function placeCursorAt(distanceNm: number): void {
  cursorNm.value = distanceNm;
}

export function considerAltitude(altitudeFt: number): void {
  consider({ altitudeFt, isStepped: false });
}

export function considerStepped({ altitudeFt }: Candidate): void {
  consider({ altitudeFt, isStepped: true });
}

function consider(chosen: Considered, isGiven = false): void {
  batch(() => {
    isChosenSince = true;
    considered.value = chosen;
    isGivenSaid.value = isGiven;
  });
}

/** Back to what the brief recommends. */
export function considerBest({ brief }: Pick<Brief, 'brief'>): void {
  const best = bestOf(brief);
  if (best !== undefined) considered.value = best;
  // That of the brief being worked out may be another.
  isChosenSince = false;
  isGivenSaid.value = false;
}

/** What the pilot says was given. */
export function sayGiven(given: Considered): void {
  consider(given, true);
}

/** The running brief may take what is considered with it, until somebody chooses anew. */
export function letGoOfChoice(): void {
  isChosenSince = false;
}

/**
 * On what the address says was given, else on the altitude to file; without one on the least bad. While a leg changes under
 * somebody's hands the place along it stays.
 */
export function placeCursor({ brief }: Brief, by: OpenedBy): void {
  const query = new URLSearchParams(location.search);
  const given = givenFromText(query.get(GIVEN_PARAMETER) ?? undefined, brief);
  const lookedAt = givenFromText(query.get(LOOKED_AT_PARAMETER) ?? undefined, brief);
  const lowestFt = brief.alternatives.at(-1)?.altitudeFt ?? 0;
  const { distanceNm } = brief.leg;
  const isKept = by !== 'address' && lastBrief.peek() !== undefined;
  cursorNm.value = isKept ? Math.min(cursorNm.peek(), distanceNm) : distanceNm / 2;
  if (isChosenSince && candidateOf(brief, considered.peek()) !== undefined) return;
  considered.value = given ?? lookedAt ?? bestOf(brief) ?? { altitudeFt: lowestFt, isStepped: false };
  isGivenSaid.value = given !== undefined;
}

/** An address as it is, and what is considered where that is not the best. */
export function withGiven(address: string, brief: Brief['brief']): string {
  const given = givenText(considered.peek(), brief);
  return given === undefined ? address : `${address}&${parameterNow()}=${given}`;
}

const parameterNow = () => (isGivenSaid.peek() ? GIVEN_PARAMETER : LOOKED_AT_PARAMETER);

let isToFollow = false;

/** A picture after each move; moves that come faster than pictures are followed together. */
export function followCursor(): void {
  effect(() => {
    considered.value;
    cursorNm.value;
    if (isToFollow) return;
    isToFollow = true;
    afterPaint(follow);
  });
}

/** A hand that moves the cursor does not read the cards below. */
const RESTS_AFTER_MS = 250;
let restTimer: ReturnType<typeof setTimeout> | undefined;

function follow(): void {
  isToFollow = false;
  batch(() => {
    followingConsidered.value = considered.peek();
    followingNm.value = cursorNm.peek();
  });
  clearTimeout(restTimer);
  restTimer = setTimeout(rest, RESTS_AFTER_MS);
}

function rest(): void {
  batch(() => {
    restingConsidered.value = followingConsidered.peek();
    restingNm.value = followingNm.peek();
  });
}

/** All of the page at once: for another brief, and for paper. */
export function catchUp(): void {
  batch(() => {
    follow();
    rest();
  });
}

/** A drag passes many altitudes, and browsers count changes of the address. */
const ADDRESS_AFTER_MS = 300;

/** The address follows the altitude that was given, without a step in the history. */
export function keepGivenInAddress(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    considered.value;
    isGivenSaid.value;
    clearTimeout(timer);
    if (answered() !== undefined) timer = setTimeout(replaceGiven, ADDRESS_AFTER_MS);
  });
}

export function replaceGiven(): void {
  const answer = answered();
  if (answer === undefined) return;
  const given = givenText(considered.peek(), answer.brief);
  const query = new URLSearchParams(location.search);
  const before = query.toString();
  for (const name of [GIVEN_PARAMETER, LOOKED_AT_PARAMETER]) query.delete(name);
  if (given !== undefined) query.set(parameterNow(), given);
  if (query.toString() === before) return;
  history.replaceState(null, '', `?${query}`);
  addressOfBrief.value = location.href;
}
