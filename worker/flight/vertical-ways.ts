/** Ways out up over the tops and down under the base. */
import { mFromFt } from '../science/units.ts';
import { FACT } from './cell-facts.ts';
import { cellNumber } from './cells.ts';
import { answersBetween, growthAt, isFree } from './column-range.ts';
import { SLOWEST_CLIMB_MPS } from './flight-path.ts';
import { climbRateMps, ICED_FROM_M } from './ice-effects.ts';
import { tableValue } from './performance-table.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import { minimumWithinM, NEAR_M, type Outcome, type Search, worthIt } from './way-search.ts';

/** Ways up and down are looked for at these indicated altitudes. */
const TARGET_STEP_M = mFromFt(500);
const EQUAL_M = 1e-6;

/** Up to an altitude with nothing icy for 1,500 ft below it and 1,000 ft above, at the rate that the ice leaves. */
export function up(search: Search, point: number): Outcome {
  const { aircraft, facts } = search;
  const fromM = search.altitudeM[point]!;
  let timeS = 0;
  let iceM = search.iceM[point]!;
  const startIceM = iceM;
  let lowM = fromM;
  for (const toM of targetsM(search, fromM, 1)) {
    if (toM > (iceM >= ICED_FROM_M ? aircraft.icedCeilingM : aircraft.ceilingM) + EQUAL_M) return 'none';
    const stop = stopOf(search, point, lowM, toM);
    if (stop !== undefined) return stop;
    const middleM = (lowM + toM) / 2;
    const cell = cellNumber(facts, middleM);
    const index = point * facts.cellCount + cell;
    const isSeparatorOn = (facts.answers[index]! & FACT.separator) !== 0;
    const rateMps = climbRateMps(aircraft, middleM, { builtM: iceM, isSeparatorOn });
    if (rateMps < SLOWEST_CLIMB_MPS) return 'none';
    timeS += (toM - lowM) / rateMps;
    iceM += (facts.growthMps[index]! * (toM - lowM)) / rateMps;
    lowM = toM;
    if (isFree(facts, point, [toM - ON_TOP_MARGIN_M, toM + NEAR_M])) {
      return worthIt({ way: 'up', timeS, builtM: iceM - startIceM, toM });
    }
  }
  return 'none';
}

/** Down to an altitude with nothing icy for 1,000 ft above it, under no minimum altitude of the points reached on the way. */
export function down(search: Search, point: number): Outcome {
  const { aircraft, facts } = search;
  let highM = search.altitudeM[point]!;
  let timeS = 0;
  let builtM = 0;
  for (const toM of targetsM(search, highM, -1)) {
    const middleM = (toM + highM) / 2;
    const stepS = (highM - toM) / tableValue(aircraft.descentRateMps, middleM);
    timeS += stepS;
    const lowestM = minimumWithinM(search, point, timeS);
    if (Number.isNaN(lowestM)) return 'unknown-minimum';
    if (toM < lowestM - EQUAL_M) return 'none';
    const stop = stopOf(search, point, toM, highM);
    if (stop !== undefined) return stop;
    builtM += growthAt(facts, point, middleM) * stepS;
    highM = toM;
    if (isFree(facts, point, [toM, toM + NEAR_M])) return worthIt({ way: 'down', timeS, builtM, toM });
  }
  return 'none';
}

/** Why a vertical way ends here: unknown air, or danger on the way, where the aeroplane is included. */
function stopOf(search: Search, point: number, lowM: number, highM: number): Outcome | undefined {
  const passed = answersBetween(search.facts, point, lowM, highM);
  if (passed.hasUnknown) return 'unknown-air';
  return (passed.any & FACT.danger) === 0 ? undefined : 'none';
}

/** Pressure altitudes of whole 500 ft indicated above (1) or below (-1) an altitude, nearest first, within reason. */
function* targetsM(search: Search, fromM: number, direction: 1 | -1): Generator<number> {
  const { indicatedMinusPressureM, facts, aircraft } = search;
  const presentSteps = (fromM + indicatedMinusPressureM) / TARGET_STEP_M;
  const axisTopM = facts.lowestM + facts.cellCount * facts.cellDepthM;
  const limits = [Math.min(facts.lowestM, 0), Math.max(axisTopM, aircraft.ceilingM)] as const;
  let step = direction > 0 ? Math.floor(presentSteps + 1e-6) : Math.ceil(presentSteps - 1e-6);
  for (;;) {
    step += direction;
    const targetM = step * TARGET_STEP_M - indicatedMinusPressureM;
    if (targetM < limits[0] || targetM > limits[1] + TARGET_STEP_M) return;
    yield targetM;
  }
}
