/** Exposures made up for tests of the verdict: a flight of an hour that meets nothing, but for what a test says. */
import { fluidNeed } from '../../worker/flight/fluid.ts';
import type { Hazard } from '../../worker/flight/hazards.ts';
import type {
  Aircraft,
  Exposure,
  PartExposure,
  PlannedExposure,
  PlannedPart,
  Spread,
  WaysOut,
} from '../../worker/flight/types.ts';
import { verdictOf } from '../../worker/flight/verdict-rules.ts';
import { makeAircraft } from './make-curtain.ts';

export const NONE: Spread = { low: 0, middle: 0, high: 0 };
export const high = (value: number): Spread => ({ low: 0, middle: 0, high: value });

export const NOTHING_THERE: PlannedExposure = {
  parts: [],
  unknownS: 0,
  largeDropS: 0,
  worstLargeDrops: 'none',
  icingHighS: 0,
  severeHighS: 0,
  hazards: [],
  largeDropPart: undefined,
  severePart: undefined,
};

export const NO_ICE: Exposure = {
  totalS: 3600,
  climbS: 600,
  cruiseS: 2400,
  descentS: 600,
  unknownS: 0,
  icingS: NONE,
  icingHighByPhaseS: { climb: 0, cruise: 0, descent: 0 },
  intensityS: { trace: NONE, light: NONE, moderate: NONE, severe: NONE },
  largeDropS: 0,
  largeDropByPhaseS: { climb: 0, cruise: 0, descent: 0 },
  worstLargeDrops: 'none',
  worstIntensity: 'none',
  moistureBelowFreezingS: NONE,
  builtM: NONE,
  builtAloftM: NONE,
  fluidM3: NONE,
  fluidTripM3: NONE,
  fluidOnApproachM3: NONE,
  onApproachUnknownS: 0,
  expectedIcingS: 0,
  iceChance: 0,
  largeDropChance: 0,
  fluidHighKnownM3: 0,
  fuelKg: 100,
  headwindMps: 0,
  windUnknownS: 0,
  trueAirspeedMps: 90,
  staticTemperatureK: 260,
  greatestEnvelopeRatio: 0,
  topsMarginM: Number.POSITIVE_INFINITY,
  topsUnknownS: 0,
  belowUnknownS: 0,
  underTopsS: 0,
  leastIcingAirspeedMps: Number.POSITIVE_INFINITY,
  climbedWithM: 0,
  climbLeftMps: Number.POSITIVE_INFINITY,
  missedClimbMps: Number.POSITIVE_INFINITY,
  wholeLargeDropChance: 0,
  builtOnApproachM: NONE,
  highestM: 3000,
  residualIceM: 0,
  planned: NOTHING_THERE,
  builtAtLandingM: NONE,
  parts: [],
};

export const NOWHERE_TO_LEAVE: WaysOut = {
  way: ['not-needed', 'not-needed'],
  toAltitudeM: Float64Array.of(Number.NaN, Number.NaN),
  timeS: Float64Array.of(Number.NaN, Number.NaN),
  builtM: Float64Array.of(Number.NaN, Number.NaN),
  aerodrome: [undefined, undefined],
  longestNoneS: 0,
  longestNoneKnownS: 0,
  isMinimumMissing: false,
  failure: undefined,
};

export const ICING: Partial<Exposure> = { icingS: high(600), worstIntensity: 'light' };
/** Up to so many liters needed, all of it in known air. */
export const fluidL = (liters: number): Partial<Exposure> => ({
  fluidM3: high(liters / 1000),
  fluidHighKnownM3: liters / 1000,
});

/** Half an hour of one part that meets nothing but what a test says. */
export function plannedPart(part: PlannedPart, change: Partial<PartExposure> = {}): PartExposure {
  return {
    part,
    altitudeM: undefined,
    durationS: 1800,
    unknownS: 0,
    icingS: NONE,
    moistureBelowFreezingS: NONE,
    builtM: NONE,
    fluidM3: NONE,
    growthMps: undefined,
    catchKgPerM2S: undefined,
    iceAir: undefined,
    reported: [],
    ...change,
  };
}

interface Given {
  readonly aircraft?: Aircraft;
  readonly onBoardL?: number | undefined;
  readonly waysOut?: Partial<WaysOut>;
  readonly hazards?: readonly { readonly hazard: Hazard; readonly metS: number }[];
}

/** The fluid turboprop with 80 L on board, unless a test says otherwise. */
export function verdict(change: Partial<Exposure>, given: Given = {}) {
  const { aircraft, onBoardL } = { aircraft: makeAircraft(), onBoardL: 80, ...given };
  const exposure = { ...NO_ICE, ...change };
  const onBoardM3 = onBoardL === undefined ? undefined : onBoardL / 1000;
  const { code, reasons } = verdictOf({
    exposure,
    aircraft,
    fluid: fluidNeed(aircraft, exposure, onBoardM3),
    waysOut: { ...NOWHERE_TO_LEAVE, ...given.waysOut },
    hazards: given.hazards ?? [],
  });
  return {
    code,
    reasonCodes: reasons.map((reason) => reason.code),
    sentences: reasons.map((reason) => reason.sentence),
    numbers: reasons.map((reason) => reason.numbers),
  };
}
