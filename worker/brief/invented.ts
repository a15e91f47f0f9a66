/** Tells the demo's made-up stations from real ones, by identifiers that no service uses. */

/**
 * True for WMO block 00, which no country has, and for IGRA identifiers of the invented country ZZ. The mark is part of
 * the identifier, so it cannot be forgotten on the way to the screen.
 */
export function isInventedStation(stationId: string): boolean {
  return /^00\d{3}$/.test(stationId) || stationId.startsWith('ZZ');
}
