/** The rod that this pilot can see from the seat: its diameter, kept on this device. */
import { computed, signal } from '@preact/signals';
import { legAircraft } from '../aircraft-of-leg.ts';

const KEY = 'rimeway-rod-mm';
export const LEAST_ROD_MM = 3;
export const MOST_ROD_MM = 60;

const chosenMm = signal<number | undefined>(stored());

function stored(): number | undefined {
  try {
    const millimeters = Number(localStorage.getItem(KEY) ?? Number.NaN);
    return isRod(millimeters) ? millimeters : undefined;
  } catch {
    return undefined;
  }
}

/** As chosen, else that of the aircraft's profile; undefined while neither is known. */
export const rodDiameterMm = computed<number | undefined>(() => {
  const profile = legAircraft.value;
  return chosenMm.value ?? (profile && Math.round(profile.rodRadiusMm * 2));
});

export function chooseRod(millimeters: number): void {
  if (!isRod(millimeters)) return;
  chosenMm.value = millimeters;
  try {
    localStorage.setItem(KEY, String(millimeters));
  } catch {
    // Storage may be refused: the choice then lasts as long as the page.
  }
}

function isRod(millimeters: number): boolean {
  return millimeters >= LEAST_ROD_MM && millimeters <= MOST_ROD_MM;
}
