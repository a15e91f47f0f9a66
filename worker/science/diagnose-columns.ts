/** The chain from columns of air to columns of icing, stage by stage. */
import type { DiagnosisSettings, IcingColumns, WeatherColumns } from './columns.ts';
import { growIce } from './growth-columns.ts';
import { ownSources, type PointSources } from './point-sources.ts';
import { poolColumns } from './pool-columns.ts';
import { gatherWaterEvidence, type WaterEvidence } from './water-evidence.ts';

export interface DiagnosedSources {
  /** One column a route point. */
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  /** One column a source: what draws start from. */
  readonly evidence: WaterEvidence;
}

/**
 * Diagnoses icing at route points out of several sources' columns.
 *
 * @param weather   One column of air a source.
 * @param sources   Who speaks at each point, how much it counts there, and its errors.
 * @param settings  Speeds at every cell, the parts' radii, the droplet number.
 * @returns         Columns at the points; amounts are those given supercooled water.
 * @throws          RangeError when numbers of columns, sources or speeds do not match, or a setting is not positive.
 * @checked         tests/science/pool-columns.test.ts
 */
export function diagnoseSources(
  weather: WeatherColumns,
  sources: PointSources,
  settings: DiagnosisSettings,
): DiagnosedSources {
  const evidence = gatherWaterEvidence(weather, settings);
  const pooled = poolColumns(weather, evidence, sources);
  return { weather: pooled.weather, icing: growIce(pooled.water, weather.axis, settings), evidence };
}

/**
 * Diagnoses columns by themselves, each exact.
 *
 * A cell that is not known stays so, with its state. A known cell may become unknown here: where the source gives condensate
 * but not in this cell, and where unknown air above keeps freezing rain from being excluded. Only pressures of the axis are
 * used, so its cells may be irregular.
 *
 * @param weather   Columns of air.
 * @param settings  Speeds at every cell, the parts' radii and the droplet number.
 * @returns         Icing on the same axis; amounts are those given liquid.
 * @throws          RangeError when there is not one speed a cell, or a setting is not a positive number.
 * @checked         tests/science/diagnose-columns.test.ts, tests/science/poison.test.ts, tests/data/insitu.test.ts
 */
export function diagnoseColumns(weather: WeatherColumns, settings: DiagnosisSettings): IcingColumns {
  return diagnoseSources(weather, ownSources(weather.columnCount), settings).icing;
}
