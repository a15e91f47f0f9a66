/** Times of the sheet: always UTC and the board's own time, whatever a device shows, for the paper goes from hand to hand. */

/** "14 Jan 11:30Z"; '?' for what is no instant. */
export function utcMinute(utc: string): string {
  const instant = new Date(utc);
  if (Number.isNaN(instant.getTime())) return '?';
  const day = instant.toLocaleDateString('en-GB', { timeZone: 'UTC', day: 'numeric', month: 'short' });
  return `${day} ${instant.toISOString().slice(11, 16)}Z`;
}

/** "11:30Z". */
export function utcClock(utc: string): string {
  return utcMinute(utc).split(' ').at(-1) ?? '?';
}

/** "06:30" of a zone; undefined where this browser does not know it. */
export function localClock(utc: string, timeZone: string): string | undefined {
  try {
    return new Date(utc).toLocaleTimeString('en-GB', { timeZone, hour: '2-digit', minute: '2-digit' });
  } catch {
    return undefined;
  }
}
