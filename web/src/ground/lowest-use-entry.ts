/** The lowest operational use temperature of a fluid as somebody read it off its label: kept by fluid, and with the one that was applied. */
import { signal } from '@preact/signals';
import { numberFromText } from '../option-texts.ts';
import { application, noteLowestUse } from './started.ts';

const texts = signal<Readonly<Record<string, string>>>({});

/** Empty where nobody entered one. */
export function lowestUseText(fluid: string): string {
  const applied = application.value;
  return texts.value[fluid] ?? (applied?.fluid === fluid ? applied.lowestUseText : undefined) ?? '';
}

export function enterLowestUse(fluid: string, text: string): void {
  texts.value = { ...texts.value, [fluid]: text };
  noteLowestUse(fluid, text);
}

const LOWEST_C = -60;
/** A figure over it has lost its minus. */
const HIGHEST_C = 0;

export type LowestUseReading =
  | { readonly kind: 'not-given' }
  | { readonly kind: 'given'; readonly lowestC: number }
  | { readonly kind: 'not-read'; readonly why: string };

export function readLowestUse(text: string): LowestUseReading {
  if (text.trim() === '') return { kind: 'not-given' };
  const lowestC = numberFromText(text.replace(/[\u2010-\u2015\u2212]/, '-'));
  if (lowestC >= LOWEST_C && lowestC <= HIGHEST_C) return { kind: 'given', lowestC };
  return {
    kind: 'not-read',
    why: `lowest operational use temperature: found ${text.trim().slice(0, 20)}, expected ${LOWEST_C} to ${HIGHEST_C} °C`,
  };
}
