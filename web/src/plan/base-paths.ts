/** The base map as paths of one picture. */
import { line } from 'd3-shape';
import type { BaseMap } from './base-map.ts';
import { type Frame, runsInFrame } from './mercator.ts';
import { runsOf } from './runs-of.ts';

type Position = readonly [number, number];
type Run = readonly Position[];

/** Land, states and borders as paths. Projecting the atlases is most of the work of drawing the plan, and nothing on the page changes it but its size. */
export function basePaths(baseMap: BaseMap, frame: Frame) {
  const land = baseMap.land.features.flatMap(({ geometry }) =>
    'coordinates' in geometry ? runsOf(geometry) : [],
  );
  return {
    land: basePath(frame, land, 'Z'),
    states: basePath(frame, runsOf(baseMap.states), ''),
    borders: basePath(frame, runsOf(baseMap.borders), ''),
  };
}

function basePath(frame: Frame, runs: readonly Run[], closing: 'Z' | ''): string {
  const pen = line<Position>(
    ([offsetDeg, latDeg]) => frame.pxOfOffset(offsetDeg, latDeg)[0],
    ([offsetDeg, latDeg]) => frame.pxOfOffset(offsetDeg, latDeg)[1],
  ).digits(1);
  return runs
    .flatMap((run) => runsInFrame(frame, run))
    .map((run) => `${pen(run) ?? ''}${closing}`)
    .join('');
}
