/** Why a level is in the message: flag tables 0 08 042 (18 bits) and 0 08 001 (7 bits, the older one). */

const EXTENDED_BITS = 18;
const SHORT_BITS = 7;

/** Flag n of a table of so many bits: the first one is the greatest. */
const flag = (n: number, bits: number): number => 2 ** (bits - n);
const extended = (n: number): number => flag(n, EXTENDED_BITS);

/** Flags of 0 08 042 that the reading of an ascent turns on. */
export const SIGNIFICANCE = {
  surface: extended(1),
  standard: extended(2),
  maximumWind: extended(4),
  wind: extended(7),
  temperatureGapBegins: extended(8),
  humidityGapBegins: extended(10),
  topOfWind: extended(14),
} as const;

/** 0 08 001 flag 5 means temperature or humidity, flag 6 wind; the first four are the same in both tables. */
const FROM_SHORT: readonly (readonly [shortFlag: number, extendedFlags: number])[] = [
  [1, extended(1)],
  [2, extended(2)],
  [3, extended(3)],
  [4, extended(4)],
  [5, extended(5) + extended(6)],
  [6, extended(7)],
];

/** 0 08 001 as flags of 0 08 042; 0 for a missing value. */
export function extendedFromShort(value: number): number {
  if (!Number.isFinite(value)) return 0;
  return FROM_SHORT.reduce(
    (flags, [shortFlag, extendedFlags]) =>
      (value & flag(shortFlag, SHORT_BITS)) === 0 ? flags : flags | extendedFlags,
    0,
  );
}

const WIND_ALONE = SIGNIFICANCE.wind | SIGNIFICANCE.maximumWind | SIGNIFICANCE.topOfWind;

/** True for a level that is there for its wind and nothing else. */
export function isForWindAlone(flags: number): boolean {
  return flags !== 0 && (flags & ~WIND_ALONE) === 0;
}
