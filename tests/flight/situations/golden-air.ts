/** Air of the golden situations, put together from layers. */
import type { CellAt, TestCell } from '../make-curtain.ts';

/** Cloud that holds snow and no drops. */
export const SNOW_CLOUD: TestCell = { cloudProbability: 1 };

/** The edge of a layer, seldom icy: in the high estimate only. */
export const RAGGED_EDGE: TestCell = {
  icingProbability: 0.3,
  cloudProbability: 0.4,
  growthMmPerMin: 0.2,
  intensity: 2,
};

export const SEVERE_ICE: TestCell = {
  icingProbability: 0.9,
  cloudProbability: 1,
  growthMmPerMin: 1.6,
  intensity: 4,
};

/** Several airs in one; where two say something about a cell the later one counts. */
export function stacked(...airs: readonly CellAt[]): CellAt {
  return (point, middleFt) => Object.assign({}, ...airs.map((air) => air(point, middleFt)));
}

/** The temperature at an altitude, degC: so much at the sea, so much colder each 1,000 ft, up to a top. */
export function cooling(surfaceC: number, perThousandFtC: number, topFt: number): CellAt {
  return (_, middleFt) =>
    middleFt < topFt ? { temperatureC: surfaceC - (perThousandFtC * middleFt) / 1000 } : {};
}
