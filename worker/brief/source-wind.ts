/** Wind over the route straight from the sources, for timing the points before the air over them is worked out. */
import type { WindAt } from '../flight/types.ts';
import { CELL_STATE, type WeatherColumns } from '../science/columns.ts';
import type { PointSources } from '../science/point-sources.ts';

/** @returns the mean of the sources that know the wind there, weighed like temperature; undefined where none does. */
export function windOfSources(columns: WeatherColumns, sources: PointSources): WindAt {
  const { axis, state, windEastMps, windNorthMps } = columns;
  return (point, pressureAltitudeM) => {
    const cell = Math.floor((pressureAltitudeM - axis.lowestM) / axis.cellDepthM);
    if (cell < 0 || cell >= axis.cellCount) return undefined;
    let total = 0;
    let eastSum = 0;
    let northSum = 0;
    for (let entry = sources.firstEntry[point]!; entry < sources.firstEntry[point + 1]!; entry += 1) {
      const weight = sources.temperature[entry]!;
      const index = sources.source[entry]! * axis.cellCount + cell;
      if (!(weight > 0) || state[index] !== CELL_STATE.known) continue;
      const eastMps = windEastMps[index]!;
      const northMps = windNorthMps[index]!;
      if (!Number.isFinite(eastMps + northMps)) continue;
      total += weight;
      eastSum += weight * eastMps;
      northSum += weight * northMps;
    }
    return total > 0 ? { eastMps: eastSum / total, northMps: northSum / total } : undefined;
  };
}
