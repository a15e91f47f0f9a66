/** Instants as they stand in a board's sentences. */

/** "14 Jan 11:30 UTC". */
export function dayClockWords(atMs: number): string {
  if (!Number.isFinite(atMs)) return 'an unknown time';
  const [, day, month, , clock] = new Date(atMs).toUTCString().split(' ');
  return `${Number(day)} ${month} ${clock!.slice(0, 5)} UTC`;
}

/** "11:30 UTC", with its day where that is another than that of the time beside it. */
export function clockWords(atMs: number, besideMs: number): string {
  const words = dayClockWords(atMs);
  const dayOf = (ms: number) => Math.floor(ms / 86_400_000);
  return dayOf(atMs) === dayOf(besideMs) ? words.slice(-9) : words;
}
