/** Opens legs and asks for their briefs: the page follows its address. */
import { batch } from '@preact/signals';
import { askBrief } from './api.ts';
import { catchUp, letGoOfChoice, placeCursor, withGiven } from './consider.ts';
import { aircraftForAddress, aircraftFromAddress } from './device-aircraft.ts';
import { type AnsweredBrief, keepBrief, readKeptBrief } from './kept/kept-briefs.ts';
import { isOfTheService, KEPT_MEANWHILE_AFTER_MS } from './kept/no-answer.ts';
import { loadSharedView } from './share/late-shared.ts';
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
  if (id !== undefined) return openLink(id);
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

/** A page of a shared brief needs more than one of a leg: that is loaded first. */
async function openLink(id: string): Promise<void> {
  const call = new AbortController();
  running = call;
  letGoOfChoice();
  briefState.value = { kind: 'loading', sinceMs: Date.now() };
  const view = await loadSharedView();
  if (call.signal.aborted) return;
  if (view === undefined) briefState.value = { kind: 'unreachable' };
  else await view.openShared(id, { signal: call.signal, show: showBrief });
}

/** The same leg once more, and nothing else on the page changes. */
export function briefAgain(): void {
  void readAddress(openedLeg.peek().by);
}

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

function showBrief(found: LastBrief, state: BriefState, by: OpenedBy): void {
  batch(() => {
    nowMs.value = Date.now();
    placeCursor(found.brief, by);
    catchUp();
    lastBrief.value = found;
    briefState.value = state;
    addressOfBrief.value = location.href;
  });
}
