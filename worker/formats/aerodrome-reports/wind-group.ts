/** Group dddffGfmfm and the extreme directions dndndnVdxdxdx (regulations 15.5 and 51.3). */
import { ktFromMps } from '../../science/units.ts';
import type { Bound, SpeedUnit, Wind } from './conditions.ts';

const WIND = /^(VRB|\d{3}|\/{3})(P?\d{2,3}|\/{2,3})(?:G(P?\d{2,3}|\/\/))?(KT|MPS|KMH)$/;
const EXTREME_DIRECTIONS = /^(\d{3})V(\d{3})$/;

/** Regulation 15.5.6 goes as far as P99KT; a measured speed beyond this is a fault of the line. */
const MOST_KT = 250;
const KT_OF: Readonly<Record<SpeedUnit, number>> = { KT: 1, MPS: ktFromMps(1), KMH: 1 / 1.852 };

/** @returns  undefined when the group is no wind, or one that cannot be. */
export function readWind(group: string): Wind | undefined {
  const match = WIND.exec(group);
  if (match === null) return undefined;
  const unit = match[4] as SpeedUnit;
  const speed = readSpeed(match[2]!, unit);
  const gust = match[3] === undefined ? NO_SPEED : readSpeed(match[3], unit);
  const isVariable = match[1] === 'VRB';
  const directionDeg = isVariable || match[1]!.startsWith('/') ? null : Number(match[1]);
  if ((directionDeg ?? 0) > 360 || (speed.kt ?? 0) > MOST_KT || (gust.kt ?? 0) > MOST_KT) return undefined;
  return {
    directionDeg,
    isVariable,
    speedKt: speed.kt,
    speedBound: speed.bound,
    gustKt: gust.kt,
    gustBound: gust.bound,
    variableFromDeg: null,
    variableToDeg: null,
    unit,
  };
}

/** A wind of which nothing was observed: slashes, or M in the place of the group. */
export const WIND_NOT_OBSERVED: Wind = {
  directionDeg: null,
  isVariable: false,
  speedKt: null,
  speedBound: 'exact',
  gustKt: null,
  gustBound: 'exact',
  variableFromDeg: null,
  variableToDeg: null,
  unit: 'KT',
};

/** @returns  the wind with its extreme directions; undefined when the group is not theirs. */
export function withExtremeDirections(wind: Wind, group: string): Wind | undefined {
  const match = EXTREME_DIRECTIONS.exec(group);
  if (match === null || wind.variableFromDeg !== null) return undefined;
  const variableFromDeg = Number(match[1]);
  const variableToDeg = Number(match[2]);
  if (variableFromDeg > 360 || variableToDeg > 360) return undefined;
  return { ...wind, variableFromDeg, variableToDeg };
}

interface Speed {
  readonly kt: number | null;
  readonly bound: Bound;
}

const NO_SPEED: Speed = { kt: null, bound: 'exact' };

function readSpeed(figures: string, unit: SpeedUnit): Speed {
  if (figures.startsWith('/')) return NO_SPEED;
  const isAbove = figures.startsWith('P');
  return {
    kt: Number(isAbove ? figures.slice(1) : figures) * KT_OF[unit],
    bound: isAbove ? 'above' : 'exact',
  };
}
