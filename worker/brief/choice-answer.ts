/** The choice as the contract gives it: feet, knots, minutes, liters, rounded once. */

import { gaugeTemperatureK } from '../flight/gauge-temperature.ts';
import { type RoundedQuantity, rounded, roundedOrNull } from '../flight/rounding.ts';
import type {
  Aircraft,
  CandidateResult,
  Choice,
  Exposure,
  FluidNeed,
  Spread,
  WayOut,
} from '../flight/types.ts';
import type { BriefMember, Candidate, ExposureAnswer, SpreadAnswer } from '../schema/brief.ts';
import { cFromK, ftFromM, ktFromMps, nmFromM } from '../science/units.ts';

const L_PER_M3 = 1000;
const MM_PER_M = 1000;
/** Less known time than this is none. */
const NO_TIME_S = 1;

export function candidateAnswer(result: CandidateResult, aircraft: Aircraft): Candidate {
  return {
    altitudeFt: wholeFt(result.indicatedAltitudeM),
    direction: result.direction,
    standing: result.standing,
    verdict: result.verdict,
    exposure: result.exposure === undefined ? null : exposureAnswer(result.exposure, aircraft),
    rank: result.rank ?? null,
    reasons: [...result.reasons],
  };
}

function exposureAnswer(exposure: Exposure, aircraft: Aircraft): ExposureAnswer {
  const { intensityS } = exposure;
  const hasKnown = exposure.totalS - exposure.unknownS > NO_TIME_S;
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
    builtMm: spread(exposure.builtM, (m) => api(m * MM_PER_M, 'builtMm')),
    fluidL: aircraft.protection.kind === 'fluid' ? spread(exposure.fluidM3, liters) : null,
    fuelKg: api(exposure.fuelKg, 'fuelKg'),
    headwindKt: roundedOrNull(ktFromMps(exposure.headwindMps), 'speedKt', 'api'),
    trueAirspeedKt: api(ktFromMps(exposure.trueAirspeedMps), 'speedKt'),
    staticTemperatureC: roundedOrNull(cFromK(exposure.staticTemperatureK), 'temperatureC', 'api'),
    gaugeTemperatureC: roundedOrNull(cFromK(gaugeK), 'temperatureC', 'api'),
    greatestEnvelopeRatio: api(exposure.greatestEnvelopeRatio, 'ratio'),
  };
}

export function fileAnswer(file: Choice['file']): BriefMember['file'] {
  if (file === undefined) return null;
  return {
    altitudeFt: wholeFt(file.altitudeM),
    acceptFt: { lowerFt: wholeFt(file.acceptLowerM), upperFt: wholeFt(file.acceptUpperM) },
    reason: file.reason,
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
    coversHighEstimate: fluid.coversHighEstimate,
  };
}

export function wayOutAnswer(way: WayOut): BriefMember['waysOut'][number] {
  return {
    distanceNm: api(nmFromM(way.distanceM), 'distanceNm'),
    way: way.way,
    toAltitudeFt: way.toAltitudeM === undefined ? null : wholeFt(way.toAltitudeM),
  };
}

function spread(value: Spread, convert: (each: number) => number): SpreadAnswer {
  return { low: convert(value.low), middle: convert(value.middle), high: convert(value.high) };
}

const S_PER_MIN = 60;
const api = (value: number, quantity: RoundedQuantity) => rounded(value, quantity, 'api');
const hazardMinutes = (seconds: number) => api(seconds / S_PER_MIN, 'hazardMinutes');
const liters = (cubicMeters: number) => api(cubicMeters * L_PER_M3, 'fluidL');
const wholeFt = (meters: number) => api(ftFromM(meters), 'altitudeFt');
