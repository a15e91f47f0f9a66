/** From levels as reports state them to pressure altitudes over a route point. */
import { CELL_STATE, type IcingColumns, type WeatherColumns } from '../science/columns.ts';
import { FREEZING_K } from '../science/constants.ts';

/** An edge of a layer. `marginM` widens the layer there. */
export type HazardLevel =
  | { readonly kind: 'open' }
  | { readonly kind: 'pressure-altitude'; readonly altitudeM: number; readonly marginM: number }
  /** Above mean sea level, by an altimeter or by a map: nobody says which, so the layer takes both in. */
  | { readonly kind: 'altitude'; readonly altitudeM: number; readonly marginM: number }
  /** Where the air is 0 degrees Celsius: as stated, else as the air says; open where it says nothing. */
  | { readonly kind: 'freezing-level'; readonly lowestM?: number; readonly highestM?: number }
  /** The highest cloud that is likely. */
  | { readonly kind: 'cloud-top' };

/** The air that levels are looked up in. */
export interface LevelAir {
  readonly indicatedMinusPressureM: number;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
}

/** Cloud at least this probable may be where drizzle begins. */
export const LIKELY_CLOUD = 0.4;

/**
 * Pressure altitudes, m, between which a level may be over a point; -Infinity and Infinity where nothing tells.
 *
 * @checked  tests/flight/hazards.test.ts
 */
export function levelSpanM(
  level: HazardLevel,
  air: LevelAir,
  point: number,
): { readonly leastM: number; readonly mostM: number } {
  switch (level.kind) {
    case 'open':
      return OPEN;
    case 'pressure-altitude':
      return around([level.altitudeM], level.marginM);
    case 'altitude':
      return around(readingsM(level.altitudeM, air, point), level.marginM);
    case 'freezing-level':
      return freezingSpanM(level, air, point);
    case 'cloud-top': {
      const topM = likelyCloudTopM(air.icing, point);
      return topM === undefined ? OPEN : { leastM: topM, mostM: topM };
    }
  }
}

const OPEN = { leastM: -Infinity, mostM: Infinity };

function around(altitudesM: readonly number[], marginM: number) {
  return { leastM: Math.min(...altitudesM) - marginM, mostM: Math.max(...altitudesM) + marginM };
}

/** An altitude read as a pressure altitude, on the altimeter setting, and as a height in the air of the point. */
function readingsM(
  altitudeM: number,
  { indicatedMinusPressureM, weather }: LevelAir,
  point: number,
): number[] {
  const inAirM = pressureAltitudeAtM(weather, point, altitudeM);
  const readings = [altitudeM, altitudeM - indicatedMinusPressureM];
  return inAirM === undefined ? readings : [...readings, inAirM];
}

/** Pressure altitude at a geopotential height, between the middles of known cells. */
function pressureAltitudeAtM(weather: WeatherColumns, point: number, heightM: number): number | undefined {
  const { cellCount, lowestM, cellDepthM } = weather.axis;
  for (let cell = 1; cell < cellCount; cell += 1) {
    const index = point * cellCount + cell;
    if (weather.state[index] !== CELL_STATE.known || weather.state[index - 1] !== CELL_STATE.known) continue;
    const belowM = weather.geopotentialHeightM[index - 1]!;
    const aboveM = weather.geopotentialHeightM[index]!;
    if (belowM <= heightM && heightM <= aboveM)
      return lowestM + (cell - 0.5 + (heightM - belowM) / (aboveM - belowM)) * cellDepthM;
  }
  return undefined;
}

function freezingSpanM(
  { lowestM, highestM }: Extract<HazardLevel, { readonly kind: 'freezing-level' }>,
  air: LevelAir,
  point: number,
) {
  if (lowestM !== undefined && highestM !== undefined) {
    return around([...readingsM(lowestM, air, point), ...readingsM(highestM, air, point)], 0);
  }
  const crossingsM = freezingCrossingsM(air.weather, point);
  if (crossingsM.length === 0) return OPEN;
  const { isKnownBelow, isColdAbove } = endsOf(air.weather, point, crossingsM);
  return {
    leastM: isKnownBelow ? crossingsM[0]! : -Infinity,
    mostM: isColdAbove ? crossingsM.at(-1)! : Infinity,
  };
}

/** Whether no other crossing can hide: below the lowest in unknown air over the ground, above the highest in a gap. */
function endsOf(weather: WeatherColumns, point: number, crossingsM: readonly number[]) {
  const { cellCount, lowestM, cellDepthM } = weather.axis;
  const stateOf = (cell: number) => weather.state[point * cellCount + cell]!;
  const cells = Array.from({ length: cellCount }, (_, cell) => cell);
  const middleM = (cell: number) => lowestM + (cell + 0.5) * cellDepthM;
  const below = cells.filter((cell) => middleM(cell) <= crossingsM[0]!);
  const highestKnown = cells.findLast((cell) => stateOf(cell) === CELL_STATE.known)!;
  const above = cells.filter((cell) => cell <= highestKnown && middleM(cell) > crossingsM.at(-1)!);
  return {
    isKnownBelow: below.every((cell) =>
      [CELL_STATE.known, CELL_STATE.belowGround].includes(stateOf(cell) as 0),
    ),
    isColdAbove:
      above.every((cell) => stateOf(cell) === CELL_STATE.known) &&
      weather.temperatureK[point * cellCount + highestKnown]! < FREEZING_K,
  };
}

/** Pressure altitudes, m, ascending, where neighboring known cells lie on either side of freezing. */
export function freezingCrossingsM(weather: WeatherColumns, point: number): number[] {
  const { cellCount, lowestM, cellDepthM } = weather.axis;
  const offset = point * cellCount;
  const crossings: number[] = [];
  for (let cell = 1; cell < cellCount; cell += 1) {
    const index = offset + cell;
    if (weather.state[index] !== CELL_STATE.known || weather.state[index - 1] !== CELL_STATE.known) continue;
    const belowK = weather.temperatureK[index - 1]! - FREEZING_K;
    const aboveK = weather.temperatureK[index]! - FREEZING_K;
    if (belowK >= 0 === aboveK >= 0) continue;
    const share = belowK / (belowK - aboveK);
    crossings.push(lowestM + (cell - 0.5 + share) * cellDepthM);
  }
  return crossings;
}

/** Upper edge of the highest known cell with likely cloud; undefined without one, and where the air over it is unknown. */
export function likelyCloudTopM(icing: IcingColumns, point: number): number | undefined {
  const { cellCount, lowestM, cellDepthM } = icing.axis;
  let isUnderKnown = false;
  let isGapAbove = false;
  for (let cell = cellCount - 1; cell >= 0; cell -= 1) {
    const index = point * cellCount + cell;
    if (icing.state[index] !== CELL_STATE.known) {
      isGapAbove ||= isUnderKnown;
      continue;
    }
    isUnderKnown = true;
    if (!(icing.cloudProbability[index]! >= LIKELY_CLOUD)) continue;
    const isKnownAbove = cell + 1 < cellCount && icing.state[index + 1] === CELL_STATE.known;
    return isKnownAbove && !isGapAbove ? lowestM + (cell + 1) * cellDepthM : undefined;
  }
  return undefined;
}
