/** A tone when the clock passes into another phase; a device that refuses it still shows the words. */
import type { ClockPhase } from '../../../worker/ground/count-down.ts';

const TONES_HZ: Partial<Record<ClockPhase, number>> = { 'may-have-ended': 660, ended: 880 };
const TONE_S = 0.6;

let last: ClockPhase | undefined;

/** Once a phase: a page that woke in a later one sounds that one. */
export function soundPhase(phase: ClockPhase): void {
  if (phase === last) return;
  last = phase;
  const toneHz = TONES_HZ[phase];
  if (toneHz !== undefined) sound(toneHz);
}

function sound(toneHz: number): void {
  try {
    const context = new AudioContext();
    const tone = context.createOscillator();
    tone.frequency.value = toneHz;
    tone.connect(context.destination);
    tone.start();
    tone.stop(context.currentTime + TONE_S);
    tone.onended = () => void context.close();
  } catch {
    // No sound here.
  }
}
