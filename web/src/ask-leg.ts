/** Opens legs and asks for their briefs: the page follows its address. */
import { batch, effect } from '@preact/signals';
import type { AboutBrief } from '../../worker/schema/shared-brief.ts';
import { askAboutShared, askBrief, askSharedBrief } from './api.ts';
import type { Answer } from './client/answer.ts';
import { catchUp, letGoOfChoice, placeCursor, withGiven } from './consider.ts';
import type { Brief } from './contract.ts';
import { aircraftForAddress, aircraftFromAddress } from './device-aircraft.ts';
import { type AnsweredBrief, keepBrief, readKeptBrief } from './kept/kept-briefs.ts';
import { legTextOfShared } from './share/of-sender.ts';
import { briefedNow, NOW_HOLDS_MS } from './share/shared-state.ts';
import { sharedIdOf } from './shared-link.ts';
import {
  addressOfBrief,
  anchorDepartureUtc,
  type BriefState,
  briefState,
  isEntryOpen,
  type LastBrief,
  lastBrief,
  legReading,
  legText,
  nowMs,
  type OpenedBy,
  openedLeg,
  shownBrief,
} from './state.ts';
import { type LegText, legTextFromQuery, queryFromLegText } from './url-state.ts';
import { afterPaint, whenIdle } from './when-idle.ts';

let running: AbortController | undefined;

/** Unfolds the form at the fluid on board. */
export function askForFluid(): void {
  isEntryOpen.value = true;
  afterPaint(() => document.getElementById('leg-fluid')?.focus());
}

/** Opens a leg: its text becomes the address, then the brief is asked for, unless typing has led there already. */
export function openLeg(text: LegText): void {
  const isThere =
    sharedIdOf(location.pathname) === undefined &&
    addressOf(text) === addressOf(legTextFromQuery(location.search));
  const isAsked = briefState.peek().kind === 'ok' || briefState.peek().kind === 'loading';
  if (!isThere) history.pushState(null, '', addressOf(text));
  if (!isThere || !isAsked) return void readAddress();
  batch(() => {
    openedLeg.value = { ...openedLeg.peek(), by: 'address' };
    isEntryOpen.value = false;
  });
}

/** The same while it is being typed: one step of the history however often it changes. */
export function typeLeg(text: LegText): void {
  isEntryOpen.value = true;
  changeLeg(text, 'typed');
}

/** The same leg at another time. */
export function slideDeparture(departure: string): void {
  changeLeg({ ...legText.peek(), departure }, 'slid');
}

/** On the same route the altitude that was given stays given. */
function changeLeg(text: LegText, by: OpenedBy): void {
  const shown = shownBrief.peek();
  const isSameRoute = shown !== undefined && text.route === legText.peek().route;
  const address = isSameRoute ? withGiven(addressOf(text), shown.brief) : addressOf(text);
  history[openedLeg.peek().by === by ? 'replaceState' : 'pushState'](null, '', address);
  void readAddress(by);
}

function addressOf(text: LegText): string {
  const query = queryFromLegText({ ...text, aircraft: aircraftForAddress(text.aircraft ?? '') });
  return query === '' ? '/' : `/?${query}`;
}

/** Makes the page follow its address. */
export async function readAddress(by: OpenedBy = 'address'): Promise<void> {
  running?.abort();
  const id = sharedIdOf(location.pathname);
  if (id !== undefined) return openShared(id);
  const text = legTextFromQuery(location.search);
  letGoOfChoice();
  batch(() => {
    openedLeg.value = {
      text: text.aircraft === undefined ? text : { ...text, aircraft: aircraftFromAddress(text.aircraft) },
      by,
    };
    if (by !== 'slid') anchorDepartureUtc.value = text.departure ?? '';
    if (by === 'address') isEntryOpen.value = false;
  });
  const reading = legReading.value;
  if (reading.kind !== 'request') {
    briefState.value = { kind: 'empty' };
    return;
  }
  const call = new AbortController();
  running = call;
  const query = queryFromLegText(text);
  const kept = () => readKeptBrief(query, reading.request);
  briefState.value = { kind: 'loading', sinceMs: Date.now() };
  const waiting = setTimeout(() => void showMeanwhile(kept, call.signal, by), KEPT_MEANWHILE_AFTER_MS);
  const answer = await askBrief(reading.request, call.signal);
  clearTimeout(waiting);
  if (call.signal.aborted) return;
  if (answer.kind === 'ok') {
    const found = { brief: answer.value, request: reading.request, briefedMs: Date.now() };
    showBrief({ ...found, isKept: false }, { kind: 'ok', value: answer.value }, by);
    const passed = by === 'address' ? undefined : passedQuery;
    passedQuery = by === 'address' ? undefined : query;
    whenIdle(() => void keepBrief(query, found, passed));
    return;
  }
  const found = isOfTheService(answer) ? await kept() : undefined;
  if (call.signal.aborted) return;
  if (found !== undefined) showBrief({ ...found, isKept: true }, { kind: 'kept', value: found.brief }, by);
  else
    batch(() => {
      nowMs.value = Date.now();
      briefState.value = answer;
    });
}

/** The bytes as they were shared; what the leg would be answered with now comes beside them, later. */
async function openShared(id: string): Promise<void> {
  const call = new AbortController();
  running = call;
  letGoOfChoice();
  briefState.value = { kind: 'loading', sinceMs: Date.now() };
  const [about, answer] = await Promise.all([
    askAboutShared(id, call.signal),
    askSharedBrief(id, call.signal),
  ]);
  if (call.signal.aborted) return;
  if (answer.kind !== 'ok' || about.kind !== 'ok') {
    briefState.value = answer.kind !== 'ok' ? answer : (about as Exclude<typeof about, { kind: 'ok' }>);
    return;
  }
  const { request, createdUtc } = about.value;
  const text = legTextOfShared(request);
  batch(() => {
    openedLeg.value = { text, by: 'address' };
    anchorDepartureUtc.value = text.departure ?? '';
    isEntryOpen.value = false;
    const found = {
      brief: answer.value,
      request,
      briefedMs: Date.parse(createdUtc),
      isKept: false,
      shared: about.value,
    };
    showBrief(found, { kind: 'ok', value: answer.value }, 'address');
  });
  const shared = about.value;
  whenIdle(() => void askAsOfNow(shared, call.signal));
}

/** Never in the place of what was shared, nor beside another that is shown by then. */
async function askAsOfNow(shared: AboutBrief, signal: AbortSignal): Promise<void> {
  const answer = await askBrief(shared.request, signal);
  if (!signal.aborted && lastBrief.peek()?.shared === shared)
    briefedNow.value = { answer, askedMs: Date.now() };
}

/** While a shared brief is looked at, what would be said now is asked for again and again. */
export function followShared(): void {
  let askedAgainMs = 0;
  effect(() => {
    const [dueMs, shared] = [nowMs.value - NOW_HOLDS_MS, lastBrief.value?.shared];
    const before = briefedNow.value;
    if (shared === undefined || before === undefined || running === undefined || document.hidden) return;
    if (before.askedMs > dueMs || askedAgainMs > dueMs) return;
    askedAgainMs = nowMs.value;
    void askAsOfNow(shared, running.signal);
  });
}

/** The same leg once more, and nothing else on the page changes. */
export function briefAgain(): void {
  void readAddress(openedLeg.peek().by);
}

/** A service that is this slow may not come at all: what is kept of the leg is shown meanwhile, under its age. */
const KEPT_MEANWHILE_AFTER_MS = 5000;
/** Query of the brief before, where it was only passed on the way to another: it is not kept. */
let passedQuery: string | undefined;

async function showMeanwhile(
  kept: () => Promise<AnsweredBrief | undefined>,
  signal: AbortSignal,
  by: OpenedBy,
): Promise<void> {
  const found = await kept();
  const state = briefState.peek();
  if (found === undefined || signal.aborted || state.kind !== 'loading') return;
  showBrief({ ...found, isKept: true }, state, by);
}

/** It says nothing of the leg: no connection, or something between that answered in its place. */
function isOfTheService(answer: Answer<Brief>): boolean {
  if (answer.kind === 'problem') return answer.problem.status >= 500;
  return answer.kind === 'unreachable' || answer.kind === 'timeout' || answer.kind === 'not-understood';
}

function showBrief(found: LastBrief, state: BriefState, by: OpenedBy): void {
  batch(() => {
    nowMs.value = Date.now();
    placeCursor(found.brief, by);
    catchUp();
    lastBrief.value = found;
    briefedNow.value = undefined;
    briefState.value = state;
    addressOfBrief.value = location.href;
  });
}
