/** A scheduled leg flies at the same time every day. */

const DAY_MS = 86_400_000;

/** The next instant at the time of day of another one, UTC to the minute: "2026-01-15T11:30Z". */
export function nextSameTime(departureUtc: string, nowMs: number): string {
  const departureMs = Date.parse(departureUtc);
  const days = Math.max(0, Math.ceil((nowMs - departureMs) / DAY_MS));
  return `${new Date(departureMs + days * DAY_MS).toISOString().slice(0, 16)}Z`;
}
