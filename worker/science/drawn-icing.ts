/** The shape of drawn icing: many curtains in one, of which each cell keeps only what sums over a leg need. */
import { type AltitudeAxis, CELL_STATE, type IcingColumns } from './columns.ts';

/** Bits of a mark; the bits from INTENSITY_SHIFT up hold the INTENSITY code. */
export const MARK = { moist: 1, ice: 2, largeDrops: 4 } as const;
const INTENSITY_SHIFT = 3;

export interface DrawnIcing {
  readonly drawCount: number;
  readonly columnCount: number;
  readonly axis: AltitudeAxis;
  /** [point][cell][draw], see MARK. Says nothing where the pooled curtain's state is not known. */
  readonly marks: Uint8Array;
  /** [point][cell][draw] on the wing, m/s and kg/m2/s; 0 without ice. */
  readonly growthMps: Float32Array;
  readonly catchKgPerM2S: Float32Array;
  /**
   * [point][cell]: part of the draws with at least this intensity, errors of place included. NaN where not known.
   */
  readonly probabilityAtLeast: {
    readonly trace: Float32Array;
    readonly light: Float32Array;
    readonly moderate: Float32Array;
    readonly severe: Float32Array;
  };
}

/** Draws without anything in them. */
export function emptyDrawnIcing(axis: AltitudeAxis, columnCount: number, drawCount: number): DrawnIcing {
  const count = columnCount * axis.cellCount;
  const shares = () => new Float32Array(count).fill(Number.NaN);
  return {
    drawCount,
    columnCount,
    axis,
    marks: new Uint8Array(drawCount * count),
    growthMps: new Float32Array(drawCount * count),
    catchKgPerM2S: new Float32Array(drawCount * count),
    probabilityAtLeast: { trace: shares(), light: shares(), moderate: shares(), severe: shares() },
  };
}

export function markOf(bits: number, intensity: number): number {
  return bits | (intensity << INTENSITY_SHIFT);
}

/** INTENSITY code of a mark. */
export function intensityOfMark(mark: number): number {
  return mark >> INTENSITY_SHIFT;
}

/** Fills probabilityAtLeast from the marks. */
export function countIntensities(drawn: DrawnIcing, state: Uint8Array): void {
  const { drawCount, marks, probabilityAtLeast } = drawn;
  const levels = [
    probabilityAtLeast.trace,
    probabilityAtLeast.light,
    probabilityAtLeast.moderate,
    probabilityAtLeast.severe,
  ];
  const counts = new Uint16Array(levels.length + 1);
  for (let index = 0; index < state.length; index += 1) {
    if (state[index] !== CELL_STATE.known) continue;
    counts.fill(0);
    for (let draw = 0; draw < drawCount; draw += 1) {
      counts[intensityOfMark(marks[index * drawCount + draw]!)]! += 1;
    }
    let atLeast = 0;
    for (let level = levels.length - 1; level >= 0; level -= 1) {
      atLeast += counts[level + 1]!;
      levels[level]![index] = atLeast / drawCount;
    }
  }
}

/** From this part of the draws on, ice that only an error of place brings counts in a cell: fewer may be chance. */
const RAISED_FROM = 0.1;

/**
 * Raises the chance of ice of each cell to what the draws have there, errors of place included, so that picture, ways out and
 * figures speak of the same ice. The chance of cloud is never less.
 *
 * @param icing  Pooled; changed.
 * @param drawn  Draws of the same curtain.
 */
export function raiseToDraws(
  icing: Pick<IcingColumns, 'state' | 'icingProbability' | 'cloudProbability'>,
  drawn: DrawnIcing,
): void {
  const { trace } = drawn.probabilityAtLeast;
  for (let index = 0; index < icing.state.length; index += 1) {
    if (icing.state[index] !== CELL_STATE.known || !(trace[index]! >= RAISED_FROM)) continue;
    icing.icingProbability[index] = Math.max(icing.icingProbability[index]!, trace[index]!);
    icing.cloudProbability[index] = Math.max(icing.cloudProbability[index]!, trace[index]!);
  }
}
