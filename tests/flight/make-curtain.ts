/** Small curtains for tests of the flight: still, dry, warm-free air unless a test says otherwise. */
import fc from 'fast-check';
import { aircraftFromProfile } from '../../worker/flight/aircraft.ts';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import {
  type Aircraft,
  type AltitudeTable,
  type ChooseInput,
  type FluidProtection,
  MINIMUM_SOURCES,
  type MinimumAltitudes,
  type Planned,
  type RoutePoints,
} from '../../worker/flight/types.ts';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import {
  type AltitudeAxis,
  CELL_STATE,
  type IcingColumns,
  INTENSITY,
  type WeatherColumns,
} from '../../worker/science/columns.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { type DrawnIcing, emptyDrawnIcing, MARK, markOf } from '../../worker/science/drawn-icing.ts';
import { AIRCRAFT_READING } from '../../worker/science/humidity-basis.ts';
import { ftFromM, kFromC, mFromFt, mFromNm, mpsFromKt } from '../../worker/science/units.ts';

/** What one cell holds; everything left out is ordinary ice-free air. */
export interface TestCell {
  readonly state?: number;
  readonly temperatureC?: number;
  readonly cloudProbability?: number;
  readonly icingProbability?: number;
  readonly growthMmPerMin?: number;
  readonly intensity?: number;
  readonly largeDrops?: number;
  readonly envelopeRatio?: number;
  readonly windEastMps?: number;
  readonly windNorthMps?: number;
}

/** A cell by point and the altitude of its middle, ft. */
export type CellAt = (point: number, middleFt: number) => TestCell;

export const DRY: CellAt = () => ({});

/** Ice between two altitudes, ft, along the points from-to (both ends included). */
export function layer(lowerFt: number, upperFt: number, cell: TestCell, points = [0, 1e9]): CellAt {
  return (point, middleFt) => {
    const isInside = middleFt > lowerFt && middleFt < upperFt && point >= points[0]! && point <= points[1]!;
    return isInside ? cell : {};
  };
}

export const LIGHT_ICE: TestCell = {
  icingProbability: 0.9,
  cloudProbability: 0.9,
  growthMmPerMin: 0.3,
  intensity: 2,
};

export const MODERATE_ICE: TestCell = {
  icingProbability: 0.9,
  cloudProbability: 1,
  growthMmPerMin: 0.6,
  intensity: 3,
};

export const UNKNOWN: TestCell = { state: CELL_STATE.noData };

/** 60 cells of 500 ft from the sea up. */
export const TEST_AXIS = makeAltitudeAxis({ lowestM: 0, cellDepthM: mFromFt(500), cellCount: 60 });

/** Due north along 70W from 40N: 186 NM with points every 5 NM or less, aerodromes at sea level. */
export function makeTestRoute(lengthNm = 186, elevationM = 0): RoutePoints {
  const lengthDeg = ((mFromNm(lengthNm) / 6_371_008.8) * 180) / Math.PI;
  return makeRoutePoints([
    { name: 'AAAA', latDeg: 40, lonDeg: -70, elevationM },
    { name: 'BBBB', latDeg: 40 + lengthDeg, lonDeg: -70, elevationM },
  ]);
}

export function makeAircraft(id = 'generic-fluid-turboprop', change: Partial<Aircraft> = {}): Aircraft {
  const profile = builtInAircraft.find((each) => each.id === id);
  if (profile === undefined) throw new Error(`no aircraft ${id}`);
  return { ...aircraftFromProfile(profile), ...change };
}

/** A performance table with one value at all altitudes. */
export const flat = (value: number): AltitudeTable => ({ pressureAltitudeM: [0], value: [value] });

/**
 * Round numbers: 120 kt and 1,000 ft/min up, 180 kt level, 150 kt and 500 ft/min down, 60 kg/h; fluid as the built-in profile
 * but for the windshield. Neither ice nor an inlet separator takes from it, and no speed or ceiling is asked of it in ice, so
 * that the arithmetic of a flight stays one of rates and distances.
 */
export const ROUND_AIRCRAFT: Aircraft = makeAircraft('generic-fluid-turboprop', {
  trueAirspeedMps: flat(mpsFromKt(180)),
  climbRateMps: flat(mFromFt(1000) / 60),
  climbTrueAirspeedMps: mpsFromKt(120),
  descentRateMps: flat(mFromFt(500) / 60),
  descentTrueAirspeedMps: mpsFromKt(150),
  fuelFlowKgPerS: flat(60 / 3600),
  icedCeilingM: mFromFt(25000),
  minimumIcingAirspeedMps: 0,
  iceLoss: { airspeedPerM: 0, climbRatePerM: 0, fuelFlowGainPerM: 0 },
  separator: { airspeedLoss: 0, climbRateLoss: 0, fuelFlowGain: 0 },
  protection: { ...fluidOf(makeAircraft()), windshieldM3: 0 },
});

/** The fluid system of an aeroplane that has one. */
export function fluidOf({ protection }: Aircraft): FluidProtection {
  if (protection.kind !== 'fluid') throw new Error('no fluid system');
  return protection;
}

/** The trip alone: nothing is planned for beyond it. */
export const NOTHING_PLANNED: Planned = {
  earlyDescentS: 0,
  vectorsS: 0,
  approachS: 0,
  holdS: 0,
  approachAltitudeM: mFromFt(3000),
  holdAltitudeM: mFromFt(5000),
};

/** Any curtain: dry, moist, icy of every intensity, with large drops, warm, or unknown, cell by cell. */
export function randomCells(pointCount: number, axis: AltitudeAxis): fc.Arbitrary<CellAt> {
  const cell: fc.Arbitrary<TestCell> = fc.oneof(
    { weight: 4, arbitrary: fc.constant({}) },
    { weight: 1, arbitrary: fc.constant(UNKNOWN) },
    {
      weight: 3,
      arbitrary: fc.record({
        icingProbability: fc.double({ min: 0, max: 1, noNaN: true }),
        cloudProbability: fc.double({ min: 0, max: 1, noNaN: true }),
        growthMmPerMin: fc.double({ min: 0, max: 2, noNaN: true }),
        intensity: fc.integer({ min: 0, max: 4 }),
        temperatureC: fc.integer({ min: -30, max: 5 }),
        envelopeRatio: fc.double({ min: 0, max: 3, noNaN: true }),
      }),
    },
  );
  const size = pointCount * axis.cellCount;
  return fc.array(cell, { minLength: size, maxLength: size }).map((cells) => (point, middleFt) => {
    const number = Math.floor((mFromFt(middleFt) - axis.lowestM) / axis.cellDepthM);
    return cells[point * axis.cellCount + number] ?? UNKNOWN;
  });
}

export function makeCurtain(
  pointCount: number,
  cellAt: CellAt,
  axis: AltitudeAxis = TEST_AXIS,
): { weather: WeatherColumns; icing: IcingColumns; drawn: DrawnIcing } {
  const size = pointCount * axis.cellCount;
  const cells = Array.from({ length: size }, (_, index) => {
    const cell = index % axis.cellCount;
    return cellAt(Math.floor(index / axis.cellCount), ftFromM(axis.lowestM + (cell + 0.5) * axis.cellDepthM));
  });
  /** Unknown cells hold NaN throughout, as the contract says. */
  const floats = (value: (cell: TestCell) => number) =>
    Float32Array.from(cells, (cell) =>
      (cell.state ?? CELL_STATE.known) === CELL_STATE.known ? value(cell) : Number.NaN,
    );
  const state = Uint8Array.from(cells, (cell) => cell.state ?? CELL_STATE.known);
  const growthMps = floats((cell) => (cell.growthMmPerMin ?? 0) / 60_000);
  const weather: WeatherColumns = {
    columnCount: pointCount,
    axis,
    temperatureK: floats((cell) => kFromC(cell.temperatureC ?? -10)),
    relativeHumidityRatio: floats(() => 0.5),
    geopotentialHeightM: floats(() => 0),
    windEastMps: floats((cell) => cell.windEastMps ?? 0),
    windNorthMps: floats((cell) => cell.windNorthMps ?? 0),
    verticalVelocityPaPerS: floats(() => 0),
    condensateKgPerKg: floats(() => 0),
    condensateBasis: Array.from({ length: pointCount }, () => 'none' as const),
    cloudFractionRatio: floats(() => Number.NaN),
    rainKgPerKg: floats(() => Number.NaN),
    givesRain: new Uint8Array(pointCount),
    freezingRainRatio: new Float32Array(pointCount).fill(Number.NaN),
    cloudSaturation: Array.from({ length: pointCount }, () => AIRCRAFT_READING),
    state,
  };
  const icing: IcingColumns = {
    columnCount: pointCount,
    axis,
    cloudProbability: floats((cell) => cell.cloudProbability ?? 0),
    icingProbability: floats((cell) => cell.icingProbability ?? 0),
    liquidWaterKgPerM3: floats(() => 2e-4),
    medianVolumeDiameterM: floats(() => 2e-5),
    collectionEfficiency: floats(() => 0.5),
    freezingFraction: floats(() => 1),
    wingGrowthMps: growthMps,
    rodGrowthMps: growthMps,
    wingCatchKgPerM2S: growthMps.map((growth) => growth * 900),
    intensity: Uint8Array.from(cells, (cell) => cell.intensity ?? 0),
    iceKind: Uint8Array.from(cells, () => 1),
    largeDrops: Uint8Array.from(cells, (cell) => cell.largeDrops ?? 0),
    largeDropProbability: floats((cell) => ((cell.largeDrops ?? 0) === 0 ? 0 : 0.7)),
    envelopeRatio: floats((cell) => cell.envelopeRatio ?? 0),
    state: state.slice(),
  };
  return { weather, icing, drawn: drawsOf({ weather, icing }) };
}

/** Ten draws, all cells together: a cell is icy in the first of them, as many as its probability says; amounts as they stand. */
export const TEST_DRAWS = 10;

export function drawsOf(
  { weather, icing }: { weather: WeatherColumns; icing: IcingColumns },
  drawCount = TEST_DRAWS,
): DrawnIcing {
  const drawn = emptyDrawnIcing(icing.axis, icing.columnCount, drawCount);
  for (let index = 0; index < icing.state.length; index += 1) {
    if (icing.state[index] !== CELL_STATE.known) continue;
    const isCold = weather.temperatureK[index]! < FREEZING_K;
    for (let draw = 0; draw < drawCount; draw += 1) {
      const drawnShare = (draw + 0.5) / drawCount;
      const isIce = drawnShare < icing.icingProbability[index]!;
      const isMoist = isIce || (isCold && drawnShare < icing.cloudProbability[index]!);
      const at = index * drawCount + draw;
      const intensity = isIce ? Math.max(INTENSITY.trace, icing.intensity[index]!) : INTENSITY.none;
      drawn.marks[at] = markOf((isMoist ? MARK.moist : 0) | (isIce ? MARK.ice : 0), intensity);
      if (!isIce) continue;
      drawn.growthMps[at] = icing.wingGrowthMps[index]!;
      drawn.catchKgPerM2S[at] = icing.wingCatchKgPerM2S[index]!;
    }
  }
  return drawn;
}

/** One minimum altitude, ft, for the whole leg; NaN for unknown. */
export function flatMinimum(pointCount: number, altitudeFt: number): MinimumAltitudes {
  const isKnown = Number.isFinite(altitudeFt);
  return {
    altitudeM: new Float64Array(pointCount).fill(mFromFt(altitudeFt)),
    source: new Uint8Array(pointCount).fill(MINIMUM_SOURCES.indexOf(isKnown ? 'entered' : 'unknown')),
    terrainM: new Float64Array(pointCount).fill(Number.NaN),
    terrainSource: new Uint8Array(pointCount),
    allowanceM: new Float64Array(pointCount),
    overruledM: new Float64Array(pointCount).fill(Number.NaN),
    overrulingGroundM: new Float64Array(pointCount).fill(Number.NaN),
    legSource: isKnown ? 'entered' : 'unknown',
  };
}

/** 186 NM north, the fluid turboprop with 80 L, candidates 3,000-25,000 ft, minimum 3,000 ft, in winter 2026. */
export function makeChooseInput(cellAt: CellAt, change: Partial<ChooseInput> = {}): ChooseInput {
  const route = change.route ?? makeTestRoute();
  const curtain = makeCurtain(route.pointCount, cellAt);
  return {
    route,
    aircraft: makeAircraft(),
    ...curtain,
    minimum: flatMinimum(route.pointCount, 3000),
    indicatedMinusPressureM: 0,
    candidateAltitudesM: Array.from({ length: 23 }, (_, step) => mFromFt(3000 + step * 1000)),
    departureMs: Date.UTC(2026, 0, 14, 11, 30),
    fluidOnBoardM3: 0.08,
    hazards: [],
    ...change,
  };
}
