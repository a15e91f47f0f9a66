/** The rod that this pilot can see from the seat: its diameter, kept on this device for each aircraft. */
import { computed, signal } from '@preact/signals';
import * as z from 'zod/mini';
import { legAircraft } from '../aircraft-of-leg.ts';
import { storedText, storeText } from '../device-value.ts';

const KEY = 'rimeway-rods';
export const LEAST_ROD_MM = 3;
export const MOST_ROD_MM = 60;

const rodsSchema = z.record(z.string(), z.number().check(z.gte(LEAST_ROD_MM), z.lte(MOST_ROD_MM)));
type Rods = z.infer<typeof rodsSchema>;

/** By aircraft. */
const chosen = signal<Rods>(stored());

function stored(): Rods {
  try {
    return rodsSchema.safeParse(JSON.parse(storedText(KEY) ?? '{}')).data ?? {};
  } catch {
    return {};
  }
}

/** As chosen for this aircraft, else that of its profile; undefined while the profile is not known. */
export const rodDiameterMm = computed<number | undefined>(() => {
  const profile = legAircraft.value;
  return profile && (chosen.value[profile.id] ?? Math.round(profile.rodRadiusMm * 2));
});

export function isRod(millimeters: number): boolean {
  return millimeters >= LEAST_ROD_MM && millimeters <= MOST_ROD_MM;
}

/** undefined: that of the profile again. */
export function chooseRod(millimeters: number | undefined): void {
  const id = legAircraft.peek()?.id;
  if (id === undefined) return;
  const { [id]: _before, ...others } = chosen.peek();
  chosen.value = millimeters === undefined ? others : { ...others, [id]: millimeters };
  storeText(KEY, JSON.stringify(chosen.value));
}
