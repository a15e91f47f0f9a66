/** Whole numbers and instants of inventories. */

const WHOLE = /^(?:0|-?[1-9]\d{0,15})$/;

/** undefined for anything but the plain digits of a safe integer: no sign +, point, exponent, blank or leading zero. */
export function readWhole(text: string, { isSigned }: { readonly isSigned: boolean }): number | undefined {
  if (!WHOLE.test(text) || (!isSigned && text.startsWith('-'))) return undefined;
  const value = Number(text);
  return Number.isSafeInteger(value) ? value : undefined;
}

/** @returns  epoch ms of year, month (from 1), day, hour, minute, second; undefined when the calendar has no such instant. */
export function instantOf(parts: readonly number[]): number | undefined {
  const [year = 0, month = 1, day = 1, hour = 0, minute = 0, second = 0] = parts;
  const instantMs = Date.UTC(year, month - 1, day, hour, minute, second);
  if (year < 1900 || !Number.isFinite(instantMs)) return undefined;
  const read = new Date(instantMs);
  const isSame =
    read.getUTCMonth() === month - 1 &&
    read.getUTCDate() === day &&
    read.getUTCHours() === hour &&
    read.getUTCMinutes() === minute &&
    read.getUTCSeconds() === second;
  return isSame ? instantMs : undefined;
}
