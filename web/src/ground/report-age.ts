/** A page that stands open grows older than its report. */
import type { Ground } from './ramp.ts';

/** Reports come by the hour, and sooner when it changes: an older one is behind the weather (judgement). */
const MOST_MINUTES = 75;

/** Why nothing is worked out from the report any more; undefined while it counts. */
export function outOfDateWords({ report }: Pick<Ground, 'report'>, nowMs: number): string | undefined {
  if (report === null) return 'no report of the aerodrome is held';
  const minutes = Math.floor((nowMs - Date.parse(report.observedUtc)) / 60_000);
  if (minutes < 0) return 'the report lies ahead of the clock';
  return minutes > MOST_MINUTES
    ? `the report is ${minutes} min old: brief the leg again at its departure`
    : undefined;
}
