/** Reports that somebody pastes or loads: what was typed, and what became of what was sent. It outlives the card. */
import { batch, signal } from '@preact/signals';
import type { Answer } from '../client/answer.ts';
import { storedText, storeText } from '../device-value.ts';
import { isSendable, operatorKey } from '../flight/operator-key.ts';
import { type StoredReports, sendReports } from '../flight/report-api.ts';

/** Text that was not sent yet, kept on this device. */
const KEY = 'rimeway-pasted-reports';
/** What the service takes in one call, bytes. */
const MOST_BYTES = 4 * 1024 * 1024;
const TOO_MUCH = 'More than 4 MiB: send it in parts';

export const pastedText = signal<string>(storedText(KEY) ?? '');
export const isPasteOpen = signal<boolean>(false);
export const pasteOutcome = signal<PasteOutcome | undefined>(undefined);

export type PasteOutcome =
  | { readonly kind: 'sending' }
  | { readonly kind: 'read'; readonly nearMs: number; readonly reports: StoredReports }
  /** The text stays where it is. */
  | { readonly kind: 'not-sent'; readonly why: string };

/**
 * @param nearMs  Departure of the leg: month and year of the reports are taken near it.
 * @returns how many were stored.
 */
export async function sendPasted(nearMs: number): Promise<number> {
  if (pasteOutcome.peek()?.kind === 'sending') return 0;
  const text = pastedText.peek();
  const fault = faultOf(text, operatorKey.peek());
  if (fault !== undefined) return notSent(fault);
  // Kept before it is sent: a page that is closed over a call that hangs has it still.
  storeText(KEY, text === '' ? undefined : text);
  pasteOutcome.value = { kind: 'sending' };
  const answer = await sendReports({ text, key: operatorKey.peek(), nearMs });
  if (answer.kind !== 'ok') return notSent(whyNot(answer));
  batch(() => {
    pasteOutcome.value = { kind: 'read', nearMs, reports: answer.value };
    storeText(KEY, undefined);
    // What was refused stays to be mended; what was typed meanwhile stays too.
    if (answer.value.rejectedCount === 0 && pastedText.peek() === text) pastedText.value = '';
  });
  return answer.value.stored;
}

/** Behind what stands there already. */
export async function addFiles(files: readonly File[]): Promise<void> {
  if (files.reduce((sum, { size }) => sum + size, 0) > MOST_BYTES) {
    notSent(TOO_MUCH);
    return;
  }
  try {
    const texts = await Promise.all(files.map(textOf));
    pastedText.value = [pastedText.peek(), ...texts].filter((text) => text.trim() !== '').join('\n');
  } catch {
    notSent('The file could not be read');
  }
}

function faultOf(text: string, key: string): string | undefined {
  if (text.trim() === '') return 'There is no text to send';
  if (new TextEncoder().encode(text).length > MOST_BYTES) return TOO_MUCH;
  if (key === '') return 'It needs the key of your operator';
  return isSendable(key) ? undefined : 'The key holds a character that no key has';
}

function notSent(why: string): 0 {
  pasteOutcome.value = { kind: 'not-sent', why };
  return 0;
}

function whyNot(answer: Exclude<Answer<StoredReports>, { kind: 'ok' }>): string {
  if (answer.kind === 'problem') return answer.problem.detail;
  if (answer.kind === 'not-understood') return 'The answer was not understood: what was stored is not known';
  if (answer.kind === 'timeout') return 'No answer came in time: send it again, the same report twice is one';
  return 'The service was not reached';
}

/** UTF-8 where all of it is, else as the service reads such a file. */
async function textOf(file: File): Promise<string> {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes);
  }
}
