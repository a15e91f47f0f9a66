/** The choice as the contract gives it: feet, knots, minutes, liters, rounded once. */

import { gaugeTemperatureK } from '../flight/gauge-temperature.ts';
import { type RoundedQuantity, rounded, roundedOrNull } from '../flight/rounding.ts';
import type {
  Aircraft,
  CandidateResult,
  Choice,
  Exposure,
  FailureCase,
  FluidNeed,
  FluidPlan,
  IceAir,
  PartExposure,
  Spread,
  WaysOut,
} from '../flight/types.ts';
import type {
  BriefMember,
  Candidate,
  ExposureAnswer,
  FluidPlanAnswer,
  LaterDeparture,
  PartAnswer,
  SpreadAnswer,
  WaysAnswer,
} from '../schema/brief.ts';
import { cFromK, ftFromM, hPaFromPa, ktFromMps, mmPerMinFromMps, nmFromM } from '../science/units.ts';
import { roundTo } from './round-to.ts';

const L_PER_M3 = 1000;
const MM_PER_M = 1000;
/** Less known time than this is none. */
const NO_TIME_S = 1;

/** @param distanceM  Of the route points. */
export function candidateAnswer(
  result: CandidateResult,
  { aircraft, distanceM }: { readonly aircraft: Aircraft; readonly distanceM: Float64Array },
): Candidate {
  return {
    altitudeFt: wholeFt(result.indicatedAltitudeM),
    profile: profileAnswer(result),
    inWords: result.inWords,
    direction: result.direction,
    isUnderColdMinimum: result.isUnderColdMinimum,
    standing: result.standing,
    verdict: result.verdict,
    exposure: exposureOrNull(result, aircraft),
    flownFt: flownAnswer(result),
    ways: result.waysOut === undefined ? null : waysAnswer(result.waysOut),
    fluidPlan: result.fluidPlan === undefined ? null : fluidPlanAnswer(result.fluidPlan),
    failure: failureAnswer(result.waysOut?.failure, distanceM),
    rank: result.rank ?? null,
    reasons: [...result.reasons],
  };
}

/** The figures of an altitude that a panel of later departures shows. */
export function compactAnswer(
  { indicatedAltitudeM, verdict, standing, exposure }: CandidateResult,
  { protection }: Aircraft,
): LaterDeparture['byAltitude'][number] {
  const hasKnown = exposure !== undefined && exposure.totalS - exposure.unknownS > NO_TIME_S;
  const hasFluid = exposure !== undefined && protection.kind === 'fluid';
  return {
    altitudeFt: wholeFt(indicatedAltitudeM),
    verdict,
    icingMinutes: hasKnown ? spread(exposure.icingS, hazardMinutes) : null,
    unknownMinutes: exposure === undefined ? null : hazardMinutes(exposure.unknownS),
    fluidL: hasFluid ? spread(exposure.fluidM3, liters) : null,
    standing,
  };
}

/** Where each level begins. */
export function profileAnswer({ levels }: CandidateResult): Candidate['profile'] {
  return levels.map(({ fromM, altitudeM }) => ({
    fromNm: api(nmFromM(fromM), 'distanceNm'),
    altitudeFt: wholeFt(altitudeM),
  }));
}

/** Indicated, as every altitude of the answer. */
function flownAnswer({
  flownM,
  indicatedAltitudeM,
  pressureAltitudeM,
}: CandidateResult): Candidate['flownFt'] {
  if (flownM === undefined) return null;
  return Array.from(flownM, (altitudeM) => wholeFt(altitudeM + indicatedAltitudeM - pressureAltitudeM));
}

function exposureOrNull(
  { exposure, indicatedAltitudeM, pressureAltitudeM }: CandidateResult,
  aircraft: Aircraft,
): ExposureAnswer | null {
  if (exposure === undefined) return null;
  const indicatedMinusPressureM = indicatedAltitudeM - pressureAltitudeM;
  return {
    ...exposureAnswer(exposure, aircraft),
    parts: exposure.parts.map((part) =>
      partAnswer(part, { hasFluid: aircraft.protection.kind === 'fluid', indicatedMinusPressureM }),
    ),
  };
}

function exposureAnswer(exposure: Exposure, aircraft: Aircraft): Omit<ExposureAnswer, 'parts'> {
  const { intensityS } = exposure;
  const hasKnown = exposure.totalS - exposure.unknownS > NO_TIME_S;
  const hasFluid = aircraft.protection.kind === 'fluid';
  const gaugeK = gaugeTemperatureK(exposure.staticTemperatureK, exposure.trueAirspeedMps, aircraft);
  return {
    timeMinutes: api(exposure.totalS / S_PER_MIN, 'timeMinutes'),
    climbMinutes: api(exposure.climbS / S_PER_MIN, 'timeMinutes'),
    descentMinutes: api(exposure.descentS / S_PER_MIN, 'timeMinutes'),
    unknownMinutes: hazardMinutes(exposure.unknownS),
    icingMinutes: spread(exposure.icingS, hazardMinutes),
    iceChancePct: hasKnown ? Math.round(exposure.iceChance * 100) : null,
    expectedIcingMinutes: hazardMinutes(exposure.expectedIcingS),
    intensityMinutes: {
      trace: spread(intensityS.trace, hazardMinutes),
      light: spread(intensityS.light, hazardMinutes),
      moderate: spread(intensityS.moderate, hazardMinutes),
      severe: spread(intensityS.severe, hazardMinutes),
    },
    worstIntensity: hasKnown ? exposure.worstIntensity : null,
    largeDropMinutes: hazardMinutes(exposure.largeDropS),
    worstLargeDrops: exposure.worstLargeDrops,
    largeDropChancePct: Math.round(exposure.largeDropChance * 100),
    visibleMoistureBelowFreezingMinutes: spread(exposure.moistureBelowFreezingS, hazardMinutes),
    builtMm: spread(exposure.builtM, millimeters),
    fluidL: hasFluid ? spread(exposure.fluidM3, liters) : null,
    fuelKg: api(exposure.fuelKg, 'fuelKg'),
    headwindKt: roundedOrNull(ktFromMps(exposure.headwindMps), 'speedKt', 'api'),
    windUnknownMinutes: hazardMinutes(exposure.windUnknownS),
    trueAirspeedKt: api(ktFromMps(exposure.trueAirspeedMps), 'speedKt'),
    staticTemperatureC: roundedOrNull(cFromK(exposure.staticTemperatureK), 'temperatureC', 'api'),
    gaugeTemperatureC: roundedOrNull(cFromK(gaugeK), 'temperatureC', 'api'),
    greatestEnvelopeRatio: api(exposure.greatestEnvelopeRatio, 'ratio'),
    leastIcingAirspeedKt: Number.isFinite(exposure.leastIcingAirspeedMps)
      ? api(ktFromMps(exposure.leastIcingAirspeedMps), 'speedKt')
      : null,
    fluidTripL: hasFluid ? spread(exposure.fluidTripM3, liters) : null,
    builtAtLandingMm: spread(exposure.builtAtLandingM, millimeters),
  };
}

function partAnswer(
  part: PartExposure,
  {
    hasFluid,
    indicatedMinusPressureM,
  }: { readonly hasFluid: boolean; readonly indicatedMinusPressureM: number },
): PartAnswer {
  return {
    part: part.part,
    altitudeFt: part.altitudeM === undefined ? null : wholeFt(part.altitudeM),
    minutes: api(part.durationS / S_PER_MIN, 'timeMinutes'),
    unknownMinutes: hazardMinutes(part.unknownS),
    icingMinutes: spread(part.icingS, hazardMinutes),
    visibleMoistureBelowFreezingMinutes: spread(part.moistureBelowFreezingS, hazardMinutes),
    builtMm: spread(part.builtM, millimeters),
    fluidL: hasFluid ? spread(part.fluidM3, liters) : null,
    growthMmPerMin: part.growthMps === undefined ? null : spread(part.growthMps, growthMmPerMin),
    catchGPerM2S: part.catchKgPerM2S === undefined ? null : spread(part.catchKgPerM2S, catchGPerM2S),
    ice: part.iceAir === undefined ? null : iceAirAnswer(part.iceAir, indicatedMinusPressureM),
    reported: [...part.reported],
  };
}

function iceAirAnswer(air: IceAir, indicatedMinusPressureM: number): NonNullable<PartAnswer['ice']> {
  const { alongM } = air;
  return {
    lowerFt: wholeFt(air.lowestM + indicatedMinusPressureM),
    upperFt: wholeFt(air.highestM + indicatedMinusPressureM),
    alongNm:
      alongM === undefined
        ? null
        : [api(nmFromM(alongM.fromM), 'distanceNm'), api(nmFromM(alongM.toM), 'distanceNm')],
    temperatureC: api(cFromK(air.temperatureK), 'temperatureC'),
    pressureHPa: roundTo(hPaFromPa(air.pressurePa), 1),
    trueAirspeedKt: api(ktFromMps(air.trueAirspeedMps), 'speedKt'),
    hasLargeDrops: air.hasLargeDrops,
  };
}

function waysAnswer(ways: WaysOut): WaysAnswer {
  return {
    way: [...ways.way],
    toAltitudeFt: Array.from(ways.toAltitudeM, (altitudeM) =>
      Number.isNaN(altitudeM) ? null : wholeFt(altitudeM),
    ),
    minutes: Array.from(ways.timeS, (timeS) => roundedOrNull(timeS / S_PER_MIN, 'hazardMinutes', 'api')),
    builtMm: Array.from(ways.builtM, (builtM) => roundedOrNull(builtM * MM_PER_M, 'builtMm', 'api')),
    aerodrome: ways.aerodrome.map((name) => name ?? null),
  };
}

function fluidPlanAnswer(plan: FluidPlan): FluidPlanAnswer {
  const minutesOrNull = (seconds: number | undefined) =>
    seconds === undefined ? null : api(seconds / S_PER_MIN, 'timeMinutes');
  return {
    enduranceNormalMinutes: minutesOrNull(plan.enduranceNormalS),
    enduranceHighMinutes: minutesOrNull(plan.enduranceHighS),
    runsOutNm: plan.runsOutM === undefined ? null : api(nmFromM(plan.runsOutM), 'distanceNm'),
    on: plan.onStretches.map(({ fromM, toM, setting }) => ({
      fromNm: api(nmFromM(fromM), 'distanceNm'),
      toNm: api(nmFromM(toM), 'distanceNm'),
      setting,
    })),
    weightKg: plan.weightKg === undefined ? null : api(plan.weightKg, 'fuelKg'),
    bursts: plan.bursts ?? null,
  };
}

function failureAnswer(failure: FailureCase | undefined, distanceM: Float64Array): Candidate['failure'] {
  if (failure === undefined) return null;
  return {
    distanceNm: api(nmFromM(distanceM[failure.pointIndex]!), 'distanceNm'),
    builtMm: api(failure.builtM * MM_PER_M, 'builtMm'),
    minutes: api(failure.timeS / S_PER_MIN, 'timeMinutes'),
    way: failure.way,
  };
}

export function fileAnswer(file: Choice['file']): BriefMember['file'] {
  if (file === undefined) return null;
  return {
    altitudeFt: wholeFt(file.altitudeM),
    acceptFt: { lowerFt: wholeFt(file.acceptLowerM), upperFt: wholeFt(file.acceptUpperM) },
    reason: file.reason,
    acceptReason: file.acceptReason,
    refuse: file.refuse.map((each) => ({ altitudeFt: wholeFt(each.altitudeM), reason: each.reason })),
  };
}

/** null without a fluid system, or when the request does not say what is carried. */
export function fluidAnswer(fluid: FluidNeed | undefined): BriefMember['fluid'] {
  if (fluid?.onBoardM3 === undefined) return null;
  return {
    onBoardL: liters(fluid.onBoardM3),
    neededL: spread(fluid.neededM3, liters),
    minimumDispatchL: liters(fluid.minimumDispatchM3),
    reserveL: liters(fluid.reserveM3),
    windshieldL: liters(fluid.windshieldM3),
    coversHighEstimate: fluid.coversHighEstimate,
  };
}

export function waysOutAnswer(ways: WaysOut | undefined, distanceM: Float64Array): BriefMember['waysOut'] {
  if (ways === undefined) return [];
  const { way, toAltitudeFt, minutes, builtMm, aerodrome } = waysAnswer(ways);
  return way.map((each, point) => ({
    distanceNm: api(nmFromM(distanceM[point]!), 'distanceNm'),
    way: each,
    toAltitudeFt: toAltitudeFt[point]!,
    minutes: minutes[point]!,
    builtMm: builtMm[point]!,
    aerodrome: aerodrome[point]!,
  }));
}

function spread(value: Spread, convert: (each: number) => number): SpreadAnswer {
  return { low: convert(value.low), middle: convert(value.middle), high: convert(value.high) };
}

const S_PER_MIN = 60;
const api = (value: number, quantity: RoundedQuantity) => rounded(value, quantity, 'api');
const hazardMinutes = (seconds: number) => api(seconds / S_PER_MIN, 'hazardMinutes');
const growthMmPerMin = (metersPerS: number) => api(mmPerMinFromMps(metersPerS), 'growthMmPerMin');
const catchGPerM2S = (kgPerM2S: number) => api(kgPerM2S * 1000, 'catchGPerM2S');
const millimeters = (meters: number) => api(meters * MM_PER_M, 'builtMm');
const liters = (cubicMeters: number) => api(cubicMeters * L_PER_M3, 'fluidL');
const wholeFt = (meters: number) => api(ftFromM(meters), 'altitudeFt');
