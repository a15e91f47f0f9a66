/** The operator's key that reports are stored under: entered once, kept on this device, shown to nobody. */
import { signal } from '@preact/signals';
import { storedText, storeText } from '../device-value.ts';

const KEY = 'rimeway-operator-key';
const LONGEST = 200;

export const operatorKey = signal<string>(storedText(KEY) ?? '');

export function keepOperatorKey(text: string): void {
  const key = text.trim().slice(0, LONGEST);
  operatorKey.value = key;
  storeText(KEY, key === '' ? undefined : key);
}

/** A header takes printable ASCII alone. */
export function isSendable(key: string): boolean {
  return /^[\x21-\x7e]+$/.test(key);
}
