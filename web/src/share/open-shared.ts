/** Opens a shared brief: the bytes as they were shared, and beside them, later, what the leg would be answered with now. */
import { batch, effect } from '@preact/signals';
import { askBrief } from '../api.ts';
import type { BriefRequest } from '../contract.ts';
import { KEPT_MEANWHILE_AFTER_MS } from '../kept/no-answer.ts';
import {
  anchorDepartureUtc,
  type BriefState,
  briefState,
  isEntryOpen,
  type LastBrief,
  lastBrief,
  nowMs,
  openedLeg,
} from '../state.ts';
import { whenIdle } from '../when-idle.ts';
import { askShared, keptShared, type OpenedShared } from './ask-shared.ts';
import { legTextOfShared } from './of-sender.ts';
import { briefedNow, NOW_HOLDS_MS } from './shared-state.ts';

interface Opening {
  /** Aborted once something else is opened. */
  readonly signal: AbortSignal;
  /** Puts a brief on the page. */
  readonly show: (found: LastBrief, state: BriefState, by: 'address') => void;
}

export async function openShared(id: string, { signal, show }: Opening): Promise<void> {
  const waiting = setTimeout(() => {
    void keptShared(id).then((found) => {
      const state = briefState.peek();
      if (found !== undefined && !signal.aborted && state.kind === 'loading') showShared(found, state, show);
    });
  }, KEPT_MEANWHILE_AFTER_MS);
  const answer = await askShared(id, signal);
  clearTimeout(waiting);
  if (signal.aborted) return;
  if (answer.kind !== 'ok') {
    briefState.value = answer;
    return;
  }
  const { brief, about, isKept } = answer.value;
  showShared(answer.value, { kind: isKept ? 'kept' : 'ok', value: brief }, show);
  const { request } = about;
  if (request !== null) whenIdle(() => followNow(request, signal));
}

function showShared({ brief, about, isKept }: OpenedShared, state: BriefState, show: Opening['show']): void {
  const { request, createdUtc } = about;
  const text = request === null ? {} : legTextOfShared(request);
  batch(() => {
    openedLeg.value = { text, by: 'address' };
    anchorDepartureUtc.value = text.departure ?? '';
    isEntryOpen.value = false;
    const briefedMs = Date.parse(createdUtc);
    const found = { brief, request: request ?? undefined, briefedMs, isKept, shared: about };
    show(found, state, 'address');
  });
}

/** While a shared brief is looked at, what would be said now is asked for again and again. */
function followNow(request: BriefRequest, signal: AbortSignal): void {
  const shared = lastBrief.peek()?.shared;
  if (signal.aborted || shared === undefined) return;
  const ask = async () => {
    const answer = await askBrief(request, signal);
    if (!signal.aborted) briefedNow.value = { shared, answer, askedMs: Date.now() };
  };
  let askedMs = nowMs.peek();
  const stop = effect(() => {
    if (askedMs > nowMs.value - NOW_HOLDS_MS || document.hidden) return;
    askedMs = nowMs.value;
    void ask();
  });
  signal.addEventListener('abort', stop);
  void ask();
}
