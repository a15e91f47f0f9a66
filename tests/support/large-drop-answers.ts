/** What a diagnosed column says of freezing rain and ice pellets in a stretch of it. */
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import {
  type AltitudeAxis,
  CELL_STATE,
  type IcingColumns,
  LARGE_DROPS,
  type Profile,
} from '../../worker/science/columns.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { makeSettings } from './make-profile.ts';

/** Cells of 100 ft to 33,000 ft. */
export const FINE_AXIS = makeAltitudeAxis({ lowestM: -300, cellDepthM: 30.48, cellCount: 330 });
/** Those of a brief, 500 ft. */
export const BRIEF_AXIS = makeAltitudeAxis({ lowestM: 0, cellDepthM: 152.4, cellCount: 64 });

/** One profile on an axis. */
export function diagnose(profile: Profile, axis: AltitudeAxis): IcingColumns {
  return diagnoseColumns(weatherColumnsFromProfiles([profile], axis), makeSettings(axis.cellCount));
}

export type Answer = 'raised' | 'not raised' | 'unknown';

/** What the cells between two pressures say together: raised by any, unknown when none is known. */
export function answerBetween(icing: IcingColumns, footHPa: number, topHPa: number): Answer {
  let known = 0;
  for (let cell = 0; cell < icing.axis.cellCount; cell += 1) {
    const hPa = icing.axis.middlePressurePa[cell]! / 100;
    if (hPa > footHPa || hPa < topHPa) continue;
    const code = icing.largeDrops[cell]!;
    if (code === LARGE_DROPS.freezingRain || code === LARGE_DROPS.icePellets) return 'raised';
    if (icing.state[cell] === CELL_STATE.known) known += 1;
  }
  return known > 0 ? 'not raised' : 'unknown';
}

/** The same of the whole column. */
export const answerAnywhere = (icing: IcingColumns) => answerBetween(icing, 1100, 0);
