/** When the aeroplane is where. */
import type { RoutePoint } from './contract.ts';
import { clockText } from './units.ts';

/** Time over a distance, between the times over the points on either side; '' outside the leg. */
export function timeAt(points: readonly RoutePoint[], distanceNm: number): string {
  const after = points.findIndex((point) => point.distanceNm >= distanceNm);
  const next = points[after];
  if (next === undefined) return '';
  const before = points[after - 1] ?? next;
  const spanNm = next.distanceNm - before.distanceNm;
  const share = spanNm > 0 ? (distanceNm - before.distanceNm) / spanNm : 0;
  const beforeMs = Date.parse(before.etaUtc);
  return clockText(beforeMs + share * (Date.parse(next.etaUtc) - beforeMs));
}
