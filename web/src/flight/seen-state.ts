/** What somebody enters while looking at ice: one entry for the judgement and for the report. */
import { type Signal, useSignal } from '@preact/signals';
import type { LargeDropSign } from '../../../worker/flight/seen-ice.ts';
import { type ReadFrom, type Reading, type Tank, usedFluid, usedGauge } from './readings.ts';
import { rodDiameterMm } from './rod.ts';
import type { Here, SeenEntry } from './seen-here.ts';

export interface SeenState {
  readonly part: Signal<SeenEntry['part']>;
  readonly thicknessMm: Signal<number>;
  readonly minutes: Signal<number>;
  readonly gauge: Signal<Reading | undefined>;
  readonly fluid: Signal<Reading | undefined>;
  readonly signs: Signal<readonly LargeDropSign[]>;
  readonly edges: Signal<'free' | 'behind'>;
}

/** While the aircraft is not known. */
export const USUAL_ROD_MM = 10;
/** A rod in flight is read to about this. */
const READING_MM = 1;

export function useSeenState(): SeenState {
  return {
    part: useSignal<SeenEntry['part']>('rod'),
    thicknessMm: useSignal(0),
    minutes: useSignal(5),
    gauge: useSignal<Reading | undefined>(undefined),
    fluid: useSignal<Reading | undefined>(undefined),
    signs: useSignal<readonly LargeDropSign[]>([]),
    edges: useSignal<'free' | 'behind'>('free'),
  };
}

export function entryOf(state: SeenState, here: Here | undefined, nowMs: number): SeenEntry {
  const at = readFrom(here, nowMs);
  return {
    part: state.part.value,
    rodDiameterMm: rodDiameterMm.value ?? USUAL_ROD_MM,
    thicknessMm: state.thicknessMm.value,
    readingMm: READING_MM,
    minutes: state.minutes.value,
    gaugeC: usedGauge(state.gauge.value, at).value,
    fluidLeftL: usedFluid(state.fluid.value, at, tankOf(here)).value,
    signs: state.signs.value,
    isProtectionBehind: state.edges.value === 'behind',
  };
}

/** Without a place a reading has nothing to be compared with, and ages alone. */
export function readFrom(here: Here | undefined, nowMs: number): ReadFrom {
  return { nowMs, distanceNm: here?.distanceNm ?? 0, altitudeFt: here?.altitudeFt ?? 0 };
}

export function tankOf(here: Here | undefined): Tank {
  const protection = here?.profile.protection;
  return protection?.kind === 'fluid' ? protection : { highFlowLPerMin: 0, usableL: 0 };
}

/** What was seen is told: the next is entered anew. What was read from gauges ages by itself. */
export function forgetSeen({ thicknessMm, signs, edges }: SeenState): void {
  thicknessMm.value = 0;
  signs.value = [];
  edges.value = 'free';
}
