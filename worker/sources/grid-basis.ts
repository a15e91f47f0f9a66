/** What a source means by humidity and condensate: by its centre, its model and the model's age. */
import type { HumidityBasis } from '../science/humidity-basis.ts';

/** What tells one source from another. */
export interface SourceIdentity {
  readonly centre: number;
  readonly generatingProcess: number;
  readonly referenceTimeMs: number;
}

const NCEP = 7;
const ECMWF = 98;

/** WMO common code table C-11. */
const CENTRE_NAMES: ReadonlyMap<number, string> = new Map([
  [NCEP, 'NOAA NCEP'],
  [34, 'Japan Meteorological Agency'],
  [54, 'Environment and Climate Change Canada'],
  [59, 'NOAA GSL'],
  [78, 'Deutscher Wetterdienst'],
  [ECMWF, 'ECMWF'],
]);

export function centreName(centre: number): string {
  return CENTRE_NAMES.get(centre) ?? `centre ${centre}`;
}

/** NCEP's generating processes of the global models, from memory: analyses 81 and 82, forecast 96, ensemble 107. */
const NCEP_GLOBAL_PROCESSES: ReadonlySet<number> = new Set([81, 82, 96, 107]);

function isNcepGlobal({ centre, generatingProcess }: SourceIdentity): boolean {
  return centre === NCEP && NCEP_GLOBAL_PROCESSES.has(generatingProcess);
}

/**
 * First run of the NCEP global model whose cloud water no longer holds the ice too: 2019-06-12 12 UTC (from memory). Ice, rain,
 * snow and graupel are fields of their own from then on.
 */
const NCEP_SPLIT_CONDENSATE_MS = Date.UTC(2019, 5, 12, 12);

/**
 * First run of the NCEP global model with the post-processor of 2020, whose relative humidity is over liquid water as that of
 * the regional models: 2021-03-22 12 UTC (the date from memory, the change from the program's source).
 */
const NCEP_HUMIDITY_OVER_WATER_MS = Date.UTC(2021, 2, 22, 12);

/** True when a field of cloud water (0.1.22) holds the ice too. */
export function isTotalCondensate(source: SourceIdentity): boolean {
  return isNcepGlobal(source) && source.referenceTimeMs < NCEP_SPLIT_CONDENSATE_MS;
}

/**
 * What a relative humidity below 0 degC is over: NCEP's global model mixed water and ice saturation linearly from 0 to -20 degC
 * until 2021 (tests/data/grid-humidity.test.ts holds it against the model's specific humidity); ECMWF mixes them by a square
 * (from memory; a wrong basis shifts humidity by at most 7 % at -10 degC).
 */
export function humidityBasis(source: SourceIdentity): HumidityBasis {
  if (isNcepGlobal(source) && source.referenceTimeMs < NCEP_HUMIDITY_OVER_WATER_MS) return 'ncep-mixed';
  return source.centre === ECMWF ? 'ecmwf-mixed' : 'water';
}

/** What the model's own clouds are saturated over, whatever its relative humidity is printed over (from memory). */
export function cloudBasis(source: SourceIdentity): HumidityBasis {
  if (isNcepGlobal(source)) return 'ncep-mixed';
  return source.centre === ECMWF ? 'ecmwf-mixed' : 'water';
}
