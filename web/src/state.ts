/**
 * What the page knows, as signals. ask-leg.ts changes what is asked and answered, consider.ts the cursor, start-page.ts clock and
 * lists; components read them and call those. Alone the fold of the entry form is opened where it stands.
 */
import { computed, signal } from '@preact/signals';
import type { AircraftProfile } from '../../worker/schema/aircraft.ts';
import type { AboutBrief } from '../../worker/schema/shared-brief.ts';
import type { DemoLegs } from './api.ts';
import type { Answer } from './client/answer.ts';
import { type Considered, candidateOf } from './considered.ts';
import type { Brief, BriefRequest, Candidate } from './contract.ts';
import type { AnsweredBrief } from './kept/kept-briefs.ts';
import { answerInUnits } from './units.ts';
import { type LegReading, type LegText, readLegText } from './url-state.ts';

export type BriefState =
  | { readonly kind: 'empty' }
  | { readonly kind: 'loading'; readonly sinceMs: number }
  /** Of this device: the service gave no answer. */
  | { readonly kind: 'kept'; readonly value: Brief }
  | Answer<Brief>;

/** The last brief that was answered, now or once. */
export interface LastBrief extends Omit<AnsweredBrief, 'request'> {
  /** undefined where a shared one was asked with what the contract takes no more. */
  readonly request: BriefRequest | undefined;
  /** It comes from this device, under its age. */
  readonly isKept: boolean;
  /** It was shared, and is as it was then. */
  readonly shared?: AboutBrief;
}

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
 * time or with other figures cannot be briefed.
 */
export const leadingBrief = computed<Brief | undefined>(() => {
  const { kind } = briefState.value;
  return ['ok', 'kept', 'loading'].includes(kind) || isAskedInVain() ? readBrief.value : undefined;
});
/** The page leads with a brief that is not that of what is asked: of another time, say, or another tank. */
export const isBehind = computed(
  () => leadingBrief.value !== undefined && !['ok', 'kept'].includes(briefState.value.kind),
);

/** The same leg, slid or typed otherwise, has no answer. */
function isAskedInVain(): boolean {
  const { by, text } = openedLeg.value;
  if (briefState.value.kind === 'empty' || by === 'address') return false;
  return by === 'slid' || lastBrief.value?.request?.route === text.route;
}
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
/** The cursor a picture later: section, table and answer move with the hand, all else follows them. */
export const followingNm = signal(0);
export const followingConsidered = signal<Considered>({ altitudeFt: 0, isStepped: false });
export const followingCandidate = computed<Candidate | undefined>(() => {
  const brief = shownBrief.value?.brief;
  return brief && candidateOf(brief, followingConsidered.value);
});
/** The cursor once the hand rests: the cards for the flight take longer than a key may. */
export const restingNm = signal(0);
export const restingConsidered = signal<Considered>({ altitudeFt: 0, isStepped: false });
export const restingCandidate = computed<Candidate | undefined>(() => {
  const brief = shownBrief.value?.brief;
  return brief && candidateOf(brief, restingConsidered.value);
});
/** Ages are seen from here. */
export const nowMs = signal(Date.now());
export const isPrinting = signal(false);
/** The first thing that points here is a finger. */
export const isTouched = signal(false);
/** The page's own address, for the code on its print. */
export const addressOfBrief = signal(location.href);

/** Somebody said what was given: it may well be the altitude to file. */
export const isGivenSaid = signal(false);

/** The brief of the address; undefined while it is asked for. */
export function answered(): Brief | undefined {
  const state = briefState.value;
  return state.kind === 'ok' || state.kind === 'kept' ? state.value : undefined;
}
