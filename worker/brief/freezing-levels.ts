/** Lines along the route where the temperature passes 0 degrees Celsius. */
import { freezingCrossingsM } from '../flight/hazard-levels.ts';
import type { WeatherColumns } from '../science/columns.ts';

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
    const crossings = freezingCrossingsM(weather, point);
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
