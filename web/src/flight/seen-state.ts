/** What somebody enters while looking at ice: one entry for the judgement and for the report. */
import { type Signal, useSignal } from '@preact/signals';
import type { LargeDropSign } from '../../../worker/flight/seen-ice.ts';
import { figureOf } from './figures.ts';
import { rodDiameterMm } from './rod.ts';
import type { SeenEntry } from './seen-here.ts';

export interface SeenState {
  readonly part: Signal<SeenEntry['part']>;
  readonly thicknessMm: Signal<number>;
  readonly minutes: Signal<number>;
  readonly gaugeText: Signal<string>;
  readonly fluidText: Signal<string>;
  readonly signs: Signal<readonly LargeDropSign[]>;
  readonly edges: Signal<'free' | 'behind'>;
}

/** Where neither the pilot nor the profile says. */
export const USUAL_ROD_MM = 10;
/** A rod in flight is read to about this. */
const READING_MM = 1;

export function useSeenState(): SeenState {
  return {
    part: useSignal<SeenEntry['part']>('rod'),
    thicknessMm: useSignal(0),
    minutes: useSignal(5),
    gaugeText: useSignal(''),
    fluidText: useSignal(''),
    signs: useSignal<readonly LargeDropSign[]>([]),
    edges: useSignal<'free' | 'behind'>('free'),
  };
}

export function entryOf(state: SeenState): SeenEntry {
  return {
    part: state.part.value,
    rodDiameterMm: rodDiameterMm.value ?? USUAL_ROD_MM,
    thicknessMm: state.thicknessMm.value,
    readingMm: READING_MM,
    minutes: state.minutes.value,
    gaugeC: figureOf(state.gaugeText.value),
    fluidLeftL: figureOf(state.fluidText.value),
    signs: state.signs.value,
    isProtectionBehind: state.edges.value === 'behind',
  };
}
