/** Loads what the entry form offers, keeps the clock, and has the page follow its address, its connection and its printer. */
import { batch, effect } from '@preact/signals';
import { listAircraft, listDemoLegs } from './api.ts';
import { briefAgain, readAddress } from './ask-leg.ts';
import { catchUp, followCursor, keepGivenInAddress, replaceGiven } from './consider.ts';
import { titleOf } from './page-title.ts';
import { aircraftState, briefState, demoState, isPrinting, isTouched, leadingBrief, nowMs } from './state.ts';
import { whenIdle } from './when-idle.ts';

const CLOCK_STEP_MS = 20_000;

export function startPage(): void {
  addEventListener('popstate', () => void readAddress());
  addEventListener('online', () => {
    if (['kept', 'unreachable', 'timeout'].includes(briefState.peek().kind)) briefAgain();
  });
  keepGivenInAddress();
  followCursor();
  effect(() => {
    document.title = titleOf(leadingBrief.value, nowMs.value);
  });
  addEventListener('beforeprint', () =>
    batch(() => {
      replaceGiven();
      catchUp();
      nowMs.value = Date.now();
      isPrinting.value = true;
    }),
  );
  addEventListener('afterprint', () => (isPrinting.value = false));
  const coarse = matchMedia('(pointer: coarse)');
  isTouched.value = coarse.matches;
  coarse.addEventListener('change', () => (isTouched.value = coarse.matches));
  setInterval(() => (nowMs.value = Date.now()), CLOCK_STEP_MS);
  void readAddress();
  whenIdle(() => {
    void listAircraft().then((answer) => (aircraftState.value = answer));
    void listDemoLegs().then((answer) => (demoState.value = answer));
  });
}
