/** When the aeroplane is where. */
import type { RoutePoint } from './contract.ts';
import { clockText } from './units.ts';

/** Time over a distance as a clock shows it; '' outside the leg. */
export function timeAt(points: readonly RoutePoint[], distanceNm: number): string {
  const instantMs = timeAtMs(points, distanceNm);
  return instantMs === undefined ? '' : clockText(instantMs);
}

/** The same, epoch ms, between the times over the points on either side; undefined outside the leg. */
export function timeAtMs(points: readonly RoutePoint[], distanceNm: number): number | undefined {
  const after = points.findIndex((point) => point.distanceNm >= distanceNm);
  const next = points[after];
  if (next === undefined) return undefined;
  const before = points[after - 1] ?? next;
  const spanNm = next.distanceNm - before.distanceNm;
  const share = spanNm > 0 ? (distanceNm - before.distanceNm) / spanNm : 0;
  const beforeMs = Date.parse(before.etaUtc);
  return beforeMs + share * (Date.parse(next.etaUtc) - beforeMs);
}

/** Where the flight is at an instant by its plan, NM; undefined before it leaves and after it has arrived. */
export function placeAtNm(points: readonly RoutePoint[], instantMs: number): number | undefined {
  const after = points.findIndex(({ etaUtc }) => Date.parse(etaUtc) >= instantMs);
  const [before, next] = [points[after - 1], points[after]];
  if (before === undefined || next === undefined) return undefined;
  const [fromMs, toMs] = [Date.parse(before.etaUtc), Date.parse(next.etaUtc)];
  return before.distanceNm + ((instantMs - fromMs) / (toMs - fromMs)) * (next.distanceNm - before.distanceNm);
}
