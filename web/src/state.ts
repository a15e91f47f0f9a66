/** What the page knows, as signals. Only this file changes them; components read them and call its functions. */
import { batch, computed, effect, signal } from '@preact/signals';
import type { AircraftProfile } from '../../worker/schema/aircraft.ts';
import { type Answer, askBrief, type DemoLegs, listAircraft, listDemoLegs } from './api.ts';
import { bestOf, type Considered, candidateOf, givenFromText, givenText } from './considered.ts';
import type { Brief, BriefRequest, Candidate } from './contract.ts';
import { aircraftForAddress, aircraftFromAddress } from './device-aircraft.ts';
import {
  type LegReading,
  type LegText,
  legTextFromQuery,
  queryFromLegText,
  readLegText,
} from './url-state.ts';

export type BriefState = { readonly kind: 'empty' } | { readonly kind: 'loading' } | Answer<Brief>;

const CLOCK_STEP_MS = 20_000;

export const legText = signal<LegText>({});
export const legReading = computed<LegReading>(() => readLegText(legText.value));
export const briefState = signal<BriefState>({ kind: 'empty' });
export const aircraftState = signal<Answer<{ aircraft: AircraftProfile[] }> | { readonly kind: 'loading' }>({
  kind: 'loading',
});
export const demoState = signal<Answer<DemoLegs> | { readonly kind: 'loading' }>({ kind: 'loading' });

interface LastBrief {
  readonly brief: Brief;
  readonly request: BriefRequest;
  readonly briefedMs: number;
}

/** The last one that was answered: it stays below while another leg is refused. */
export const lastBrief = signal<LastBrief | undefined>(undefined);
export const shownBrief = computed<Brief | undefined>(() => {
  const state = briefState.value;
  if (state.kind === 'ok') return state.value;
  return state.kind === 'problem' ? lastBrief.value?.brief : undefined;
});

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

export function considerAltitude(altitudeFt: number): void {
  considered.value = { altitudeFt, isStepped: false };
}

export function considerStepped({ altitudeFt }: Candidate): void {
  considered.value = { altitudeFt, isStepped: true };
}

/** Back to what the brief recommends. */
export function considerBest({ brief }: Pick<Brief, 'brief'>): void {
  const best = bestOf(brief);
  if (best !== undefined) considered.value = best;
  isGivenSaid.value = false;
}

/** What the pilot says was given. */
export function sayGiven(given: Considered): void {
  batch(() => {
    considered.value = given;
    isGivenSaid.value = true;
  });
}

/** Opens a leg: its text becomes the address, then the brief is asked for. */
export function openLeg(text: LegText): void {
  const query = queryFromLegText({ ...text, aircraft: aircraftForAddress(text.aircraft ?? '') });
  if (`?${query}` !== location.search)
    history.pushState(null, '', query === '' ? location.pathname : `?${query}`);
  void readAddress();
}

/** Makes the page follow its address. */
export async function readAddress(): Promise<void> {
  running?.abort();
  addressOfBrief.value = location.href;
  const text = legTextFromQuery(location.search);
  legText.value =
    text.aircraft === undefined ? text : { ...text, aircraft: aircraftFromAddress(text.aircraft) };
  const reading = legReading.value;
  if (reading.kind !== 'request') {
    briefState.value = { kind: 'empty' };
    return;
  }
  const call = new AbortController();
  running = call;
  briefState.value = { kind: 'loading' };
  const answer = await askBrief(reading.request, call.signal);
  if (call.signal.aborted) return;
  batch(() => {
    nowMs.value = Date.now();
    if (answer.kind === 'ok') {
      placeCursor(answer.value);
      lastBrief.value = { brief: answer.value, request: reading.request, briefedMs: nowMs.value };
    }
    briefState.value = answer;
  });
}

/** On what the address says was given, else on the altitude to file; without one on the least bad. */
function placeCursor({ brief }: Brief): void {
  const given = givenFromText(new URLSearchParams(location.search).get(GIVEN_PARAMETER) ?? undefined, brief);
  const lowestFt = brief.alternatives.at(-1)?.altitudeFt ?? 0;
  considered.value = given ?? bestOf(brief) ?? { altitudeFt: lowestFt, isStepped: false };
  isGivenSaid.value = given !== undefined;
  cursorNm.value = brief.leg.distanceNm / 2;
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
    if (briefState.value.kind === 'ok') timer = setTimeout(replaceGiven, ADDRESS_AFTER_MS, now);
  });
}

function replaceGiven(now: Considered): void {
  const state = briefState.peek();
  if (state.kind !== 'ok') return;
  const given = givenText(now, state.value.brief);
  const query = new URLSearchParams(location.search);
  if ((query.get(GIVEN_PARAMETER) ?? undefined) === given) return;
  if (given === undefined) query.delete(GIVEN_PARAMETER);
  else query.set(GIVEN_PARAMETER, given);
  history.replaceState(null, '', `?${query}`);
  addressOfBrief.value = location.href;
}

/** Loads what the entry form offers and keeps the clock and the address followed. */
export function startPage(): void {
  addEventListener('popstate', () => void readAddress());
  keepGivenInAddress();
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
