/** Where an aerodrome that reports is. */
import type { HazardArea } from '../../flight/hazard-areas.ts';
import { stationBox } from '../region-boxes.ts';
import type { ReportedIce } from '../reports.ts';
import { type FactContext, fromUnknownPlace } from './make-report.ts';

export interface StationPlace {
  readonly areas: readonly HazardArea[];
  /** m; NaN where it is not known. */
  readonly elevationM: number;
  /** The ice as it counts from there. */
  readonly counted: (ice: readonly ReportedIce[]) => readonly ReportedIce[];
}

/**
 * Of a station that nobody can place only freezing precipitation, and ice that is moderate or more, counts at all: what is
 * less bears on its own field, and thousands of stations are in no list, so that every leg would be told of some.
 */
export function stationAreas(station: string, { placeOf }: FactContext): StationPlace {
  const place = placeOf(station);
  if (place === undefined)
    return {
      areas: [{ kind: 'unknown', box: stationBox(station) }],
      elevationM: Number.NaN,
      counted: (ice) => fromUnknownPlace(ice.filter(({ severity }) => severity !== 'unstated')),
    };
  const { latDeg, lonDeg, elevationM } = place;
  const area = { kind: 'circle', center: { latDeg, lonDeg }, radiusM: 0 } as const;
  return { areas: [area], elevationM, counted: (ice) => ice };
}
