/** When the ice that is being watched began: kept on this device, so that a page that sleeps loses no minute. */
import { signal } from '@preact/signals';
import { storedText, storeText } from '../device-value.ts';

const KEY = 'rimeway-first-ice';
/** Older it is of another flight. */
const FORGOTTEN_MS = 3 * 3_600_000;

export const firstIceMs = signal<number | undefined>(stored());

function stored(): number | undefined {
  const instantMs = Number(storedText(KEY) ?? Number.NaN);
  const ageMs = Date.now() - instantMs;
  return ageMs >= 0 && ageMs < FORGOTTEN_MS ? instantMs : undefined;
}

/** undefined forgets it. */
export function noteFirstIce(instantMs: number | undefined): void {
  firstIceMs.value = instantMs;
  storeText(KEY, instantMs === undefined ? undefined : String(instantMs));
}
