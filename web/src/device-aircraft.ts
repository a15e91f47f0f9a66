/** Aircraft profiles edited here, kept on this device. What cannot be read any more is left alone and not offered. */
import { signal } from '@preact/signals';
import { type AircraftProfile, aircraftSchema } from '../../worker/schema/aircraft.ts';

const KEY = 'rimeway-aircraft';
/** An address that carries a longer profile is cut by some programs that pass it on. */
const LONGEST_IN_ADDRESS = 3500;
const ON_DEVICE = 'on-this-device:';

/** Storage may be refused; the page works without, and says nothing of it. */
function stored(): Record<string, unknown> {
  try {
    const parsed: unknown = JSON.parse(localStorage.getItem(KEY) ?? '{}');
    return typeof parsed === 'object' && parsed !== null ? (parsed as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}

function readAll(): AircraftProfile[] {
  return Object.values(stored()).flatMap((one) => {
    const parsed = aircraftSchema.safeParse(one);
    return parsed.success ? [parsed.data] : [];
  });
}

/** Profiles kept on this device, in the order in which they were made. */
export const keptAircraft = signal<readonly AircraftProfile[]>(readAll());

/** @returns false when this device keeps nothing. */
export function keepOnDevice(profile: AircraftProfile): boolean {
  return write({ ...stored(), [profile.id]: profile });
}

export function forgetOnDevice(id: string): void {
  const { [id]: _gone, ...rest } = stored();
  write(rest);
}

function write(profiles: Record<string, unknown>): boolean {
  try {
    localStorage.setItem(KEY, JSON.stringify(profiles));
    keptAircraft.value = readAll();
    return true;
  } catch {
    return false;
  }
}

/** What the address carries for an aircraft: the profile itself where it is short enough, else its name on this device. */
export function aircraftForAddress(aircraftText: string): string {
  if (!isTooLongForAddress(aircraftText)) return aircraftText;
  const parsed = aircraftSchema.safeParse(JSON.parse(aircraftText));
  if (!parsed.success || !keepOnDevice(parsed.data)) return aircraftText;
  return `${ON_DEVICE}${parsed.data.id}`;
}

export function isTooLongForAddress(aircraftText: string): boolean {
  return aircraftText.startsWith('{') && encodeURIComponent(aircraftText).length > LONGEST_IN_ADDRESS;
}

export function isOnDeviceOnly(aircraftText: string): boolean {
  return aircraftText.startsWith(ON_DEVICE);
}

/** The profile that a name stands for; the name itself where this device does not keep it. */
export function aircraftFromAddress(aircraftText: string): string {
  if (!isOnDeviceOnly(aircraftText)) return aircraftText;
  const id = aircraftText.slice(ON_DEVICE.length);
  const found = keptAircraft.value.find((profile) => profile.id === id);
  return found === undefined ? aircraftText : JSON.stringify(found);
}
