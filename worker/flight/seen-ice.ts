/**
 * What somebody sees grow, against what was forecast: how much water that is, how hard it is on the wing, whether the fluid and
 * the way out still do. It never says stay: less ice than forecast takes nothing back, and signs count where no air is known.
 */
import { INTENSITY_WORDS, type IntensityWord } from '../science/columns.ts';
import { FREEZING_K } from '../science/constants.ts';
import { DROPLET_NUMBER_FACTOR } from '../science/droplets.ts';
import { leadingEdge, type Part } from '../science/growth.ts';
import { intensityOfGrowth, screenedGrowthMps } from '../science/intensity.ts';
import { accretionOfWater, type ObservedIce, waterOfGrowth } from '../science/observed-growth.ts';
import { needsHighFlow } from './draw-sums.ts';
import { enduranceS } from './fluid.ts';
import type { WingAir } from './rod-growth.ts';
import type { FlightReason, FluidProtection, Spread } from './types.ts';
import { millimetersOf, minutesOf, reason } from './words.ts';

/** Signs of large drops, in general words after AC 91-74B and the airworthiness directives of 1996. */
export const LARGE_DROP_SIGNS = ['rain-or-splash', 'ice-aft', 'side-window', 'spinner'] as const;
export type LargeDropSign = (typeof LARGE_DROP_SIGNS)[number];

export interface SeenIce extends ObservedIce {
  /** That the ice is on. */
  readonly part: Part;
  /** As it is flown through; undefined where nobody knows it. */
  readonly air: WingAir | undefined;
  readonly signs: readonly LargeDropSign[];
  /** Ice stays on a protected edge. */
  readonly isProtectionBehind: boolean;
}

/** What was planned for here. */
export interface SeenPlan {
  /** undefined where the aeroplane is not known. */
  readonly isCertifiedForIcing: boolean | undefined;
  /** Caught on the wing while in ice, kg/m2/s; no-ice where none is forecast, unknown without a forecast. */
  readonly forecast:
    | { readonly kind: 'ice'; readonly catchKgPerM2S: Spread }
    /** Named: they are left at their first sign, which any ice is. */
    | { readonly kind: 'large-drops' }
    | { readonly kind: 'no-ice' }
    | { readonly kind: 'unknown' };
  /** undefined without a fluid system; leftM3 undefined where nobody says. */
  readonly fluid: { readonly protection: FluidProtection; readonly leftM3: number | undefined } | undefined;
  /** Until out by the way that is known from here, s; undefined where none is known. */
  readonly outS: number | undefined;
  /** Still ahead on the path as it is planned, s: air that may hold ice, and air that nobody knows. */
  readonly ahead: { readonly iceS: number; readonly unknownS: number };
}

/** On the unprotected wing; beyond: more than the model makes of any water. */
export type SeenOnWing =
  | {
      readonly kind: 'found';
      readonly liquidWaterKgPerM3: number;
      readonly growthMps: number;
      readonly catchKgPerM2S: number;
      /** By the catch, as everywhere else. */
      readonly intensity: IntensityWord;
      /** By the growth alone: what a pilot reports. */
      readonly rateWord: IntensityWord;
      readonly needsHigh: boolean;
    }
  | { readonly kind: 'beyond' };

export interface SeenEstimates {
  readonly low: SeenOnWing;
  readonly middle: SeenOnWing;
  readonly high: SeenOnWing;
}

export type SeenForecast = 'more' | 'within' | 'less' | 'unknown';

export interface SeenAnswer {
  /** On the part that was watched, m/s. */
  readonly growthMps: Spread;
  /** undefined where the air is not known. */
  readonly onWing: SeenEstimates | undefined;
  readonly againstForecast: SeenForecast;
  readonly fluid: SeenFluid | undefined;
  /** On the part until out by the way from here, at the middle and the high estimate, m; undefined without a known way. */
  readonly untilOutM: { readonly middle: number; readonly high: number } | undefined;
  /** Why to leave; empty where nothing asks for it, which is no leave to stay. */
  readonly leave: readonly FlightReason[];
}

export interface SeenFluid {
  readonly setting: 'normal' | 'high';
  /** Before the reserve and a clearing of the windshield; undefined where nobody says what is left. */
  readonly lastsS: number | undefined;
}

/** @checked tests/flight/seen-ice.test.ts */
export function judgeSeenIce(seen: SeenIce, plan: SeenPlan): SeenAnswer {
  const rate = (thicknessM: number) => Math.max(0, thicknessM) / seen.durationS;
  const growthMps = {
    low: rate(seen.thicknessM - seen.readingM),
    middle: rate(seen.thicknessM),
    high: rate(seen.thicknessM + seen.readingM),
  };
  const onWing = seen.air && estimatesOf(growthMps, seen.part, seen.air);
  const judged = {
    growthMps,
    onWing,
    againstForecast: onWing === undefined ? ('unknown' as const) : compared(onWing, plan.forecast),
    fluid: fluidOf(needsHigh(onWing, seen), plan.fluid),
    untilOutM:
      plan.outS === undefined
        ? undefined
        : { middle: growthMps.middle * plan.outS, high: growthMps.high * plan.outS },
  };
  return { ...judged, leave: leaveReasons(judged, seen, plan) };
}

const NUMBER_FACTORS = [1 / DROPLET_NUMBER_FACTOR, 1, DROPLET_NUMBER_FACTOR];

/** The reading may be off, and drops few or many: for the wing few large ones are the worst, so each is tried. */
function estimatesOf(growthMps: Spread, part: Part, air: WingAir): SeenEstimates {
  const tried = (growth: number) =>
    NUMBER_FACTORS.map((factor) =>
      wingOf(growth, part, { ...air, dropletNumberPerM3: air.dropletNumberPerM3 * factor }),
    ).sort((a, b) => harmOf(a) - harmOf(b));
  return {
    low: tried(growthMps.low)[0]!,
    middle: wingOf(growthMps.middle, part, air),
    high: tried(growthMps.high).at(-1)!,
  };
}

const harmOf = (wing: SeenOnWing) => (wing.kind === 'beyond' ? Number.MAX_VALUE : wing.catchKgPerM2S);

function wingOf(growthMps: number, part: Part, air: WingAir): SeenOnWing {
  const found = waterOfGrowth(growthMps, { ...air, part });
  if (found.kind === 'beyond') return found;
  const { liquidWaterKgPerM3 } = found;
  const onWing = accretionOfWater(liquidWaterKgPerM3, { ...air, part: leadingEdge(air.wingNoseRadiusM) });
  const { catchKgPerM2S, freezingFraction } = onWing;
  const isAny = liquidWaterKgPerM3 > 0;
  const code = isAny ? intensityOfGrowth(screenedGrowthMps(catchKgPerM2S, freezingFraction)) : 0;
  return {
    kind: 'found',
    liquidWaterKgPerM3,
    growthMps: onWing.growthMps,
    catchKgPerM2S,
    intensity: INTENSITY_WORDS[code]!,
    rateWord: INTENSITY_WORDS[isAny ? intensityOfGrowth(onWing.growthMps) : 0]!,
    needsHigh: needsHighFlow(code, catchKgPerM2S),
  };
}

/** By the water caught, which tells them apart near 0 °C too. */
function compared({ middle, high }: SeenEstimates, forecast: SeenPlan['forecast']): SeenForecast {
  if (middle.kind === 'beyond') return 'more';
  if (forecast.kind === 'unknown' || forecast.kind === 'large-drops') return 'unknown';
  if (forecast.kind === 'no-ice') return middle.catchKgPerM2S > 0 ? 'more' : 'within';
  if (middle.catchKgPerM2S > forecast.catchKgPerM2S.high) return 'more';
  return high.kind === 'found' && high.catchKgPerM2S < forecast.catchKgPerM2S.low ? 'less' : 'within';
}

/** By the high estimate, and where nobody knows, an edge does not come free or drops are large: a film that is overrun protects nothing. */
function needsHigh(onWing: SeenEstimates | undefined, { signs, isProtectionBehind }: SeenIce): boolean {
  if (onWing === undefined || signs.length > 0 || isProtectionBehind) return true;
  return onWing.high.kind === 'beyond' || onWing.high.needsHigh;
}

function fluidOf(isHigh: boolean, fluid: SeenPlan['fluid']): SeenFluid | undefined {
  if (fluid === undefined) return undefined;
  const { protection, leftM3 } = fluid;
  const flowM3PerS = isHigh ? protection.highFlowM3PerS : protection.normalFlowM3PerS;
  const reserveM3 = protection.windshieldM3 + protection.normalFlowM3PerS * protection.reserveS;
  return {
    setting: isHigh ? 'high' : 'normal',
    lastsS: leftM3 === undefined ? undefined : enduranceS({ usableM3: leftM3, reserveM3, flowM3PerS }),
  };
}

type Judged = Omit<SeenAnswer, 'leave'>;

function leaveReasons(judged: Judged, seen: SeenIce, plan: SeenPlan): FlightReason[] {
  const isAny = seen.thicknessM > 0 || seen.signs.length > 0 || seen.isProtectionBehind;
  return [
    ...signReasons(seen),
    ...(isAny && plan.isCertifiedForIcing === false
      ? [reason('not-certified', 'The aeroplane is not certified for ice: leave at once', {})]
      : []),
    ...(isAny && plan.forecast.kind === 'large-drops'
      ? [reason('large-drops-forecast', 'Ice where large drops are forecast: leave at once', {})]
      : []),
    ...strengthReasons(judged, seen, plan),
    ...(seen.thicknessM >= MUCH_ICE_M
      ? [reason('much-ice', 'Much is on already: leave before more comes, mind speed and climb', {})]
      : []),
    ...fluidReasons(judged.fluid, plan),
    ...(isAny && plan.outS === undefined
      ? [reason('no-known-way', 'No way out is known from here: ask for one now', {})]
      : []),
  ];
}

function signReasons({ signs, isProtectionBehind }: SeenIce): FlightReason[] {
  const reasons: FlightReason[] = [];
  if (signs.length > 0)
    reasons.push(
      reason('large-drop-signs', 'Signs of large drops: leave at once, ask for priority', {
        signs: signs.join(' '),
      }),
    );
  if (isProtectionBehind)
    reasons.push(
      reason('protection-behind', 'Ice stays on a protected edge: that is severe, leave at once', {}),
    );
  return reasons;
}

/** Ice that takes some knots (judgement). */
const MUCH_ICE_M = 0.005;

function strengthReasons(
  { onWing, againstForecast }: Judged,
  { thicknessM, air }: SeenIce,
  { outS, forecast }: SeenPlan,
): FlightReason[] {
  if (thicknessM === 0) return [];
  if (air !== undefined && air.temperatureK >= FREEZING_K)
    return [
      reason(
        'warm-air',
        'Ice does not fit air that warm: check place and gauge, and count it as severe until then',
        {},
      ),
    ];
  if (onWing === undefined)
    return [reason('air-unknown', 'How hard it is cannot be told without the air: count it as severe', {})];
  const { middle, high } = onWing;
  if (middle.kind === 'beyond')
    return [
      reason(
        'beyond-model',
        'More than cloud makes in this air: count it as severe and leave at once; enter the gauge, it may be colder',
        {},
      ),
    ];
  if (middle.intensity === 'severe')
    return [reason('severe', 'Severe on the wing: leave at once', wingNumbers(middle))];
  const reasons: FlightReason[] = [];
  if (high.kind === 'beyond' || high.intensity === 'severe')
    reasons.push(
      reason('may-be-severe', 'May be severe on the wing: leave, and measure again', wingNumbers(middle)),
    );
  if (againstForecast === 'more') {
    const how = outS === undefined ? 'leave' : 'leave while the way out is open';
    reasons.push(reason('worse-than-forecast', `Worse than forecast: ${how}`, wingNumbers(middle)));
  }
  if (forecast.kind === 'unknown')
    reasons.push(reason('no-forecast', 'Ice where nothing is forecast for certain: leave', {}));
  return reasons;
}

const wingNumbers = ({ growthMps }: { readonly growthMps: number }) => ({
  wingMmPerMin: Math.round(millimetersOf(growthMps) * 60 * 100) / 100,
});

/** Air that nobody knows counts as ice. */
function fluidReasons(fluid: SeenFluid | undefined, { outS, ahead }: SeenPlan): FlightReason[] {
  if (fluid?.lastsS === undefined) return [];
  const lastsMinutes = Math.floor(minutesOf(fluid.lastsS));
  const numbers = { lastsMinutes };
  if (fluid.lastsS === 0)
    return [reason('fluid-at-reserve', 'The fluid is down to the reserve: leave at once', numbers)];
  if (outS !== undefined && fluid.lastsS < outS)
    return [reason('fluid-short-of-way', 'The fluid ends before the way out does: leave at once', numbers)];
  const aheadS = ahead.iceS + ahead.unknownS;
  if (fluid.lastsS >= aheadS) return [];
  const aheadMinutes = Math.ceil(minutesOf(aheadS));
  const what = ahead.unknownS > 0 ? 'ice and unknown air ahead' : 'ice ahead';
  const sentence = `The fluid lasts ${lastsMinutes} min, the ${what} ${aheadMinutes} min: leave before it ends`;
  return [reason('fluid-short-of-ice', sentence, { ...numbers, aheadMinutes })];
}
