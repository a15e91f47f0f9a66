/** How much lower than it reads an aeroplane is in air colder than standard, and where that eats into a minimum altitude. */
import { CELL_STATE } from '../science/columns.ts';
import { cFromK, ftFromM, mFromFt } from '../science/units.ts';
import { rounded } from './rounding.ts';
import type { ChooseInput, FlightReason } from './types.ts';
import { apiFeet, feet, reason, withThousands } from './words.ts';

const STANDARD_LAPSE_K_PER_M = 0.0065;
const STANDARD_SEA_LEVEL_C = 15;
/** As the published formula has it, so that its tables come out. */
const ZERO_C_K = 273;

/**
 * Height to add to a minimum so that it is truly kept with an altimeter set to an aerodrome's pressure.
 *
 * @param heightM             Of the minimum above the aerodrome, as indicated, m.
 * @param sourceElevationM    Of the aerodrome whose pressure is set, m.
 * @param sourceTemperatureC  At the aerodrome.
 * @returns                   m; 0 in air that is not colder than standard, and at or below the aerodrome.
 * @throws                    never.
 * @source                    ICAO Doc 8168 (PANS-OPS), temperature corrections, the formula for any elevation; from memory.
 * @checked                   tests/published/cold-altitude.test.ts
 */
export function coldCorrectionM(
  heightM: number,
  sourceElevationM: number,
  sourceTemperatureC: number,
): number {
  const atSeaLevelC = sourceTemperatureC + STANDARD_LAPSE_K_PER_M * sourceElevationM;
  if (!(atSeaLevelC < STANDARD_SEA_LEVEL_C && heightM > 0)) return 0;
  const meanK = ZERO_C_K + atSeaLevelC - 0.5 * STANDARD_LAPSE_K_PER_M * (heightM + sourceElevationM);
  return (heightM * (STANDARD_SEA_LEVEL_C - atSeaLevelC)) / meanK;
}

/** A fifth of the 1,000 ft that minima clear the ground by (judgement): less is within what altimeters may be wrong by. */
const WORTH_SAYING_M = mFromFt(200);
/** Published corrections are rounded up to so much. */
const ROUNDED_UP_FT = 10;
/** The lowest known air speaks for an aerodrome so far above it. */
const SPEAKS_FOR_M = mFromFt(1000);

interface ColdEnd {
  readonly where: 'departure' | 'destination';
  readonly temperatureC: number;
  readonly minimumM: number;
  readonly correctionM: number;
}

/** The end of the leg where the cold takes most from a minimum; none where it takes little, or minimum or air is unknown. */
export function coldReasons(input: ChooseInput): FlightReason[] {
  const ends = [coldEnd(input, 'departure'), coldEnd(input, 'destination')];
  const [worst] = ends
    .filter((end) => end !== undefined)
    .filter(({ correctionM }) => correctionM >= WORTH_SAYING_M)
    .sort((a, b) => b.correctionM - a.correctionM);
  if (worst === undefined) return [];
  const addFt = ROUNDED_UP_FT * Math.ceil(ftFromM(worst.correctionM) / ROUNDED_UP_FT);
  const temperatureC = rounded(worst.temperatureC, 'temperatureC', 'screen');
  const sentence = `At ${temperatureC} °C at the ${worst.where}, ${feet(worst.minimumM)} indicated is ${withThousands(addFt)} ft lower: fly ${feet(worst.minimumM + mFromFt(addFt))} to keep that minimum (ICAO Doc 8168)`;
  return [
    reason('cold-altitude', sentence, {
      temperatureC: rounded(worst.temperatureC, 'temperatureC', 'api'),
      minimumFt: apiFeet(worst.minimumM),
      addFt,
    }),
  ];
}

/** The lowest indicated altitude that truly keeps every minimum of the leg in the cold, m; NaN where no minimum is known. */
export function coldMinimumM(input: ChooseInput): number {
  const known = input.minimum.altitudeM.filter(Number.isFinite);
  if (known.length === 0) return Number.NaN;
  const ends = [coldEnd(input, 'departure'), coldEnd(input, 'destination')];
  return Math.max(...known, ...ends.map((end) => (end === undefined ? 0 : end.minimumM + end.correctionM)));
}

/** The greatest minimum of the half of the leg that flies on this end's altimeter setting. */
function coldEnd({ route, minimum, ...input }: ChooseInput, where: ColdEnd['where']): ColdEnd | undefined {
  const fix = where === 'departure' ? route.fixes[0]! : route.fixes.at(-1)!;
  const end = where === 'departure' ? 0 : route.pointCount - 1;
  const temperatureC = airAtC(input, end, fix.elevationM);
  const middleM = route.distanceM.at(-1)! / 2;
  const half = minimum.altitudeM.filter((altitudeM, point) => {
    const isNear = Math.abs(route.distanceM[point]! - route.distanceM[end]!) <= middleM;
    return isNear && Number.isFinite(altitudeM);
  });
  if (temperatureC === undefined || half.length === 0) return undefined;
  const minimumM = Math.max(...half);
  const correctionM = coldCorrectionM(minimumM - fix.elevationM, fix.elevationM, temperatureC);
  return { where, temperatureC, minimumM, correctionM };
}

/** Of the lowest known air over an aerodrome; undefined without a known elevation, or where that air is not near it. */
function airAtC(
  { weather, indicatedMinusPressureM }: Pick<ChooseInput, 'weather' | 'indicatedMinusPressureM'>,
  point: number,
  elevationM: number,
): number | undefined {
  const { cellCount, lowestM, cellDepthM } = weather.axis;
  const states = weather.state.subarray(point * cellCount, (point + 1) * cellCount);
  const cell = states.findIndex(
    (state, each) =>
      state === CELL_STATE.known && lowestM + (each + 1) * cellDepthM + indicatedMinusPressureM > elevationM,
  );
  if (cell < 0) return undefined;
  const aboveM = lowestM + cell * cellDepthM + indicatedMinusPressureM - elevationM;
  return aboveM <= SPEAKS_FOR_M ? cFromK(weather.temperatureK[point * cellCount + cell]!) : undefined;
}
