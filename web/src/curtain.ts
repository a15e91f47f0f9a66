/** Reads single cells of the brief's curtain. A value is a number, or it is not there: nothing is guessed. */
import { ICE_KIND_WORDS, INTENSITY_WORDS, LARGE_DROPS_WORDS } from '../../worker/science/columns.ts';
import type { CurtainAnswer } from './contract.ts';
import type { Properties } from './look.ts';

export type QuantityName =
  | 'temperature'
  | 'relativeHumidityWater'
  | 'height'
  | 'windFrom'
  | 'windSpeed'
  | 'cloudProbability'
  | 'icingProbability'
  | 'liquidWater'
  | 'medianVolumeDiameter'
  | 'wingGrowth'
  | 'rodGrowth'
  | 'intensity'
  | 'iceKind'
  | 'largeDrops'
  | 'envelopeRatio'
  | 'largeDropProbability'
  | 'lightOrWorseProbability'
  | 'moderateOrWorseProbability'
  | 'severeProbability';

export interface Cell {
  readonly state: Properties['state'];
  /** undefined when the answer has no value here; always so unless the state is known. */
  readonly value: (name: QuantityName) => number | undefined;
}

/** Arrays of lengths that do not belong together would put values at the wrong place. */
export function hasConsistentLengths(curtain: CurtainAnswer): boolean {
  const cells = curtain.pointCount * curtain.cellCount;
  const perPoint = [curtain.distanceNm, curtain.etaUtc, curtain.latDeg, curtain.lonDeg];
  return (
    curtain.state.length === cells &&
    perPoint.every((list) => list.length === curtain.pointCount) &&
    Object.values(curtain.quantities).every((quantity) => quantity.values.length === cells)
  );
}

export function cellAt(curtain: CurtainAnswer, pointIndex: number, altitudeFt: number): Cell {
  const cellIndex = Math.floor((altitudeFt - curtain.lowestFt) / curtain.cellDepthFt);
  const isInside = cellIndex >= 0 && cellIndex < curtain.cellCount;
  if (!isInside) return { state: 'outside-profile', value: () => undefined };
  const index = pointIndex * curtain.cellCount + cellIndex;
  const state = curtain.stateWords[curtain.state[index] ?? -1] ?? 'no-data';
  if (state !== 'known') return { state, value: () => undefined };
  const value = (name: QuantityName) => {
    const quantity = curtain.quantities[name];
    const scaled = quantity?.values[index];
    return quantity === undefined || scaled === undefined || scaled === null
      ? undefined
      : scaled * quantity.scale;
  };
  return { state, value };
}

export function nearestPointIndex(distancesNm: readonly number[], distanceNm: number): number {
  let nearest = 0;
  for (let index = 1; index < distancesNm.length; index += 1) {
    const isNearer =
      Math.abs(distancesNm[index]! - distanceNm) < Math.abs(distancesNm[nearest]! - distanceNm);
    if (isNearer) nearest = index;
  }
  return nearest;
}

/** Nothing between the ground and the top of the answer is unknown over this point. */
export function isColumnKnown(curtain: CurtainAnswer, pointIndex: number): boolean {
  const from = pointIndex * curtain.cellCount;
  return curtain.state.slice(from, from + curtain.cellCount).every((code) => {
    const word = curtain.stateWords[code];
    return word === 'known' || word === 'below-ground';
  });
}

/** Each point stands for the stretch to half-way to its neighbors. */
export function stretchOfPoint(
  distancesNm: readonly number[],
  index: number,
): { fromNm: number; toNm: number } {
  const here = distancesNm[index]!;
  const before = distancesNm[index - 1] ?? here;
  const after = distancesNm[index + 1] ?? here;
  return { fromNm: (before + here) / 2, toNm: (here + after) / 2 };
}

/** The cell in the words and shapes of a band, for the one decision on looks. */
export function airOfCell(
  cell: Cell,
): Pick<Properties, 'state' | 'intensity' | 'iceKind' | 'probability' | 'largeDrops'> {
  return {
    state: cell.state,
    intensity: wordAt(INTENSITY_WORDS, cell.value('intensity')),
    iceKind: wordAt(ICE_KIND_WORDS, cell.value('iceKind')),
    probability: cell.value('icingProbability') ?? null,
    largeDrops: wordAt(LARGE_DROPS_WORDS, cell.value('largeDrops')),
  };
}

function wordAt<Word extends string>(words: readonly Word[], code: number | undefined): Word | null {
  return code === undefined ? null : (words[code] ?? null);
}
