/** A tone when the clock passes into another phase; a device that gives none still shows the words. */
import type { ClockPhase } from '../../../worker/ground/count-down.ts';

const TONES_HZ: Partial<Record<ClockPhase, number>> = { 'may-have-ended': 660, ended: 880, 'no-time': 880 };
const TONE_S = 0.6;

let last: ClockPhase | undefined;
let context: AudioContext | undefined;

/** On a tap: a browser sounds nothing that nobody asked for. */
export function readySound(): void {
  try {
    context ??= new AudioContext();
    void context.resume();
  } catch {
    context = undefined;
  }
}

export function canSound(): boolean {
  return context !== undefined && context.state === 'running';
}

/** Once a phase: a page that woke in a later one sounds that one. */
export function soundPhase(phase: ClockPhase): void {
  if (phase === last) return;
  last = phase;
  const toneHz = TONES_HZ[phase];
  if (toneHz === undefined || context === undefined || !canSound()) return;
  const tone = context.createOscillator();
  tone.frequency.value = toneHz;
  tone.connect(context.destination);
  tone.start();
  tone.stop(context.currentTime + TONE_S);
}
