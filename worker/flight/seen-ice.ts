/**
 * What somebody sees grow, against what was forecast: how much water that is, how hard it is on the wing, whether the fluid and
 * the way out still do. It never says stay: less ice than forecast takes nothing back.
 */
import { INTENSITY_WORDS, type IntensityWord } from '../science/columns.ts';
import { leadingEdge, type Part } from '../science/growth.ts';
import { intensityOfGrowth, screenedGrowthMps } from '../science/intensity.ts';
import {
  accretionOfWater,
  type ObservedIce,
  observedWater,
  type WaterEstimate,
} from '../science/observed-growth.ts';
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
  readonly air: WingAir;
  readonly signs: readonly LargeDropSign[];
  /** Ice stays on a protected edge; undefined: not said. */
  readonly isProtectionBehind: boolean;
}

/** What was planned for here. */
export interface SeenPlan {
  readonly isCertifiedForIcing: boolean;
  /** On the wing while in ice, m/s; no-ice where none is forecast, unknown without a forecast. */
  readonly forecast:
    | { readonly kind: 'ice'; readonly wingGrowthMps: Spread }
    | { readonly kind: 'no-ice' }
    | { readonly kind: 'unknown' };
  /** undefined without a fluid system; leftM3 undefined where nobody says. */
  readonly fluid: { readonly protection: FluidProtection; readonly leftM3: number | undefined } | undefined;
  /** Until out by the way that is known from here, s; undefined where none is known. */
  readonly outS: number | undefined;
  /** Ice still ahead on the path as it is planned, s; undefined where the path leads through unknown air. */
  readonly aheadS: number | undefined;
}

/** On the unprotected wing; beyond: more than the model makes of any water. */
export type SeenOnWing =
  | {
      readonly kind: 'found';
      readonly liquidWaterKgPerM3: number;
      readonly growthMps: number;
      readonly intensity: IntensityWord;
      readonly needsHigh: boolean;
    }
  | { readonly kind: 'beyond' };

export type SeenForecast = 'more' | 'within' | 'less' | 'unknown';

export interface SeenAnswer {
  /** On the part that was watched, m/s. */
  readonly growthMps: Spread;
  readonly onWing: { readonly low: SeenOnWing; readonly middle: SeenOnWing; readonly high: SeenOnWing };
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
  const water = observedWater(seen, { ...seen.air, part: seen.part });
  const onWing = {
    low: wingOf(water.low, seen.air),
    middle: wingOf(water.middle, seen.air),
    high: wingOf(water.high, seen.air),
  };
  const growthMps = {
    low: water.low.growthMps,
    middle: water.middle.growthMps,
    high: water.high.growthMps,
  };
  const fluid = fluidOf(onWing, plan.fluid);
  const judged = {
    growthMps,
    onWing,
    againstForecast: compared(onWing.middle, plan.forecast),
    fluid,
    untilOutM:
      plan.outS === undefined
        ? undefined
        : { middle: growthMps.middle * plan.outS, high: growthMps.high * plan.outS },
  };
  return { ...judged, leave: leaveReasons(judged, seen, plan) };
}

function wingOf({ liquidWaterKgPerM3, dropletNumberPerM3 }: WaterEstimate, air: WingAir): SeenOnWing {
  if (liquidWaterKgPerM3 === undefined) return { kind: 'beyond' };
  const part = leadingEdge(air.wingNoseRadiusM);
  const { catchKgPerM2S, freezingFraction, growthMps } = accretionOfWater(liquidWaterKgPerM3, {
    ...air,
    dropletNumberPerM3,
    part,
  });
  const code =
    liquidWaterKgPerM3 > 0 ? intensityOfGrowth(screenedGrowthMps(catchKgPerM2S, freezingFraction)) : 0;
  return {
    kind: 'found',
    liquidWaterKgPerM3,
    growthMps,
    intensity: INTENSITY_WORDS[code]!,
    needsHigh: needsHighFlow(code, catchKgPerM2S),
  };
}

function compared(wing: SeenOnWing, forecast: SeenPlan['forecast']): SeenForecast {
  if (wing.kind === 'beyond') return 'more';
  if (forecast.kind === 'unknown') return 'unknown';
  if (forecast.kind === 'no-ice') return wing.growthMps > 0 ? 'more' : 'within';
  const { low, high } = forecast.wingGrowthMps;
  if (wing.growthMps > high) return 'more';
  return wing.growthMps < low ? 'less' : 'within';
}

/** The setting that the high estimate asks for: a film that is overrun protects nothing. */
function fluidOf(onWing: SeenAnswer['onWing'], fluid: SeenPlan['fluid']): SeenFluid | undefined {
  if (fluid === undefined) return undefined;
  const { protection, leftM3 } = fluid;
  const needsHigh = onWing.high.kind === 'beyond' || onWing.high.needsHigh;
  const flowM3PerS = needsHigh ? protection.highFlowM3PerS : protection.normalFlowM3PerS;
  const reserveM3 = protection.windshieldM3 + protection.normalFlowM3PerS * protection.reserveS;
  return {
    setting: needsHigh ? 'high' : 'normal',
    lastsS: leftM3 === undefined ? undefined : enduranceS({ usableM3: leftM3, reserveM3, flowM3PerS }),
  };
}

function leaveReasons(judged: Omit<SeenAnswer, 'leave'>, seen: SeenIce, plan: SeenPlan): FlightReason[] {
  return [
    ...signReasons(seen),
    ...strengthReasons(judged, plan),
    ...fluidReasons(judged.fluid, plan),
    ...(plan.outS === undefined && seen.thicknessM > 0
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

function strengthReasons(
  { onWing, againstForecast }: Omit<SeenAnswer, 'leave'>,
  { isCertifiedForIcing }: SeenPlan,
): FlightReason[] {
  const { middle, high } = onWing;
  const isAny = middle.kind === 'beyond' || middle.growthMps > 0;
  const reasons: FlightReason[] = [];
  if (!isCertifiedForIcing && isAny)
    reasons.push(reason('not-certified', 'The aeroplane is not certified for ice: leave at once', {}));
  if (middle.kind === 'beyond')
    reasons.push(
      reason('beyond-model', 'More than cloud makes in this air: count it as severe and leave at once', {}),
    );
  else if (middle.intensity === 'severe')
    reasons.push(reason('severe', 'Severe on the wing: leave at once', wingNumbers(middle)));
  else if (high.kind === 'beyond' || high.intensity === 'severe')
    reasons.push(
      reason('may-be-severe', 'May be severe on the wing: leave, and measure again', wingNumbers(middle)),
    );
  if (againstForecast === 'more' && middle.kind === 'found' && middle.intensity !== 'severe')
    reasons.push(
      reason(
        'worse-than-forecast',
        'Worse than forecast: leave while the way out is open',
        wingNumbers(middle),
      ),
    );
  if (againstForecast === 'unknown' && isAny)
    reasons.push(reason('no-forecast', 'Ice where nothing is forecast for certain: leave', {}));
  return reasons;
}

const wingNumbers = ({ growthMps }: { readonly growthMps: number }) => ({
  wingMmPerMin: Math.round(millimetersOf(growthMps) * 60 * 100) / 100,
});

function fluidReasons(fluid: SeenFluid | undefined, { outS, aheadS }: SeenPlan): FlightReason[] {
  if (fluid?.lastsS === undefined) return [];
  const lastsMinutes = Math.floor(minutesOf(fluid.lastsS));
  const numbers = { lastsMinutes };
  if (outS !== undefined && fluid.lastsS < outS)
    return [reason('fluid-short-of-way', 'The fluid ends before the way out does: leave at once', numbers)];
  if (aheadS === undefined)
    return fluid.lastsS === 0
      ? [reason('fluid-at-reserve', 'The fluid is down to the reserve: leave', numbers)]
      : [];
  if (fluid.lastsS >= aheadS) return [];
  const aheadMinutes = Math.ceil(minutesOf(aheadS));
  const sentence = `The fluid lasts ${lastsMinutes} min, the ice ahead ${aheadMinutes} min: leave before it ends`;
  return [reason('fluid-short-of-ice', sentence, { ...numbers, aheadMinutes })];
}
