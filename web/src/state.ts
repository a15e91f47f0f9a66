/** What the page knows, as signals. Only this file changes them; components read them and call its functions. */
import { batch, computed, effect, signal } from '@preact/signals';
import type { AircraftProfile } from '../../worker/schema/aircraft.ts';
import { type Answer, askBrief, type DemoLegs, listAircraft, listDemoLegs } from './api.ts';
import { bestOf, type Considered, candidateOf, givenFromText, givenText } from './considered.ts';
import type { Brief, Candidate } from './contract.ts';
import { aircraftForAddress, aircraftFromAddress } from './device-aircraft.ts';
import { type AnsweredBrief, keepBrief, readKeptBrief } from './kept/kept-briefs.ts';
import { titleOf } from './page-title.ts';
import { answerInUnits } from './units.ts';
import {
  type LegReading,
  type LegText,
  legTextFromQuery,
  queryFromLegText,
  readLegText,
} from './url-state.ts';
import { afterPaint, whenIdle } from './when-idle.ts';

export type BriefState =
  | { readonly kind: 'empty' }
  | { readonly kind: 'loading'; readonly sinceMs: number }
  /** Of this device: the service gave no answer. */
  | { readonly kind: 'kept'; readonly value: Brief }
  | Answer<Brief>;

/** The last brief that was answered, now or once. */
interface LastBrief extends AnsweredBrief {
  /** It comes from this device, under its age. */
  readonly isKept: boolean;
}

const CLOCK_STEP_MS = 20_000;

/** typed: the form that it was typed into is being used and is left as it is. slid: nothing but the departure is another. */
export type OpenedBy = 'address' | 'typed' | 'slid';
export const openedLeg = signal<{ readonly text: LegText; readonly by: OpenedBy }>({
  text: {},
  by: 'address',
});
export const legText = computed(() => openedLeg.value.text);
export const legReading = computed<LegReading>(() => readLegText(legText.value));
export const briefState = signal<BriefState>({ kind: 'empty' });
export const aircraftState = signal<Answer<{ aircraft: AircraftProfile[] }> | { readonly kind: 'loading' }>({
  kind: 'loading',
});
export const demoState = signal<Answer<DemoLegs> | { readonly kind: 'loading' }>({ kind: 'loading' });

/** It stays while the next is worked out, and below while another leg is refused. */
export const lastBrief = signal<LastBrief | undefined>(undefined);
/** The same in the reader's units: what every part of the page draws from. */
const readBrief = computed<Brief | undefined>(() => {
  const brief = lastBrief.value?.brief;
  return brief && answerInUnits(brief, brief.brief.leg.departureUtc);
});
/**
 * What the page leads with: the brief of its address, or the one before it until that is there, and when the same leg at another
 * time cannot be briefed.
 */
export const leadingBrief = computed<Brief | undefined>(() => {
  const { kind } = briefState.value;
  const isSlidInVain = openedLeg.value.by === 'slid' && kind !== 'empty';
  return ['ok', 'kept', 'loading'].includes(kind) || isSlidInVain ? readBrief.value : undefined;
});
/** That, or the last brief under a refusal. */
export const shownBrief = computed<Brief | undefined>(() =>
  briefState.value.kind === 'empty' ? undefined : readBrief.value,
);
/** Where the departure slider has its middle: what was asked for before anybody slid it. */
export const anchorDepartureUtc = signal('');
/** Whether the entry form is unfolded over a brief. */
export const isEntryOpen = signal(false);

/** The one cursor: a place along the leg, and the altitude or profile being considered. */
export const cursorNm = signal(0);
export const considered = signal<Considered>({ altitudeFt: 0, isStepped: false });
/** Of a stepped profile its highest level. */
export const consideredFt = computed(() => considered.value.altitudeFt);
export const consideredCandidate = computed<Candidate | undefined>(() => {
  const brief = shownBrief.value?.brief;
  return brief && candidateOf(brief, considered.value);
});
/** Ages are seen from here. */
export const nowMs = signal(Date.now());
export const isPrinting = signal(false);
/** The page's own address, for the code on its print. */
export const addressOfBrief = signal(location.href);

/** Somebody said what was given: it may well be the altitude to file. */
export const isGivenSaid = signal(false);

let running: AbortController | undefined;
/** Somebody chose an altitude since the running brief was asked for: its answer does not take that away. */
let isChosenSince = false;

export function considerAltitude(altitudeFt: number): void {
  consider({ altitudeFt, isStepped: false });
}

export function considerStepped({ altitudeFt }: Candidate): void {
  consider({ altitudeFt, isStepped: true });
}

function consider(chosen: Considered): void {
  isChosenSince = true;
  considered.value = chosen;
}

/** Unfolds the form at the fluid on board. */
export function askForFluid(): void {
  isEntryOpen.value = true;
  afterPaint(() => document.getElementById('leg-fluid')?.focus());
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
  batch(() => {
    consider(given);
    isGivenSaid.value = true;
  });
}

/** Opens a leg: its text becomes the address, then the brief is asked for, unless typing has led there already. */
export function openLeg(text: LegText): void {
  const isThere = addressOf(text) === addressOf(legTextFromQuery(location.search));
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
  const given = isSameRoute ? givenText(considered.peek(), shown.brief) : undefined;
  const address = addressOf(text);
  history[openedLeg.peek().by === by ? 'replaceState' : 'pushState'](
    null,
    '',
    given === undefined ? address : `${address}&${GIVEN_PARAMETER}=${given}`,
  );
  void readAddress(by);
}

function addressOf(text: LegText): string {
  const query = queryFromLegText({ ...text, aircraft: aircraftForAddress(text.aircraft ?? '') });
  return query === '' ? location.pathname : `?${query}`;
}

/** Makes the page follow its address. */
export async function readAddress(by: OpenedBy = 'address'): Promise<void> {
  running?.abort();
  const text = legTextFromQuery(location.search);
  isChosenSince = false;
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
    lastBrief.value = found;
    briefState.value = state;
    addressOfBrief.value = location.href;
  });
}

/**
 * On what the address says was given, else on the altitude to file; without one on the least bad. While a leg changes under
 * somebody's hands the place along it stays.
 */
function placeCursor({ brief }: Brief, by: OpenedBy): void {
  const given = givenFromText(new URLSearchParams(location.search).get(GIVEN_PARAMETER) ?? undefined, brief);
  const lowestFt = brief.alternatives.at(-1)?.altitudeFt ?? 0;
  const { distanceNm } = brief.leg;
  const isKept = by !== 'address' && lastBrief.peek() !== undefined;
  cursorNm.value = isKept ? Math.min(cursorNm.peek(), distanceNm) : distanceNm / 2;
  if (isChosenSince && candidateOf(brief, considered.peek()) !== undefined) return;
  considered.value = given ?? bestOf(brief) ?? { altitudeFt: lowestFt, isStepped: false };
  isGivenSaid.value = given !== undefined;
}

const GIVEN_PARAMETER = 'given';
/** A drag passes many altitudes, and browsers count changes of the address. */
const ADDRESS_AFTER_MS = 300;

/** The address follows the altitude that was given, without a step in the history. */
function keepGivenInAddress(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    const now = considered.value;
    clearTimeout(timer);
    if (answered() !== undefined) timer = setTimeout(replaceGiven, ADDRESS_AFTER_MS, now);
  });
}

function replaceGiven(now: Considered): void {
  const answer = answered();
  if (answer === undefined) return;
  const given = givenText(now, answer.brief);
  const query = new URLSearchParams(location.search);
  if ((query.get(GIVEN_PARAMETER) ?? undefined) === given) return;
  if (given === undefined) query.delete(GIVEN_PARAMETER);
  else query.set(GIVEN_PARAMETER, given);
  history.replaceState(null, '', `?${query}`);
  addressOfBrief.value = location.href;
}

/** The brief of the address; undefined while it is asked for. */
function answered(): Brief | undefined {
  const state = briefState.value;
  return state.kind === 'ok' || state.kind === 'kept' ? state.value : undefined;
}

/** Loads what the entry form offers and keeps the clock and the address followed. */
export function startPage(): void {
  addEventListener('popstate', () => void readAddress());
  addEventListener('online', () => {
    if (['kept', 'unreachable', 'timeout'].includes(briefState.peek().kind)) briefAgain();
  });
  keepGivenInAddress();
  effect(() => {
    document.title = titleOf(leadingBrief.value);
  });
  addEventListener('beforeprint', () =>
    batch(() => {
      replaceGiven(considered.value);
      nowMs.value = Date.now();
      isPrinting.value = true;
    }),
  );
  addEventListener('afterprint', () => (isPrinting.value = false));
  setInterval(() => (nowMs.value = Date.now()), CLOCK_STEP_MS);
  void listAircraft().then((answer) => (aircraftState.value = answer));
  void listDemoLegs().then((answer) => (demoState.value = answer));
  void readAddress();
}
