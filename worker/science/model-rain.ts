/**
 * Rain that a model itself has: its mixing ratio on the levels, and freezing rain at the ground. It is there or not whatever
 * the cloud fraction is, and below 0 degC it is supercooled, in drops larger than those of cloud.
 */
import type { ColumnAir } from './column-air.ts';
import { CELL_STATE, LARGE_DROPS } from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { FREEZING_RAIN_TRUST, RAIN_AREA_M } from './error-spreads.ts';
import { pressureAltitudeMFromPressurePa } from './standard-atmosphere.ts';
import { mFromFt } from './units.ts';
import { isTopOfHiddenWarmth } from './warm-layer.ts';

/**
 * Rain is as probable as not from this content of a grid box on, kg/m3 (about as many kg/kg). Drizzle of 0.01 mm/h, the least
 * that is noticed, in drops of 0.2 mm that fall at 0.7 m/s is 4e-6 kg/m3; what advection and interpolation leave behind in
 * models is 1e-7 and less.
 */
const RAIN_PRESENT_KG_PER_M3 = 3e-6;

/** Of the logit of presence for each ln of content: a tenth at a third of the above, nine tenths at three times. */
const PRESENCE_SLOPE = 2;

/**
 * Probability that rain which a model has in a cell is there.
 *
 * @param waterKgPerM3  The model's rain, kg/m3.
 * @param errors        Of ln water, and of place, m; 0 for exact.
 * @returns             0-1, never falls with the rain; 0 without any, or where none is given (NaN).
 * @throws              never.
 * @source              Judgement: a logistic curve in ln content, flattened by the error of amount as a logit's normal error
 *                      flattens it (MacKay 1992, from memory), times the chance that it is not misplaced: the mean of
 *                      exp(-distance / RAIN_AREA_M) over an exponential distribution of that error.
 * @checked             tests/science/model-rain.test.ts
 */
export function modelRainProbability(
  waterKgPerM3: number,
  errors: { readonly lnWater: number; readonly placeM: number },
): number {
  if (!(waterKgPerM3 > 0)) return 0;
  const error = PRESENCE_SLOPE * errors.lnWater;
  const slope = PRESENCE_SLOPE / Math.sqrt(1 + (Math.PI / 8) * error * error);
  const presence = 1 / (1 + (RAIN_PRESENT_KG_PER_M3 / waterKgPerM3) ** slope);
  return presence / (1 + errors.placeM / RAIN_AREA_M);
}

/**
 * Which kind a model's rain is where it is supercooled: freezing rain under air above 0 degC, and under unknown air that may
 * be so; else it never was snow, and has the drops of drizzle.
 *
 * @param air    The column.
 * @param drops  Filled: LARGE_DROPS code of every cell.
 * @throws       never.
 */
export function fillRainDrops(air: ColumnAir, drops: Uint8Array): void {
  let isUnderWarmth = false;
  for (let cell = air.axis.cellCount - 1; cell >= 0; cell -= 1) {
    drops[cell] = isUnderWarmth ? LARGE_DROPS.freezingRain : LARGE_DROPS.freezingDrizzle;
    isUnderWarmth ||= isWarm(air, cell) || isTopOfHiddenWarmth(air, cell);
  }
}

const isWarm = (air: ColumnAir, cell: number) =>
  air.state[cell] === CELL_STATE.known && air.temperatureK[cell]! >= FREEZING_K;
const isCold = (air: ColumnAir, cell: number) =>
  air.state[cell] === CELL_STATE.known && air.temperatureK[cell]! < FREEZING_K;

/** Where a column shows no warm layer, freezing rain at the ground is looked for up to here, m above the lowest air. */
const GROUND_REACH_M = mFromFt(3000);

/**
 * The chance of freezing rain that a model's freezing rain at the ground gives the cells it must have fallen through: those
 * below 0 degC under the lowest warm layer with such air beneath. Unknown air that may be warm counts as one.
 *
 * @param air          The column, with a share of freezing rain.
 * @param probability  Filled, 0-1 a cell.
 * @throws             never.
 * @source             The share times FREEZING_RAIN_TRUST.
 * @checked            tests/science/model-rain.test.ts
 */
export function fillGroundRain(air: ColumnAir, probability: Float64Array): void {
  const chance = FREEZING_RAIN_TRUST * air.freezingRainRatio;
  const top = warmOverCold(air) ?? Math.max(hiddenWarmth(air), endOfReach(air));
  for (let cell = 0; cell < air.axis.cellCount; cell += 1) {
    probability[cell] = cell < top && isCold(air, cell) ? chance : 0;
  }
}

/** Lowest cell above 0 degC that has one below 0 degC under it. */
function warmOverCold(air: ColumnAir): number | undefined {
  let hasCold = false;
  for (let cell = 0; cell < air.axis.cellCount; cell += 1) {
    if (hasCold && isWarm(air, cell)) return cell;
    hasCold ||= isCold(air, cell);
  }
  return undefined;
}

/** Highest cell of unknown air that may be warm; -1 without. */
function hiddenWarmth(air: ColumnAir): number {
  let cell = air.axis.cellCount - 1;
  while (cell >= 0 && !isTopOfHiddenWarmth(air, cell)) cell -= 1;
  return cell;
}

/** By pressure, which is there whatever else of the air is lost. */
function endOfReach({ axis, state }: ColumnAir): number {
  const foot = Math.max(
    0,
    state.findIndex((each) => each !== CELL_STATE.belowGround),
  );
  const topM = pressureAltitudeMFromPressurePa(axis.edgePressurePa[foot]!) + GROUND_REACH_M;
  const end = axis.middlePressurePa.findIndex(
    (pressurePa) => pressureAltitudeMFromPressurePa(pressurePa) >= topM,
  );
  return end < 0 ? axis.cellCount : end;
}
