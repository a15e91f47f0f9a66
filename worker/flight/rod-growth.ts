/** What the forecast growth on the wing means for a rod that the pilot can see, and from which ice on it is worse than forecast. */
import { leadingEdge, rod } from '../science/growth.ts';
import { SEVERE_ABOVE_MPS } from '../science/intensity.ts';
import { type GrowthConditions, growthOfWaterMps, waterOfGrowth } from '../science/observed-growth.ts';
import type { IceAir, Spread } from './types.ts';

/** Air in which ice is met, and the wing that the forecast is for. */
export interface WingAir extends Pick<IceAir, 'temperatureK' | 'pressurePa' | 'trueAirspeedMps'> {
  readonly dropletNumberPerM3: number;
  readonly wingNoseRadiusM: number;
}

/** The draws are colder than the mean by less than this, K: growth that no such air makes is not turned into any. */
const COLDEST_BY_K = 8;
const STEP_K = 0.5;

/**
 * Growth on a rod in air that makes so much on the wing: through the water that makes it, in the air as it is on average or, near
 * 0 °C where that makes too little, in the warmest colder air that makes it.
 *
 * @param wingGrowthMps  m/s, 0 or more.
 * @returns              m/s; undefined where no such air makes so much.
 * @checked              tests/flight/rod-growth.test.ts
 */
export function rodGrowthMps(wingGrowthMps: number, air: WingAir, rodRadiusM: number): number | undefined {
  for (let colderK = 0; colderK <= COLDEST_BY_K; colderK += STEP_K) {
    const conditions: GrowthConditions = {
      ...air,
      temperatureK: air.temperatureK - colderK,
      part: leadingEdge(air.wingNoseRadiusM),
    };
    const found = waterOfGrowth(wingGrowthMps, conditions);
    if (found.kind === 'found')
      return growthOfWaterMps(found.liquidWaterKgPerM3, { ...conditions, part: rod(rodRadiusM) });
  }
  return undefined;
}

/** So much ice on the rod within so long. */
export interface IceWatch {
  readonly thicknessM: number;
  readonly durationS: number;
}

const S_PER_MIN = 60;
/**
 * Times that a pilot can keep in mind; how thick ice must be to be judged against a known rod, and how thick so that rounding to
 * whole millimeters takes little of it (judgement).
 */
const WATCHED_MIN = [1, 2, 5, 10] as const;
const READABLE_M = 0.002;
const WELL_READABLE_M = 0.003;
const WHOLE_M = 0.001;
/** The dust of binary fractions is no millimeter. */
const DUST_M = 1e-9;

/** @returns the shortest time in which so much grows that it can be read well, in whole mm and never less than grows. */
export function worseThan(growthMps: number): IceWatch {
  const durationS = watchedS(growthMps, WELL_READABLE_M);
  const grownM = growthMps * durationS;
  return { thicknessM: Math.max(WHOLE_M, Math.ceil((grownM - DUST_M) / WHOLE_M) * WHOLE_M), durationS };
}

/** @returns the same for a limit, as soon as it can be read at all: in whole mm and never more than it. */
export function limitOf(growthMps: number): IceWatch {
  const durationS = watchedS(growthMps, READABLE_M);
  const grownM = growthMps * durationS;
  return { thicknessM: Math.max(WHOLE_M, Math.floor((grownM + DUST_M) / WHOLE_M) * WHOLE_M), durationS };
}

function watchedS(growthMps: number, readableM: number): number {
  const minutes = WATCHED_MIN.find((each) => growthMps * each * S_PER_MIN >= readableM - DUST_M);
  return (minutes ?? WATCHED_MIN.at(-1)!) * S_PER_MIN;
}

/** What to look for on the rod on one part of a flight. */
export interface RodCue {
  /** While in ice; undefined where the model makes no such growth. */
  readonly growthMps: Spread | undefined;
  /** undefined with it. */
  readonly worse: IceWatch | undefined;
  /** Where the wing's growth is severe; undefined where no such air makes it. */
  readonly severe: IceWatch | undefined;
}

/** @param wingGrowthMps  Of the forecast, while in ice. */
export function rodCue(wingGrowthMps: Spread, air: WingAir, rodRadiusM: number): RodCue {
  const onRod = (growthMps: number) => rodGrowthMps(growthMps, air, rodRadiusM);
  const [low, middle, high] = [
    onRod(wingGrowthMps.low),
    onRod(wingGrowthMps.middle),
    onRod(wingGrowthMps.high),
  ];
  const severeMps = onRod(SEVERE_ABOVE_MPS);
  const isKnown = low !== undefined && middle !== undefined && high !== undefined;
  return {
    growthMps: isKnown ? { low, middle, high } : undefined,
    worse: high === undefined ? undefined : worseThan(high),
    severe: severeMps === undefined ? undefined : limitOf(severeMps),
  };
}
