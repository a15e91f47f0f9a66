/** What the water of the forecast means for a rod that the pilot can see, and from which ice on it is worse than forecast. */
import { INTENSITY } from '../science/columns.ts';
import { DROPLET_NUMBER_FACTOR } from '../science/droplets.ts';
import { type Accretion, leadingEdge, rod } from '../science/growth.ts';
import { intensityOfGrowth, LEAST_FREEZING, screenedGrowthMps } from '../science/intensity.ts';
import {
  accretionOfWater,
  type GrowthConditions,
  leastWaterKgPerM3,
  MOST_WATER_KG_PER_M3,
} from '../science/observed-growth.ts';
import { needsHighFlow } from './draw-sums.ts';
import type { IceAir, Spread } from './types.ts';

/** Air in which ice is met, and the wing that the forecast is for. */
export interface WingAir extends Pick<IceAir, 'temperatureK' | 'pressurePa' | 'trueAirspeedMps'> {
  readonly dropletNumberPerM3: number;
  readonly wingNoseRadiusM: number;
}

/** So much ice on the rod within so long. */
export interface IceWatch {
  readonly thicknessM: number;
  readonly durationS: number;
}

/** What to look for on the rod on one part of a flight. */
export interface RodCue {
  /** While in ice, m/s. */
  readonly growthMps: Spread;
  /** Near 0 °C: the rod shows little of the water, which freezes where it is colder. Then no limit on it holds. */
  readonly showsLittle: boolean;
  /** So much or more is worse than forecast; undefined where that is severe anyway, or the rod shows little. */
  readonly worse: IceWatch | undefined;
  /** So much is severe on the wing; undefined where the rod shows little, or no cloud makes it. */
  readonly severe: IceWatch | undefined;
  /** The same for the high setting of a fluid system. */
  readonly high: IceWatch | undefined;
}

export interface RodAir extends WingAir {
  /** True airspeed that the part is flown at; the forecast is for trueAirspeedMps. */
  readonly flownMps: number;
}

/**
 * Through the water that makes the forecast's catch on the wing; catch, since near 0 °C growth tells little of water.
 *
 * @param catchKgPerM2S  On the wing, kg/m2/s, while in ice.
 * @checked              tests/flight/rod-growth.test.ts
 */
export function rodCue(catchKgPerM2S: Spread, air: RodAir, rodRadiusM: number): RodCue {
  const onRod = (caught: number) => onRodOf(waterOfCatch(caught, air), air, rodRadiusM);
  const [low, middle, high] = [
    onRod(catchKgPerM2S.low),
    onRod(catchKgPerM2S.middle),
    onRod(catchKgPerM2S.high),
  ];
  const showsLittle = high.catchKgPerM2S > 0 && high.freezingFraction < LEAST_FREEZING;
  const severe = showsLittle ? undefined : limitOn(isSevere, air, rodRadiusM);
  const worse = showsLittle ? undefined : worseThan(high.growthMps);
  return {
    growthMps: { low: low.growthMps, middle: middle.growthMps, high: high.growthMps },
    showsLittle,
    worse: worse !== undefined && severe !== undefined && isAsFast(worse, severe) ? undefined : worse,
    severe,
    high: showsLittle ? undefined : limitOn(asksForHigh, air, rodRadiusM),
  };
}

const wingConditions = (air: WingAir): GrowthConditions => ({
  ...air,
  part: leadingEdge(air.wingNoseRadiusM),
});

/** More than any cloud makes counts as the most that one holds. */
function waterOfCatch(caught: number, air: WingAir): number {
  const conditions = wingConditions(air);
  const found = leastWaterKgPerM3((water) => accretionOfWater(water, conditions).catchKgPerM2S >= caught);
  return found ?? MOST_WATER_KG_PER_M3;
}

function onRodOf(water: number, air: RodAir, rodRadiusM: number): Accretion {
  return accretionOfWater(water, {
    ...air,
    trueAirspeedMps: air.flownMps,
    part: rod(rodRadiusM),
  });
}

type Judgement = (onWing: Accretion) => boolean;

const intensityOn = ({ catchKgPerM2S, freezingFraction }: Accretion) =>
  intensityOfGrowth(screenedGrowthMps(catchKgPerM2S, freezingFraction));
const isSevere: Judgement = (onWing) => intensityOn(onWing) === INTENSITY.severe;
const asksForHigh: Judgement = (onWing) => needsHighFlow(intensityOn(onWing), onWing.catchKgPerM2S);

/**
 * Growth on the rod in the least water that the wing is judged so in: the least of few large drops, as many as assumed and many
 * small ones. undefined where the rod does not show it.
 */
function limitOn(judgement: Judgement, air: RodAir, rodRadiusM: number): IceWatch | undefined {
  const rates = [1 / DROPLET_NUMBER_FACTOR, 1, DROPLET_NUMBER_FACTOR].flatMap((factor) => {
    const one = {
      ...air,
      trueAirspeedMps: air.flownMps,
      dropletNumberPerM3: air.dropletNumberPerM3 * factor,
    };
    const conditions = wingConditions(one);
    const water = leastWaterKgPerM3((each) => judgement(accretionOfWater(each, conditions)));
    return water === undefined ? [] : [onRodOf(water, one, rodRadiusM).growthMps];
  });
  if (rates.length === 0) return undefined;
  return limitOf(Math.min(...rates));
}

const S_PER_MIN = 60;
/**
 * Times that a pilot can keep in mind; how thick ice must be to be judged against a known rod, and how thick so that rounding to
 * whole millimeters adds little to it (judgement).
 */
const WATCHED_MIN = [1, 2, 5, 10] as const;
const READABLE_M = 0.002;
const WELL_READABLE_M = 0.003;
const WHOLE_M = 0.001;
/** The dust of binary fractions is no millimeter. */
const DUST_M = 1e-9;

/** @returns the shortest time in which so much grows that it can be read well: as much in whole mm as the growth makes, or the next. */
export function worseThan(growthMps: number): IceWatch {
  const durationS = watchedS(growthMps, WELL_READABLE_M) ?? WATCHED_MIN.at(-1)! * S_PER_MIN;
  const grownM = growthMps * durationS;
  return { thicknessM: Math.max(WHOLE_M, Math.ceil((grownM - DUST_M) / WHOLE_M) * WHOLE_M), durationS };
}

/** @returns the same for a limit, as soon as it can be read at all, never more than it; undefined where it never can. */
export function limitOf(growthMps: number): IceWatch | undefined {
  const durationS = watchedS(growthMps, READABLE_M);
  if (durationS === undefined) return undefined;
  return { thicknessM: Math.floor((growthMps * durationS + DUST_M) / WHOLE_M) * WHOLE_M, durationS };
}

function watchedS(growthMps: number, readableM: number): number | undefined {
  const minutes = WATCHED_MIN.find((each) => growthMps * each * S_PER_MIN >= readableM - DUST_M);
  return minutes && minutes * S_PER_MIN;
}

const isAsFast = (one: IceWatch, other: IceWatch) =>
  one.thicknessM / one.durationS >= other.thicknessM / other.durationS;
