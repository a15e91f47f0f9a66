/** A later departure, and another way, in short words. */
import { levelsText } from '../considered.ts';
import type { BriefMember } from '../contract.ts';
import { clockText, zoneWord } from '../units.ts';

export type LaterDeparture = BriefMember['departures'][number];
export type Way = BriefMember['ways'][number];
export type LaterCell = LaterDeparture['byAltitude'][number];

const HOUR_MS = 3_600_000;

/** "+1 h", or "+1:30" where it is no whole hour. */
export function laterBy(departureUtc: string, legDepartureUtc: string): string {
  const laterMs = Date.parse(departureUtc) - Date.parse(legDepartureUtc);
  const hours = Math.floor(laterMs / HOUR_MS);
  const minutes = Math.round((laterMs - hours * HOUR_MS) / 60_000);
  return minutes === 0 ? `+${hours} h` : `+${hours}:${String(minutes).padStart(2, '0')}`;
}

/** "11,000", "9,000 then 11,000"; undefined where nothing is recommended. */
export function recommendedText({ recommendedAltitudeFt, profile }: LaterDeparture): string | undefined {
  if (recommendedAltitudeFt === null) return undefined;
  return levelsText({ altitudeFt: recommendedAltitudeFt, profile: profile ?? [] });
}

/** A stepped profile marks no single altitude. */
export function isRecommendedAt(
  { recommendedAltitudeFt, profile }: LaterDeparture,
  altitudeFt: number,
): boolean {
  const isStepped = profile !== null && profile.length > 1;
  return !isStepped && recommendedAltitudeFt === altitudeFt;
}

const NOT_FLOWN: ReadonlySet<LaterCell['standing']> = new Set([
  'below-minimum-altitude',
  'above-ceiling',
  'needs-oxygen',
  'leg-too-short',
]);

/** An altitude that cannot be flown has no verdict. */
export function isFlown({ standing }: LaterCell): boolean {
  return !NOT_FLOWN.has(standing);
}

export function wayName({ kind, id, routeText, departureUtc }: Way): string {
  if (kind === 'cancel') return 'Not going';
  if (kind === 'wait')
    return departureUtc === null ? 'Waiting' : `Waiting until ${clockText(departureUtc)} ${zoneWord()}`;
  return id === 'filed' ? `As filed: ${routeText ?? ''}` : (routeText ?? 'Another route');
}

/** "2026-01-14T12:30Z"; the anchor as it was written where it is not moved. */
export function departureAfter(anchorUtc: string, minutes: number): string {
  if (minutes === 0) return anchorUtc;
  return `${new Date(Date.parse(anchorUtc) + minutes * 60_000).toISOString().slice(0, 16)}Z`;
}

/** "11:30 UTC, as asked", "12:30 UTC, 1:00 later". */
export function departureWords(anchorUtc: string, minutes: number): string {
  const at = `${clockText(departureAfter(anchorUtc, minutes))} ${zoneWord()}`;
  if (minutes === 0) return `${at}, as asked`;
  const size = Math.abs(minutes);
  const span = `${Math.floor(size / 60)}:${String(size % 60).padStart(2, '0')}`;
  return `${at}, ${span} ${minutes < 0 ? 'earlier' : 'later'}`;
}
