/**
 * Where the services of a location indicator may speak for, by its first letter: only to tell that a place whose name is
 * not known is on another continent. Boxes are wide, since flight information regions reach far over the oceans; where
 * they are not known there is none, and nothing is left out.
 *
 * @source  ICAO Doc 7910, regions of the first letter (from memory), each drawn well beyond its land.
 * @checked tests/sources/region-boxes.test.ts: every aerodrome of the bundled list lies in the box of its letter.
 */
import type { Box } from '../flight/hazard-areas.ts';

const box = (southDeg: number, northDeg: number, westDeg: number, eastDeg: number): Box => ({
  southDeg,
  northDeg,
  westDeg,
  eastDeg,
});

const BOXES: ReadonlyMap<string, Box> = new Map([
  ['B', box(35, 90, -85, 30)],
  ['C', box(35, 90, -180, -25)],
  ['D', box(-5, 45, -20, 25)],
  ['E', box(35, 90, -45, 45)],
  ['F', box(-65, 25, -25, 85)],
  ['G', box(-5, 45, -45, 10)],
  ['H', box(-20, 40, 0, 65)],
  ['K', box(10, 60, -180, -25)],
  ['L', box(20, 60, -65, 55)],
  ['M', box(0, 40, -130, -50)],
  ['O', box(5, 45, 25, 85)],
  ['R', box(-5, 55, 110, 170)],
  ['S', box(-90, 20, -120, -5)],
  ['T', box(5, 40, -75, -40)],
  ['U', box(30, 90, 10, -155)],
  ['V', box(-15, 45, 55, 125)],
  ['Z', box(10, 65, 65, 150)],
]);
/** Letters whose stations are told apart by the second one, and those of which the land is far smaller than the regions. */
const STATION_BOXES: ReadonlyMap<string, Box> = new Map([
  ['K', box(22, 51, -128, -64)],
  ['PA', box(45, 75, 165, -125)],
  ['PF', box(45, 75, 165, -125)],
  ['PO', box(45, 75, 165, -125)],
  ['PP', box(45, 75, 165, -125)],
  ['PH', box(10, 35, 175, -145)],
]);

/** An ocean of the United States that reaches to the other side of the Pacific, and islands far from their letter. */
const WITHOUT_BOX = new Set(['KZAK', 'EGYP']);

/** @returns undefined where nothing can be left out. */
export function regionBox(indicator: string | undefined): Box | undefined {
  if (indicator === undefined || !/^[A-Z]{4}$/.test(indicator) || WITHOUT_BOX.has(indicator))
    return undefined;
  return BOXES.get(indicator.charAt(0));
}

/** Where a station may be that is in no list: its land, where that is known. */
export function stationBox(indicator: string): Box | undefined {
  if (!/^[A-Z]{4}$/.test(indicator)) return undefined;
  const named = STATION_BOXES.get(indicator.slice(0, 2)) ?? STATION_BOXES.get(indicator.charAt(0));
  return named ?? regionBox(indicator);
}
