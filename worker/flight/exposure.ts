/** What a flight path meets in the curtain of icing, summed step by step. Unknown air is counted apart. */
import { OUTSIDE_ENVELOPE_RATIO } from '../science/certified-envelope.ts';
import { INTENSITY, INTENSITY_WORDS, LARGE_DROPS } from '../science/columns.ts';
import { type EnvelopeWindows, greatestWindowRatio } from '../science/envelope-windows.ts';
import { airspeedRatio } from '../science/standard-atmosphere.ts';
import { type CellFacts, FACT, knownIndex, type LegAir } from './cell-facts.ts';
import { cellNumber } from './cells.ts';
import {
  addDraws,
  intensitySpreads,
  makePartSums,
  makeWorstSums,
  type PartSums,
  summedDraws,
  summedParts,
} from './draw-sums.ts';
import { ICE_UNLIKELY, shareAbove, spreadOfDraws } from './estimates.ts';
import type { FlightPath, PathStep } from './flight-path.ts';
import { fluidNeeds, takenM3 } from './fluid.ts';
import { type Hazard, reportedOn } from './hazards.ts';
import { addIceAir, type IceAirSums, iceAirOf, makeIceAirSums } from './ice-air.ts';
import { airspeedLeft, climbRateMps, ICED_FROM_M } from './ice-effects.ts';
import { dropsWord, partExposure, taxiPart, worseDrops } from './part-exposure.ts';
import { tableValue } from './performance-table.ts';
import type { PlannedFlown } from './planned.ts';
import { isCloseUnderTops, topsBelow } from './tops-margin.ts';
import type { Aircraft, Exposure, FlightPhase, PartExposure } from './types.ts';

export interface ExposureRequest extends LegAir {
  readonly aircraft: Aircraft;
  readonly path: Extract<FlightPath, { kind: 'path' }>;
  /** Of the same curtain. */
  readonly facts: CellFacts;
  readonly planned: PlannedFlown;
  /** Of the route that the path follows. */
  readonly windows: EnvelopeWindows;
  readonly residualIceM: number;
  /** Reported and warned of on the leg. */
  readonly hazards?: readonly Hazard[];
}

const PHASES: readonly FlightPhase[] = ['climb', 'cruise', 'descent'];

/** Sums while walking that need no draws. */
interface Tally {
  readonly unknownS: { climb: number; cruise: number; descent: number };
  readonly largeDropByPhaseS: { climb: number; cruise: number; descent: number };
  worstLargeDrops: number;
  /** By point: ratio to the design envelope times length, m; NaN once a part is unknown. */
  readonly envelopeM: Float64Array;
  /** By point: length flown over it, m. */
  readonly flownM: Float64Array;
  /** Somewhere the water has no limit to compare with. */
  isOutsideEnvelope: boolean;
  topsMarginM: number;
  topsUnknownS: number;
  belowUnknownS: number;
  underTopsS: number;
  /** Level in expected ice or with some on: least indicated airspeed of a wing without ice, m/s. */
  leastCleanMps: number;
  /** Weighted sums over the cruise with their weights. */
  readonly headwind: { sum: number; weightS: number };
  readonly temperature: { sum: number; weightS: number };
  cruiseM: number;
  highestM: number;
}

export function exposureAt(request: ExposureRequest): Exposure {
  const { drawn, facts } = request;
  const tally = emptyTally(request.icing.columnCount);
  const sums = {
    climb: makePartSums(drawn.drawCount),
    cruise: makePartSums(drawn.drawCount),
    descent: makePartSums(drawn.drawCount),
  };
  const worst = makeWorstSums(drawn.drawCount);
  const iceAir = { climb: makeIceAirSums(), cruise: makeIceAirSums(), descent: makeIceAirSums() };
  for (const step of request.path.steps) {
    const index = knownIndex(facts, step.pointIndex, step.pressureAltitudeM);
    tally.flownM[step.pointIndex]! += step.toM - step.fromM;
    tally.highestM = Math.max(tally.highestM, step.pressureAltitudeM);
    if (index >= 0) {
      addKnownStep(tally, request, { step, index });
      addDraws({ part: sums[step.phase], worst }, drawn, { durationS: step.durationS, index });
      addIceAir(iceAir[step.phase], request, { ...step, index });
    } else {
      tally.unknownS[step.phase] += step.durationS;
      tally.envelopeM[step.pointIndex] = Number.NaN;
    }
    if (step.isLevel) addLevel(tally, request, { step, index });
  }
  return finished(tally, { sums, worst, iceAir }, request);
}

function emptyTally(pointCount: number): Tally {
  return {
    unknownS: { climb: 0, cruise: 0, descent: 0 },
    largeDropByPhaseS: { climb: 0, cruise: 0, descent: 0 },
    worstLargeDrops: LARGE_DROPS.none,
    envelopeM: new Float64Array(pointCount),
    flownM: new Float64Array(pointCount),
    isOutsideEnvelope: false,
    topsMarginM: Number.POSITIVE_INFINITY,
    topsUnknownS: 0,
    belowUnknownS: 0,
    underTopsS: 0,
    leastCleanMps: Number.POSITIVE_INFINITY,
    headwind: { sum: 0, weightS: 0 },
    temperature: { sum: 0, weightS: 0 },
    cruiseM: Number.NaN,
    highestM: Number.NEGATIVE_INFINITY,
  };
}

interface Flown {
  readonly step: PathStep;
  /** Of the cell flown through; -1 where it is unknown. */
  readonly index: number;
}

function addKnownStep(tally: Tally, { icing }: ExposureRequest, { step, index }: Flown): void {
  if (icing.icingProbability[index]! >= ICE_UNLIKELY) addEnvelope(tally, step, icing.envelopeRatio[index]!);
  const largeDrops = icing.largeDrops[index]!;
  if (largeDrops === LARGE_DROPS.none) return;
  tally.largeDropByPhaseS[step.phase] += step.durationS;
  tally.worstLargeDrops = worseDrops(tally.worstLargeDrops, largeDrops);
}

function addEnvelope(tally: Tally, step: PathStep, ratio: number): void {
  tally.envelopeM[step.pointIndex]! += ratio * (step.toM - step.fromM);
  tally.isOutsideEnvelope ||= ratio >= OUTSIDE_ENVELOPE_RATIO;
}

function addLevel(tally: Tally, request: ExposureRequest, { step, index }: Flown): void {
  const { facts, icing, weather, aircraft } = request;
  const { pointIndex, pressureAltitudeM, durationS } = step;
  if (Number.isNaN(tally.cruiseM) || pressureAltitudeM > tally.cruiseM) tally.cruiseM = pressureAltitudeM;
  const below = topsBelow(icing, pointIndex, pressureAltitudeM);
  tally.topsMarginM = Math.min(tally.topsMarginM, below.marginM);
  if (below.isUnknown) tally.topsUnknownS += durationS;
  const gapTop = facts.gapTop[pointIndex]!;
  const isOverGap = gapTop >= 0 && gapTop < cellNumber(facts, pressureAltitudeM);
  if (below.isUnknown || isOverGap) tally.belowUnknownS += durationS;
  if (!Number.isNaN(step.headwindMps)) addWeighted(tally.headwind, step.headwindMps, durationS);
  if (index < 0) return;
  const answers = facts.answers[index]!;
  const temperatureK = weather.temperatureK[index]!;
  addWeighted(tally.temperature, temperatureK, durationS);
  const isInIce = (answers & FACT.expectsIce) !== 0;
  if (!isInIce && step.builtM < ICED_FROM_M) return;
  if (isInIce && isCloseUnderTops(facts, pointIndex, pressureAltitudeM)) tally.underTopsS += durationS;
  const trueMps =
    tableValue(aircraft.trueAirspeedMps, pressureAltitudeM) *
    airspeedLeft(aircraft, { builtM: 0, isSeparatorOn: (answers & FACT.separator) !== 0 });
  tally.leastCleanMps = Math.min(
    tally.leastCleanMps,
    trueMps * airspeedRatio(pressureAltitudeM, temperatureK),
  );
}

function addWeighted(mean: { sum: number; weightS: number }, value: number, weightS: number): void {
  mean.sum += value * weightS;
  mean.weightS += weightS;
}

interface PathSums {
  readonly sums: Record<FlightPhase, PartSums>;
  readonly worst: ReturnType<typeof makeWorstSums>;
  readonly iceAir: Record<FlightPhase, IceAirSums>;
}

function finished(tally: Tally, { sums, worst, iceAir }: PathSums, request: ExposureRequest): Exposure {
  const { aircraft, path, planned } = request;
  const parts = partsFlown(tally, { sums, iceAir }, request);
  const trip = summedParts(PHASES.map((phase) => sums[phase]));
  const onApproach = summedParts([trip, planned.certainSums]);
  const everything = summedParts([trip, planned.sums]);
  const unknownS = PHASES.reduce((sumS, phase) => sumS + tally.unknownS[phase], 0);
  const onApproachUnknownS = unknownS + planned.certainUnknownS;
  const intensityS = intensitySpreads(worst);
  const [climb, cruise, descent] = parts;
  return {
    totalS: path.totalS,
    climbS: path.phaseS.climb,
    cruiseS: path.phaseS.cruise,
    descentS: path.phaseS.descent,
    unknownS,
    icingS: spreadOfDraws(trip.icingS),
    iceChance: shareAbove(trip.icingS, 0),
    expectedIcingS: meanOf(trip.icingS),
    icingHighByPhaseS: {
      climb: climb!.icingS.high,
      cruise: cruise!.icingS.high,
      descent: descent!.icingS.high,
    },
    intensityS,
    worstIntensity: worstMet(intensityS),
    largeDropS: PHASES.reduce((sumS, phase) => sumS + tally.largeDropByPhaseS[phase], 0),
    largeDropByPhaseS: tally.largeDropByPhaseS,
    worstLargeDrops: dropsWord(tally.worstLargeDrops),
    largeDropChance: shareAbove(worst.largeDropS, 0),
    moistureBelowFreezingS: spreadOfDraws(trip.moistS),
    ...carriedIce(tally, request, { sums, trip, onApproach, everything }),
    fluidTripM3: takenM3(aircraft, { sums: trip, unknownS }),
    fluidOnApproachM3: takenM3(aircraft, { sums: onApproach, unknownS: onApproachUnknownS }),
    ...fluidNeeds(aircraft, { sums: everything, unknownS: unknownS + planned.exposure.unknownS }),
    onApproachUnknownS,
    fuelKg: path.fuelKg,
    headwindMps: meanOfWeighted(tally.headwind),
    windUnknownS: path.windUnknownS,
    trueAirspeedMps: tableValue(aircraft.trueAirspeedMps, tally.cruiseM),
    staticTemperatureK: meanOfWeighted(tally.temperature),
    greatestEnvelopeRatio: greatestEnvelopeRatio(tally, request.windows),
    topsMarginM: tally.topsMarginM,
    topsUnknownS: tally.topsUnknownS,
    belowUnknownS: tally.belowUnknownS,
    underTopsS: tally.underTopsS,
    highestM: Math.max(tally.highestM, tally.cruiseM),
    wholeLargeDropChance: shareAbove(summedDraws([worst.largeDropS, planned.largeDropS]), 0),
    planned: planned.exposure,
    parts: [
      taxiPart(aircraft, everything, unknownS + planned.exposure.unknownS),
      ...parts,
      ...planned.exposure.parts,
    ],
  };
}

function partsFlown(
  { unknownS }: Tally,
  { sums, iceAir }: Omit<PathSums, 'worst'>,
  { aircraft, path, hazards = [] }: ExposureRequest,
): PartExposure[] {
  return PHASES.map((part) =>
    partExposure(
      aircraft,
      {
        part,
        altitudeM: undefined,
        durationS: path.phaseS[part],
        unknownS: unknownS[part],
        iceAir: iceAirOf(iceAir[part], aircraft),
        reported: reportedOn(
          path.steps.filter(({ phase }) => phase === part),
          hazards,
        ),
      },
      sums[part],
    ),
  );
}

type IceOnBoard =
  | 'residualIceM'
  | 'builtM'
  | 'builtAloftM'
  | 'builtOnApproachM'
  | 'builtAtLandingM'
  | 'climbedWithM'
  | 'climbLeftMps'
  | 'missedClimbMps'
  | 'leastIcingAirspeedMps';

/** Ice on the aeroplane at one time and another, and what it leaves of speed and climb. */
function carriedIce(
  tally: Tally,
  request: ExposureRequest,
  flown: {
    readonly sums: Record<FlightPhase, PartSums>;
    readonly trip: PartSums;
    readonly onApproach: PartSums;
    readonly everything: PartSums;
  },
): Pick<Exposure, IceOnBoard> {
  const { aircraft, planned, residualIceM } = request;
  const { sums, trip, onApproach, everything } = flown;
  const withResidual = ({ builtM }: PartSums) => spreadOfDraws(builtM.map((each) => each + residualIceM));
  const builtAloftM = spreadOfDraws(summedParts([sums.climb, sums.cruise]).builtM);
  const builtOnApproachM = withResidual(onApproach);
  // A step up is climbed with the ice of everything before it.
  const isStepped = request.path.steps.some(({ phase, isLevel }) => phase === 'cruise' && !isLevel);
  const climbedM = residualIceM + (isStepped ? builtAloftM : spreadOfDraws(sums.climb.builtM)).high;
  return {
    residualIceM,
    builtM: spreadOfDraws(trip.builtM),
    builtAloftM,
    builtOnApproachM,
    builtAtLandingM: withResidual(everything),
    climbedWithM: climbedM,
    climbLeftMps: climbLeftMps(aircraft, tally.cruiseM, climbedM),
    missedClimbMps: climbLeftMps(aircraft, planned.approachM, builtOnApproachM.high),
    leastIcingAirspeedMps: icedAirspeedMps(tally, aircraft, residualIceM + builtAloftM.high),
  };
}

/** Rate of climb with so much ice and the inlet separator on, m/s; Infinity with next to none. */
function climbLeftMps(aircraft: Aircraft, pressureAltitudeM: number, builtM: number): number {
  if (builtM < ICED_FROM_M || Number.isNaN(pressureAltitudeM)) return Number.POSITIVE_INFINITY;
  return climbRateMps(aircraft, pressureAltitudeM, { builtM, isSeparatorOn: true });
}

/** Infinity where no ice is expected on the level. However much ice, it counts in full. */
function icedAirspeedMps({ leastCleanMps }: Tally, aircraft: Aircraft, builtM: number): number {
  if (leastCleanMps === Number.POSITIVE_INFINITY) return leastCleanMps;
  return leastCleanMps * Math.max(0, 1 - aircraft.iceLoss.airspeedPerM * builtM);
}

/** The worst word that a tenth of the draws meets at all. */
function worstMet(intensityS: Exposure['intensityS']): Exposure['worstIntensity'] {
  const met = INTENSITY_WORDS.slice(INTENSITY.trace) as (keyof Exposure['intensityS'])[];
  return met.reverse().find((word) => intensityS[word].high > 0) ?? 'none';
}

const meanOf = (sums: Float64Array): number => sums.reduce((sum, each) => sum + each, 0) / sums.length;
const meanOfWeighted = ({ sum, weightS }: { sum: number; weightS: number }): number => sum / weightS;

function greatestEnvelopeRatio(tally: Tally, windows: EnvelopeWindows): number {
  if (tally.isOutsideEnvelope) return OUTSIDE_ENVELOPE_RATIO;
  return greatestWindowRatio(
    windows,
    tally.envelopeM.map((ratioM, point) => ratioM / tally.flownM[point]!),
  );
}
