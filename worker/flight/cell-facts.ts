/**
 * What the flight asks of each cell again and again, worked out once for a curtain: what the draws hold on average, and yes or
 * no to a few questions. One byte of answers and a few numbers a cell.
 */
import {
  type AltitudeAxis,
  CELL_STATE,
  type IcingColumns,
  INTENSITY,
  LARGE_DROPS,
  type WeatherColumns,
} from '../science/columns.ts';
import { FREEZING_K } from '../science/constants.ts';
import { type DrawnIcing, intensityOfMark, MARK } from '../science/drawn-icing.ts';
import { mFromFt } from '../science/units.ts';
import { cellNumber } from './cells.ts';
import { needsHighFlow } from './draw-sums.ts';
import { ICE_EXPECTED, ICE_POSSIBLE, ICE_UNLIKELY } from './estimates.ts';

/** Bits of the answers. */
export const FACT = {
  /** Known in both curtains, and every number that will be compared is one. */
  known: 1,
  ground: 2,
  /** Enough to ask for a way out. */
  mayHaveIce: 4,
  /** Too much to get out to. */
  hasIce: 8,
  /** The top of such cells counts as the expected top. */
  expectsIce: 16,
  /** Severe icing, or large drops that are named. */
  danger: 32,
  /** Visible moisture at +5 degC or colder: the inlet separator is on. */
  separator: 64,
} as const;

/** Inlet separators are on in visible moisture at or below this (common practice: +5 degC). */
const SEPARATOR_FROM_K = FREEZING_K + 5;
/** Cloud at least so probable counts as visible moisture ahead. */
export const CLOUD_EXPECTED = 0.4;
/** Severe in at least this part of the draws is a danger of the cell. */
const SEVERE_FROM = 0.1;

export interface CellFacts {
  readonly cellCount: number;
  readonly lowestM: number;
  readonly cellDepthM: number;
  /** [point][cell], see FACT. */
  readonly answers: Uint8Array;
  /** [point][cell]: growth on the unprotected wing, mean over the draws, m/s; 0 where unknown. */
  readonly growthMps: Float32Array;
  /** [point][cell]: part of the draws with ice, 0-1; 0 where unknown. */
  readonly iceRatio: Float32Array;
  /** [point][cell]: part of the draws with visible moisture below freezing, 0-1; 0 where unknown. */
  readonly moistRatio: Float32Array;
  /** [point][cell]: part of the draws that ask for the high setting of the fluid, 0-1; 0 where unknown. */
  readonly highFlowRatio: Float32Array;
  /** By point: the highest unknown cell that has a known one under it or is of a deep stretch over the ground; -1 without such a gap. */
  readonly gapTop: Int16Array;
}

export interface LegAir {
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly drawn: DrawnIcing;
}

export function makeCellFacts({ weather, icing, drawn }: LegAir): CellFacts {
  const { cellCount, lowestM, cellDepthM } = icing.axis;
  const count = icing.state.length;
  const answers = new Uint8Array(count);
  const growthMps = new Float32Array(count);
  const iceRatio = new Float32Array(count);
  const highFlowRatio = new Float32Array(count);
  const moistRatio = new Float32Array(count);
  const { drawCount, marks } = drawn;
  for (let index = 0; index < count; index += 1) {
    if (icing.state[index] === CELL_STATE.belowGround) answers[index] = FACT.ground;
    if (!isFullyKnown(icing, weather, index)) continue;
    let iceDraws = 0;
    let severeDraws = 0;
    let moistDraws = 0;
    let highFlowDraws = 0;
    let growthSumMps = 0;
    const first = index * drawCount;
    for (let at = first; at < first + drawCount; at += 1) {
      const mark = marks[at]!;
      if ((mark & MARK.moist) !== 0) moistDraws += 1;
      if ((mark & MARK.ice) === 0) continue;
      iceDraws += 1;
      growthSumMps += drawn.growthMps[at]!;
      const intensity = intensityOfMark(mark);
      if (intensity === INTENSITY.severe) severeDraws += 1;
      if (needsHighFlow(intensity, drawn.catchKgPerM2S[at]!)) highFlowDraws += 1;
    }
    iceRatio[index] = iceDraws / drawCount;
    moistRatio[index] = moistDraws / drawCount;
    growthMps[index] = growthSumMps / drawCount;
    highFlowRatio[index] = highFlowDraws / drawCount;
    answers[index] = answersOf(icing, weather, index, severeDraws / drawCount);
  }
  return {
    cellCount,
    lowestM,
    cellDepthM,
    answers,
    growthMps,
    iceRatio,
    moistRatio,
    highFlowRatio,
    gapTop: gapTops(answers, icing.axis),
  };
}

/** Under the lowest level of its data a column is unknown for less than this, and nothing is made of it (judgement), m. */
const SHALLOW_M = mFromFt(1500);

function gapTops(answers: Uint8Array, { cellCount, lowestM, cellDepthM }: AltitudeAxis): Int16Array {
  const gapTop = new Int16Array(answers.length / cellCount).fill(-1);
  gapTop.forEach((_, point) => {
    let isOverKnown = false;
    let unknownM = 0;
    for (let cell = 0; cell < cellCount; cell += 1) {
      const each = answers[point * cellCount + cell]!;
      if ((each & FACT.known) !== 0) isOverKnown = true;
      else if ((each & FACT.ground) === 0) {
        // There is no air to speak of under the sea.
        unknownM += Math.min(cellDepthM, Math.max(0, lowestM + (cell + 1) * cellDepthM));
        if (isOverKnown || unknownM > SHALLOW_M) gapTop[point] = cell;
      }
    }
  });
  return gapTop;
}

function isFullyKnown(icing: IcingColumns, weather: WeatherColumns, index: number): boolean {
  if (icing.state[index] !== CELL_STATE.known || weather.state[index] !== CELL_STATE.known) return false;
  return Number.isFinite(
    icing.icingProbability[index]! +
      icing.cloudProbability[index]! +
      icing.largeDropProbability[index]! +
      icing.wingGrowthMps[index]! +
      icing.wingCatchKgPerM2S[index]! +
      weather.temperatureK[index]!,
  );
}

function answersOf(icing: IcingColumns, weather: WeatherColumns, index: number, severeRatio: number): number {
  const ice = icing.icingProbability[index]!;
  const cloud = icing.cloudProbability[index]!;
  const temperatureK = weather.temperatureK[index]!;
  const hasLargeDrops = icing.largeDrops[index] !== LARGE_DROPS.none;
  const isSevere =
    severeRatio >= SEVERE_FROM || (icing.intensity[index] === INTENSITY.severe && ice >= ICE_POSSIBLE);
  return (
    FACT.known |
    (ice >= ICE_POSSIBLE || hasLargeDrops ? FACT.mayHaveIce : 0) |
    (ice >= ICE_UNLIKELY || hasLargeDrops ? FACT.hasIce : 0) |
    (ice >= ICE_EXPECTED || hasLargeDrops ? FACT.expectsIce : 0) |
    (isSevere || hasLargeDrops ? FACT.danger : 0) |
    (cloud >= CLOUD_EXPECTED && temperatureK <= SEPARATOR_FROM_K ? FACT.separator : 0)
  );
}

/** Index of the known cell that is flown through at a pressure altitude over a point; -1 where the air is unknown. */
export function knownIndex(facts: CellFacts, point: number, pressureAltitudeM: number): number {
  const index = flownIndex(facts, point, cellNumber(facts, pressureAltitudeM));
  return index >= 0 && (facts.answers[index]! & FACT.known) !== 0 ? index : -1;
}

/** The same cell, or the lowest one above the ground that stands for a cell below it; -1 outside the axis. */
export function flownIndex(facts: CellFacts, point: number, cell: number): number {
  if (!(cell >= 0 && cell < facts.cellCount)) return -1;
  const offset = point * facts.cellCount;
  for (let above = cell; above < facts.cellCount; above += 1) {
    if ((facts.answers[offset + above]! & FACT.ground) === 0) return offset + above;
  }
  return -1;
}
