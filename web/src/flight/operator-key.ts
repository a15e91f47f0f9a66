/** The operator's key that reports are stored under: entered once, kept on this device, shown to nobody. */
import { signal } from '@preact/signals';

const KEY = 'rimeway-operator-key';
const LONGEST = 200;

export const operatorKey = signal<string>(stored());

function stored(): string {
  try {
    return localStorage.getItem(KEY) ?? '';
  } catch {
    return '';
  }
}

export function keepOperatorKey(text: string): void {
  const key = text.trim().slice(0, LONGEST);
  operatorKey.value = key;
  try {
    if (key === '') localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, key);
  } catch {
    // Storage may be refused: the key then lasts as long as the page.
  }
}

/** A header takes printable ASCII alone. */
export function isSendable(key: string): boolean {
  return /^[\x21-\x7e]+$/.test(key);
}
