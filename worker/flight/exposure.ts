/** What a flight path meets in the curtain of icing, summed step by step. Unknown air is counted apart. */
import { OUTSIDE_ENVELOPE_RATIO } from '../science/certified-envelope.ts';
import {
  CELL_STATE,
  type IcingColumns,
  INTENSITY,
  INTENSITY_WORDS,
  type IntensityWord,
  LARGE_DROPS,
  LARGE_DROPS_WORDS,
  type WeatherColumns,
} from '../science/columns.ts';
import { FREEZING_K } from '../science/constants.ts';
import { mpsFromInPerH } from '../science/units.ts';
import { tableValue } from './aircraft.ts';
import { cellAt } from './cells.ts';
import { type EnvelopeWindows, greatestWindowRatio } from './envelope-windows.ts';
import { AMOUNT_FACTORS, ESTIMATE_COUNT, PROBABILITY_THRESHOLDS, spreadOf } from './estimates.ts';
import type { FlightPath, PathStep } from './flight-path.ts';
import { neededM3 } from './fluid.ts';
import { topsBelow } from './tops-margin.ts';
import type { Aircraft, Exposure, Spread } from './types.ts';

/** From this growth on fluid flows at the high setting: the lower end of moderate icing, AIM 7-1-19. */
const HIGH_FLOW_GROWTH_MPS = mpsFromInPerH(1);
/** To turn caught water into the thickness it would have if all of it froze; 880-917 kg/m3 in use. */
const ICE_DENSITY_KG_PER_M3 = 917;

export interface ExposureRequest {
  readonly aircraft: Aircraft;
  readonly path: Extract<FlightPath, { kind: 'path' }>;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  /** Of the route that the path follows. */
  readonly windows: EnvelopeWindows;
}

/** Sums while walking; arrays of three hold low, middle and high. */
interface Tally {
  unknownS: number;
  knownS: number;
  expectedIcingS: number;
  largeDropS: number;
  worstLargeDrops: number;
  worstIntensity: number;
  readonly icingS: Float64Array;
  readonly moistS: Float64Array;
  readonly highFlowS: Float64Array;
  readonly builtM: Float64Array;
  readonly caughtKgPerM2: Float64Array;
  /** [estimate][intensity code]. */
  readonly intensityS: Float64Array;
  readonly icingHighByPhaseS: { climb: number; cruise: number; descent: number };
  readonly largeDropByPhaseS: { climb: number; cruise: number; descent: number };
  /** By point: ratio to the design envelope times length, m; NaN once a part is unknown. */
  readonly envelopeM: Float64Array;
  /** By point: length flown over it, m. */
  readonly flownM: Float64Array;
  /** Somewhere the water has no limit to compare with. */
  isOutsideEnvelope: boolean;
  topsMarginM: number;
  topsUnknownS: number;
}

export function exposureAt(request: ExposureRequest): Exposure {
  const tally = emptyTally(request.icing.columnCount);
  for (const step of request.path.steps) {
    const index = flownCell(request, step);
    tally.flownM[step.pointIndex]! += step.toM - step.fromM;
    if (index === undefined || !isFullyKnown(request, index)) addUnknownStep(tally, step);
    else addKnownStep(tally, request, { step, index });
    if (step.phase === 'cruise') lookBelow(tally, request, step);
  }
  return finished(tally, request);
}

function emptyTally(pointCount: number): Tally {
  return {
    unknownS: 0,
    knownS: 0,
    expectedIcingS: 0,
    largeDropS: 0,
    worstLargeDrops: 0,
    worstIntensity: 0,
    icingS: new Float64Array(ESTIMATE_COUNT),
    moistS: new Float64Array(ESTIMATE_COUNT),
    highFlowS: new Float64Array(ESTIMATE_COUNT),
    builtM: new Float64Array(ESTIMATE_COUNT),
    caughtKgPerM2: new Float64Array(ESTIMATE_COUNT),
    intensityS: new Float64Array(ESTIMATE_COUNT * INTENSITY_WORDS.length),
    icingHighByPhaseS: { climb: 0, cruise: 0, descent: 0 },
    largeDropByPhaseS: { climb: 0, cruise: 0, descent: 0 },
    envelopeM: new Float64Array(pointCount),
    flownM: new Float64Array(pointCount),
    isOutsideEnvelope: false,
    topsMarginM: Number.POSITIVE_INFINITY,
    topsUnknownS: 0,
  };
}

/** The cell flown through. Cells below the ground are not flown: the lowest one above it stands for them. */
function flownCell(request: ExposureRequest, step: PathStep): number | undefined {
  const { axis, state } = request.icing;
  const cell = cellAt(axis, step.pressureAltitudeM);
  if (cell === undefined) return undefined;
  const offset = step.pointIndex * axis.cellCount;
  for (let above = cell; above < axis.cellCount; above += 1) {
    if (state[offset + above] !== CELL_STATE.belowGround) return offset + above;
  }
  return undefined;
}

/** Known in both curtains, and every number that will be compared is one. */
function isFullyKnown({ icing, weather }: ExposureRequest, index: number): boolean {
  if (icing.state[index] !== CELL_STATE.known || weather.state[index] !== CELL_STATE.known) return false;
  return Number.isFinite(
    icing.icingProbability[index]! +
      icing.cloudProbability[index]! +
      icing.wingGrowthMps[index]! +
      icing.wingCatchKgPerM2S[index]! +
      weather.temperatureK[index]!,
  );
}

function addUnknownStep(tally: Tally, step: PathStep): void {
  tally.unknownS += step.durationS;
  tally.envelopeM[step.pointIndex] = Number.NaN;
}

function addKnownStep(
  tally: Tally,
  { icing, weather }: ExposureRequest,
  { step, index }: { readonly step: PathStep; readonly index: number },
): void {
  const { durationS } = step;
  const isFreezing = weather.temperatureK[index]! < FREEZING_K;
  const cloudProbability = isFreezing ? icing.cloudProbability[index]! : 0;
  const icingProbability = icing.icingProbability[index]!;
  tally.knownS += durationS;
  tally.expectedIcingS += durationS * icingProbability;
  for (let estimate = 0; estimate < ESTIMATE_COUNT; estimate += 1) {
    const threshold = PROBABILITY_THRESHOLDS[estimate]!;
    const isIcing = icingProbability >= threshold;
    if (isIcing) addIcing(tally, icing, { estimate, index, durationS });
    if (!isIcing && !(cloudProbability >= threshold)) continue;
    tally.moistS[estimate]! += durationS;
    if (isIcing && needsHighFlow(icing, index, estimate)) tally.highFlowS[estimate]! += durationS;
  }
  if (icingProbability >= PROBABILITY_THRESHOLDS[2]) {
    tally.icingHighByPhaseS[step.phase] += durationS;
    tally.worstIntensity = Math.max(tally.worstIntensity, countedIntensity(icing, index));
    addEnvelope(tally, step, icing.envelopeRatio[index]!);
  }
  const largeDrops = icing.largeDrops[index]!;
  if (largeDrops !== LARGE_DROPS.none) {
    tally.largeDropS += durationS;
    tally.largeDropByPhaseS[step.phase] += durationS;
  }
  if (dropRank(largeDrops) > dropRank(tally.worstLargeDrops)) tally.worstLargeDrops = largeDrops;
}

function addIcing(
  tally: Tally,
  icing: IcingColumns,
  { estimate, index, durationS }: { estimate: number; index: number; durationS: number },
): void {
  const amountS = durationS * AMOUNT_FACTORS[estimate]!;
  tally.icingS[estimate]! += durationS;
  tally.intensityS[estimate * INTENSITY_WORDS.length + countedIntensity(icing, index)]! += durationS;
  tally.builtM[estimate]! += icing.wingGrowthMps[index]! * amountS;
  tally.caughtKgPerM2[estimate]! += icing.wingCatchKgPerM2S[index]! * amountS;
}

function addEnvelope(tally: Tally, step: PathStep, ratio: number): void {
  tally.envelopeM[step.pointIndex]! += ratio * (step.toM - step.fromM);
  tally.isOutsideEnvelope ||= ratio >= OUTSIDE_ENVELOPE_RATIO;
}

/** Worst last. Ice pellets tell of freezing rain above and count as large drops, but the drops themselves are worse. */
const DROPS_BY_HARM: readonly number[] = [
  LARGE_DROPS.none,
  LARGE_DROPS.icePellets,
  LARGE_DROPS.freezingDrizzle,
  LARGE_DROPS.freezingRain,
];
const dropRank = (code: number): number => DROPS_BY_HARM.indexOf(code);

/** Ice that is probable enough to count is at least a trace, however little grows. */
function countedIntensity(icing: IcingColumns, index: number): number {
  return Math.max(INTENSITY.trace, icing.intensity[index]!);
}

/** The fluid must cope with the water caught, also where little of it freezes. */
function needsHighFlow(icing: IcingColumns, index: number, estimate: number): boolean {
  if (icing.intensity[index]! >= INTENSITY.moderate) return true;
  const allFrozenMps = icing.wingCatchKgPerM2S[index]! / ICE_DENSITY_KG_PER_M3;
  const growthMps = Math.max(icing.wingGrowthMps[index]!, allFrozenMps) * AMOUNT_FACTORS[estimate]!;
  return growthMps >= HIGH_FLOW_GROWTH_MPS;
}

function lookBelow(tally: Tally, { icing }: ExposureRequest, step: PathStep): void {
  const below = topsBelow(icing, step.pointIndex, step.pressureAltitudeM);
  tally.topsMarginM = Math.min(tally.topsMarginM, below.marginM);
  if (below.isUnknown) tally.topsUnknownS += step.durationS;
}

function finished(tally: Tally, { aircraft, path, weather, windows }: ExposureRequest): Exposure {
  const { phaseS } = path;
  const cruiseAltitudeM = path.steps.find((step) => step.phase === 'cruise')?.pressureAltitudeM ?? Number.NaN;
  return {
    totalS: path.totalS,
    climbS: phaseS.climb,
    cruiseS: phaseS.cruise,
    descentS: phaseS.descent,
    unknownS: tally.unknownS,
    icingS: spreadOf(tally.icingS),
    expectedIcingS: tally.expectedIcingS,
    icingHighByPhaseS: tally.icingHighByPhaseS,
    intensityS: intensitySpreads(tally),
    largeDropS: tally.largeDropS,
    largeDropByPhaseS: tally.largeDropByPhaseS,
    worstLargeDrops: LARGE_DROPS_WORDS[tally.worstLargeDrops] ?? 'none',
    worstIntensity: INTENSITY_WORDS[tally.worstIntensity] ?? 'none',
    moistureBelowFreezingS: spreadOf(tally.moistS),
    builtM: spreadOf(tally.builtM),
    caughtKgPerM2: spreadOf(tally.caughtKgPerM2),
    ...fluidSums(tally, aircraft),
    fuelKg: path.fuelKg,
    headwindMps: cruiseMean(path.steps, (step) => step.headwindMps),
    windUnknownS: path.windUnknownS,
    trueAirspeedMps: tableValue(aircraft.trueAirspeedMps, cruiseAltitudeM),
    staticTemperatureK: cruiseMean(path.steps, (step) => temperatureAt(weather, step)),
    greatestEnvelopeRatio: greatestEnvelopeRatio(tally, windows),
    topsMarginM: tally.topsMarginM,
    topsUnknownS: tally.topsUnknownS,
  };
}

function greatestEnvelopeRatio(tally: Tally, windows: EnvelopeWindows): number {
  if (tally.isOutsideEnvelope) return OUTSIDE_ENVELOPE_RATIO;
  return greatestWindowRatio(
    windows,
    tally.envelopeM.map((ratioM, point) => ratioM / tally.flownM[point]!),
  );
}

/** `none` turns round: least time outside ice goes with the high estimate of ice. */
function intensitySpreads(tally: Tally): Record<IntensityWord, Spread> {
  const at = (code: number) =>
    spreadOf([0, 1, 2].map((estimate) => tally.intensityS[estimate * INTENSITY_WORDS.length + code]!));
  const [lowS, middleS, highS] = tally.icingS;
  return {
    none: spreadOf([highS!, middleS!, lowS!].map((icingS) => Math.max(0, tally.knownS - icingS))),
    trace: at(INTENSITY.trace),
    light: at(INTENSITY.light),
    moderate: at(INTENSITY.moderate),
    severe: at(INTENSITY.severe),
  };
}

/** Unknown air flows at the normal setting in the high estimate. */
function fluidSums(tally: Tally, aircraft: Aircraft): Pick<Exposure, 'fluidM3' | 'fluidHighKnownM3'> {
  const { protection } = aircraft;
  if (protection.kind !== 'fluid') return { fluidM3: spreadOf([0, 0, 0]), fluidHighKnownM3: 0 };
  const needed = (estimate: number, unknownS: number) => {
    const highS = tally.highFlowS[estimate]!;
    return neededM3(protection, { normalS: Math.max(0, tally.moistS[estimate]! - highS) + unknownS, highS });
  };
  return {
    fluidM3: spreadOf([needed(0, 0), needed(1, 0), needed(2, tally.unknownS)]),
    fluidHighKnownM3: needed(2, 0),
  };
}

/** Time-weighted mean over the cruise steps that have a value; NaN when none has. */
function cruiseMean(steps: readonly PathStep[], meanOf: (step: PathStep) => number): number {
  let sum = 0;
  let weightS = 0;
  for (const step of steps) {
    const value = step.phase === 'cruise' ? meanOf(step) : Number.NaN;
    if (Number.isNaN(value)) continue;
    sum += value * step.durationS;
    weightS += step.durationS;
  }
  return sum / weightS;
}

function temperatureAt(weather: WeatherColumns, step: PathStep): number {
  const cell = cellAt(weather.axis, step.pressureAltitudeM);
  if (cell === undefined) return Number.NaN;
  const index = step.pointIndex * weather.axis.cellCount + cell;
  return weather.state[index] === CELL_STATE.known ? weather.temperatureK[index]! : Number.NaN;
}
