/** Air put together from layers. */
import { mpsFromKt } from '../../../worker/science/units.ts';
import { type CellAt, layer } from '../make-curtain.ts';

/** Layers laid over each other; where two say the same thing of a cell, the later one holds. */
export function stacked(...layers: readonly CellAt[]): CellAt {
  return (point, middleFt) => Object.assign({}, ...layers.map((each) => each(point, middleFt)));
}

/** Wind along a leg due north between two altitudes, kt: positive from behind, negative on the nose. */
export function tailwind(lowerFt: number, upperFt: number, tailwindKt: number): CellAt {
  return layer(lowerFt, upperFt, { windNorthMps: mpsFromKt(tailwindKt) });
}

/** One minimum altitude, ft, from the start of a leg to its end. */
export function minimumAllAlong(lengthNm: number, altitudeFt: number) {
  return [{ fromNm: 0, toNm: lengthNm, altitudeFt }];
}
