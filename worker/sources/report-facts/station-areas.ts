/** Where an aerodrome that reports is. */
import type { HazardArea } from '../../flight/hazard-areas.ts';
import type { ReportedIce } from '../reports.ts';
import { type FactContext, fromUnknownPlace, somewhereIn } from './make-report.ts';
import type { AerodromePlace } from './weather-ice.ts';

export interface StationPlace extends AerodromePlace {
  readonly areas: readonly HazardArea[];
  /** The ice as it counts from there. */
  readonly counted: (ice: readonly ReportedIce[]) => readonly ReportedIce[];
}

export function stationAreas(station: string, { placeOf }: FactContext): StationPlace {
  const place = placeOf(station);
  if (place === undefined)
    return {
      areas: [somewhereIn(station)],
      isPlaced: false,
      elevationM: Number.NaN,
      counted: fromUnknownPlace,
    };
  const { latDeg, lonDeg, elevationM } = place;
  const area = { kind: 'circle', center: { latDeg, lonDeg }, radiusM: 0 } as const;
  return { areas: [area], isPlaced: true, elevationM, counted: (ice) => ice };
}
