/** Reports give the day of the month and no month. */

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;
const MS_PER_DAY = 24 * MS_PER_HOUR;

/**
 * The instant with this day of the month and hour that lies nearest to another.
 *
 * @param nearMs      epoch ms; NaN gives NaN.
 * @param notAfterMs  epoch ms; of what was observed nothing can be later than now.
 * @returns           epoch ms UTC; months that lack the day are passed over.
 */
export function nearestTimeMs(
  day: number,
  hour: number,
  nearMs: number,
  notAfterMs = Number.POSITIVE_INFINITY,
): number {
  const near = new Date(nearMs);
  let nearestMs = Number.NaN;
  for (let monthOffset = -2; monthOffset <= 2; monthOffset += 1) {
    const monthStart = Date.UTC(near.getUTCFullYear(), near.getUTCMonth() + monthOffset, 1);
    const timeMs = monthStart + (day - 1) * MS_PER_DAY + hour * MS_PER_HOUR;
    if (new Date(timeMs).getUTCDate() !== day || timeMs > notAfterMs) continue;
    const isNearer = !(Math.abs(timeMs - nearMs) >= Math.abs(nearestMs - nearMs));
    if (isNearer && !Number.isNaN(timeMs)) nearestMs = timeMs;
  }
  return nearestMs;
}

/** A release farther from the nominal time belongs to another ascent, or is no time. */
const MOST_FROM_NOMINAL_MS = 3 * MS_PER_HOUR;

/**
 * The instant of a release given as a time of day.
 *
 * @param minute  minutes after 00 UTC; NaN gives NaN.
 * @param timeMs  nominal time, epoch ms.
 * @returns       epoch ms UTC, NaN where no day brings it within three hours of the nominal time.
 */
export function releaseNearMs(minute: number, timeMs: number): number {
  const dayMs = Math.floor(timeMs / MS_PER_DAY) * MS_PER_DAY;
  for (const days of [-1, 0, 1]) {
    const releasedMs = dayMs + days * MS_PER_DAY + minute * MS_PER_MINUTE;
    if (Math.abs(releasedMs - timeMs) <= MOST_FROM_NOMINAL_MS) return releasedMs;
  }
  return Number.NaN;
}
