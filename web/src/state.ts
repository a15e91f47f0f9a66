/** What the page knows, as signals. Only this file changes them; components read them and call its functions. */
import { computed, signal } from '@preact/signals';
import {
  type AircraftChoice,
  type Answer,
  askBrief,
  type DemoLegs,
  listAircraft,
  listDemoLegs,
} from './api.ts';
import { bestAltitudeFt } from './best-altitude.ts';
import type { Brief } from './contract.ts';
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
export const aircraftState = signal<Answer<{ aircraft: AircraftChoice[] }> | { readonly kind: 'loading' }>({
  kind: 'loading',
});
export const demoState = signal<Answer<DemoLegs> | { readonly kind: 'loading' }>({ kind: 'loading' });

/** The one cursor: a place along the leg and the altitude being considered. */
export const cursorNm = signal(0);
export const consideredFt = signal(0);
/** Ages are seen from here. */
export const nowMs = signal(Date.now());
export const isPrinting = signal(false);

let running: AbortController | undefined;

/** Opens a leg: its text becomes the address, then the brief is asked for. */
export function openLeg(text: LegText): void {
  const query = queryFromLegText(text);
  if (`?${query}` !== location.search)
    history.pushState(null, '', query === '' ? location.pathname : `?${query}`);
  void readAddress();
}

/** Makes the page follow its address. */
export async function readAddress(): Promise<void> {
  running?.abort();
  legText.value = legTextFromQuery(location.search);
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
  if (answer.kind === 'ok') placeCursor(answer.value);
  nowMs.value = Date.now();
  briefState.value = answer;
}

/** On the altitude to file; without one on the least bad. */
function placeCursor({ brief }: Brief): void {
  consideredFt.value = bestAltitudeFt(brief) ?? brief.alternatives.at(-1)?.altitudeFt ?? 0;
  cursorNm.value = brief.leg.distanceNm / 2;
}

/** Loads what the entry form offers and keeps the clock and the address followed. */
export function startPage(): void {
  addEventListener('popstate', () => void readAddress());
  addEventListener('beforeprint', () => (isPrinting.value = true));
  addEventListener('afterprint', () => (isPrinting.value = false));
  setInterval(() => (nowMs.value = Date.now()), CLOCK_STEP_MS);
  void listAircraft().then((answer) => (aircraftState.value = answer));
  void listDemoLegs().then((answer) => (demoState.value = answer));
  void readAddress();
}
