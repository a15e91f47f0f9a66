/** Lines along the route where the temperature passes 0 degrees Celsius. */
import { CELL_STATE, type WeatherColumns } from '../science/columns.ts';
import { FREEZING_K } from '../science/constants.ts';

/** One line: parallel arrays of route point and pressure altitude, m. */
export interface FreezingLine {
  readonly points: number[];
  readonly altitudeM: number[];
}

/** Crossings of neighboring points further apart than this are different lines, m. */
const LARGEST_STEP_M = 600;

/** @returns lines of at least two points; cells that are not known have no crossing. */
export function freezingLines(weather: WeatherColumns): FreezingLine[] {
  const finished: FreezingLine[] = [];
  let open: FreezingLine[] = [];
  for (let point = 0; point < weather.columnCount; point += 1) {
    const crossings = columnCrossings(weather, point);
    const continued: FreezingLine[] = [];
    for (const line of open) {
      const nearest = takeNearest(crossings, line.altitudeM.at(-1)!);
      if (nearest === undefined) {
        finished.push(line);
        continue;
      }
      line.points.push(point);
      line.altitudeM.push(nearest);
      continued.push(line);
    }
    for (const altitudeM of crossings) continued.push({ points: [point], altitudeM: [altitudeM] });
    open = continued.sort((a, b) => a.altitudeM.at(-1)! - b.altitudeM.at(-1)!);
  }
  return [...finished, ...open].filter((line) => line.points.length > 1);
}

function takeNearest(crossings: number[], altitudeM: number): number | undefined {
  let best = -1;
  for (let index = 0; index < crossings.length; index += 1) {
    const distance = Math.abs(crossings[index]! - altitudeM);
    if (distance > LARGEST_STEP_M) continue;
    if (best < 0 || distance < Math.abs(crossings[best]! - altitudeM)) best = index;
  }
  return best < 0 ? undefined : crossings.splice(best, 1)[0];
}

/** Pressure altitudes, m, ascending, where neighboring known cells lie on either side of freezing. */
function columnCrossings(weather: WeatherColumns, point: number): number[] {
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
