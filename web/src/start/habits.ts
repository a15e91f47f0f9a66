/**
 * What the last leg said about aircraft and rules, kept on this device: an empty form begins with it. What is measured anew
 * before every leg (fluid on board, altimeter setting, weight) is not kept: an old figure would pass for a new one.
 */
import type { LegText } from '../url-state.ts';

const KEY = 'rimeway-habits';
const HABITS = ['aircraft', 'direction', 'oxygen', 'hold', 'later'] as const;

/** A leg without what is measured anew before every flight. */
export function withoutMeasured({ fluid: _, setting: __, weight: ___, ...rest }: LegText): LegText {
  return rest;
}

export function keepHabits(text: LegText): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(Object.fromEntries(HABITS.map((name) => [name, text[name]]))));
  } catch {
    // Storage may be refused; the form then begins empty.
  }
}

/** An empty leg with them; another is left as it is. */
export function withHabits(text: LegText): LegText {
  if (Object.keys(text).length > 0) return text;
  return Object.fromEntries(Object.entries(stored()).filter(([name, value]) => isHabit(name, value)));
}

function isHabit(name: string, value: unknown): boolean {
  return (HABITS as readonly string[]).includes(name) && typeof value === 'string';
}

function stored(): object {
  try {
    const parsed: unknown = JSON.parse(localStorage.getItem(KEY) ?? '{}');
    return typeof parsed === 'object' && parsed !== null ? parsed : {};
  } catch {
    return {};
  }
}
