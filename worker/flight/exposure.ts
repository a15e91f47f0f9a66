/** What a flight path meets in the curtain of icing, summed step by step. Unknown air is counted apart. */
import { OUTSIDE_ENVELOPE_RATIO } from '../science/certified-envelope.ts';
import {
  CELL_STATE,
  type IcingColumns,
  INTENSITY,
  INTENSITY_WORDS,
  LARGE_DROPS,
  LARGE_DROPS_WORDS,
  type WeatherColumns,
} from '../science/columns.ts';
import type { DrawnIcing } from '../science/drawn-icing.ts';
import { type EnvelopeWindows, greatestWindowRatio } from '../science/envelope-windows.ts';
import { tableValue } from './aircraft.ts';
import { cellAt } from './cells.ts';
import { addDraws, type DrawSums, intensitySpreads, makeDrawSums, phaseHighs } from './draw-sums.ts';
import { ICE_UNLIKELY, shareAbove, spreadOfDraws } from './estimates.ts';
import type { FlightPath, PathStep } from './flight-path.ts';
import { fluidSums } from './fluid.ts';
import { topsBelow } from './tops-margin.ts';
import type { Aircraft, Exposure } from './types.ts';

export interface ExposureRequest {
  readonly aircraft: Aircraft;
  readonly path: Extract<FlightPath, { kind: 'path' }>;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly drawn: DrawnIcing;
  /** Of the route that the path follows. */
  readonly windows: EnvelopeWindows;
}

/** Sums while walking that need no draws. */
interface Tally {
  unknownS: number;
  largeDropS: number;
  worstLargeDrops: number;
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
  const sums = makeDrawSums(request.drawn.drawCount);
  for (const step of request.path.steps) {
    const index = flownCell(request, step);
    tally.flownM[step.pointIndex]! += step.toM - step.fromM;
    if (index === undefined || !isFullyKnown(request, index)) addUnknownStep(tally, step);
    else {
      addKnownStep(tally, request, { step, index });
      addDraws(sums, request.drawn, { step, index });
    }
    if (step.phase === 'cruise') lookBelow(tally, request, step);
  }
  return finished(tally, sums, request);
}

function emptyTally(pointCount: number): Tally {
  return {
    unknownS: 0,
    largeDropS: 0,
    worstLargeDrops: 0,
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
      icing.largeDropProbability[index]! +
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
  { icing }: ExposureRequest,
  { step, index }: { readonly step: PathStep; readonly index: number },
): void {
  const { durationS } = step;
  if (icing.icingProbability[index]! >= ICE_UNLIKELY) addEnvelope(tally, step, icing.envelopeRatio[index]!);
  const largeDrops = icing.largeDrops[index]!;
  if (largeDrops !== LARGE_DROPS.none) {
    tally.largeDropS += durationS;
    tally.largeDropByPhaseS[step.phase] += durationS;
  }
  if (dropRank(largeDrops) > dropRank(tally.worstLargeDrops)) tally.worstLargeDrops = largeDrops;
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

function lookBelow(tally: Tally, { icing }: ExposureRequest, step: PathStep): void {
  const below = topsBelow(icing, step.pointIndex, step.pressureAltitudeM);
  tally.topsMarginM = Math.min(tally.topsMarginM, below.marginM);
  if (below.isUnknown) tally.topsUnknownS += step.durationS;
}

function finished(tally: Tally, sums: DrawSums, request: ExposureRequest): Exposure {
  const { aircraft, path, weather, windows } = request;
  const { phaseS } = path;
  const cruiseAltitudeM = path.steps.find((step) => step.phase === 'cruise')?.pressureAltitudeM ?? Number.NaN;
  const intensityS = intensitySpreads(sums);
  return {
    totalS: path.totalS,
    climbS: phaseS.climb,
    cruiseS: phaseS.cruise,
    descentS: phaseS.descent,
    unknownS: tally.unknownS,
    iceChance: shareAbove(sums.icingS, 0),
    expectedIcingS: meanOf(sums.icingS),
    ...fluidSums(aircraft, sums, tally.unknownS),
    icingHighByPhaseS: phaseHighs(sums),
    intensityS,
    largeDropS: tally.largeDropS,
    largeDropByPhaseS: tally.largeDropByPhaseS,
    worstLargeDrops: LARGE_DROPS_WORDS[tally.worstLargeDrops] ?? 'none',
    largeDropChance: shareAbove(sums.largeDropS, 0),
    worstIntensity: worstMet(intensityS),
    icingS: spreadOfDraws(sums.icingS),
    moistureBelowFreezingS: spreadOfDraws(sums.moistS),
    builtM: spreadOfDraws(sums.builtM),
    caughtKgPerM2: spreadOfDraws(sums.caughtKgPerM2),
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

/** The worst word that a tenth of the draws meets at all. */
function worstMet(intensityS: Exposure['intensityS']): Exposure['worstIntensity'] {
  const met = INTENSITY_WORDS.slice(INTENSITY.trace) as (keyof Exposure['intensityS'])[];
  return met.reverse().find((word) => intensityS[word].high > 0) ?? 'none';
}

const meanOf = (sums: Float64Array): number => sums.reduce((sum, each) => sum + each, 0) / sums.length;

function greatestEnvelopeRatio(tally: Tally, windows: EnvelopeWindows): number {
  if (tally.isOutsideEnvelope) return OUTSIDE_ENVELOPE_RATIO;
  return greatestWindowRatio(
    windows,
    tally.envelopeM.map((ratioM, point) => ratioM / tally.flownM[point]!),
  );
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
