/** How fine a grid is. */
import type { Grib2GridDefinition } from '../formats/grib2/field.ts';

const M_PER_DEG = 111_195;
const DEG_FROM_EQUATOR_TO_POLE = 90;

/** Between neighboring grid points along a meridian, or along the grid's own y axis, m. */
export function gridSpacingM(definition: Grib2GridDefinition): number {
  switch (definition.template) {
    case 0:
    case 1:
      return Math.abs(definition.latStepDeg) * M_PER_DEG;
    case 40:
      return (DEG_FROM_EQUATOR_TO_POLE / definition.parallels) * M_PER_DEG;
    default:
      return Math.abs(definition.dyM);
  }
}
