/** The plan view as plain drawing: always there, in print and without WebGL too. */
import { line } from 'd3-shape';
import { useMemo } from 'preact/hooks';
import type { Brief } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { lookOf } from '../look.ts';
import { Painted } from '../section/paint.tsx';
import { airAlong, type Position } from './along-leg.ts';
import type { BaseMap } from './base-map.ts';
import { basePaths } from './base-paths.ts';
import { type Frame, frameOf } from './mercator.ts';
import type { BandPiece } from './plan-bands.ts';
import { warningAreas } from './report-marks.ts';
import { runsOf } from './runs-of.ts';

interface SvgPlanProps {
  readonly brief: Brief;
  readonly pieces: readonly BandPiece[];
  readonly baseMap: BaseMap | undefined;
  readonly frame: Frame;
  readonly label: string;
}

/** Stations further off than this do not shrink the picture. */
const FARTHEST_STATION_NM = 40;
const MARGIN_PX = 34;

/** The part of the earth that the drawing shows. */
export function planFrame(brief: Brief, widthPx: number, heightPx: number): Frame {
  return frameOf(positionsToShow(brief), { widthPx, heightPx, marginPx: MARGIN_PX });
}

export function SvgPlan({ brief, pieces, baseMap, frame, label }: SvgPlanProps) {
  const { widthPx, heightPx } = frame;
  return (
    <svg
      class="plan-svg"
      role="img"
      aria-label={label}
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
    >
      <rect class="plan-water" width={widthPx} height={heightPx} />
      {baseMap && <Base baseMap={baseMap} frame={frame} />}
      <Corridor brief={brief} pieces={pieces} frame={frame} />
      <Warnings brief={brief} frame={frame} />
      <Route brief={brief} frame={frame} />
    </svg>
  );
}

function positionsToShow(brief: Brief): Position[] {
  const corridor = featuresOf(brief, 'corridor').flatMap((feature) => runsOf(feature.geometry).flat());
  const route = brief.brief.leg.points.map((point) => [point.lonDeg, point.latDeg] as const);
  const stations = featuresOf(brief, 'source')
    .filter((feature) => feature.properties.distanceNm <= FARTHEST_STATION_NM)
    .flatMap((feature) => runsOf(feature.geometry).flat());
  return [...corridor, ...stations, ...route];
}

function pathOf(frame: Frame, geometry: { readonly type: string; readonly coordinates: unknown }): string {
  const pen = line<Position>(
    ([lonDeg, latDeg]) => frame.pxOf(lonDeg, latDeg)[0],
    ([lonDeg, latDeg]) => frame.pxOf(lonDeg, latDeg)[1],
  ).digits(1);
  const closing = geometry.type.endsWith('Polygon') ? 'Z' : '';
  return runsOf(geometry)
    .map((run) => `${pen(run) ?? ''}${closing}`)
    .join('');
}

/** The air along the leg is hatched under the bands: what none covers is unknown. Beyond its ends nothing is said. */
function Corridor({ brief, pieces, frame }: Pick<SvgPlanProps, 'brief' | 'pieces' | 'frame'>) {
  const corridors = featuresOf(brief, 'corridor');
  return (
    <g class="plan-corridor">
      <g shape-rendering="crispEdges">
        <Painted look={{ kind: 'unknown', state: 'no-data' }} d={pathOf(frame, airAlong(brief))} />
        {pieces.map(({ band, fromNm, geometry }) => (
          <Painted
            key={`${band.id} ${fromNm}`}
            featureId={band.id}
            look={lookOf(band.properties)}
            d={pathOf(frame, geometry)}
          />
        ))}
      </g>
      {corridors.map((corridor) => (
        <path key={corridor.id} class="corridor-edge" d={pathOf(frame, corridor.geometry)} />
      ))}
    </g>
  );
}

function Route({ brief, frame }: { brief: Brief; frame: Frame }) {
  return (
    <g class="plan-route">
      {featuresOf(brief, 'route').map((route) => (
        <path key={route.id} d={pathOf(frame, route.geometry)} />
      ))}
    </g>
  );
}

function Warnings({ brief, frame }: { brief: Brief; frame: Frame }) {
  return (
    <g class="plan-warnings">
      {warningAreas(brief).map(({ id, geometry }) => (
        <path key={id} data-feature-id={id} fill="url(#paint-warning)" d={pathOf(frame, geometry)} />
      ))}
    </g>
  );
}

/** Only what reaches into the frame is drawn: the atlases cover the world. */
function Base({ baseMap, frame }: { baseMap: BaseMap; frame: Frame }) {
  const { land, states, borders } = useMemo(() => basePaths(baseMap, frame), [baseMap, frame]);
  return (
    <g class="plan-base">
      <path class="plan-land" d={land} />
      <path class="plan-state" d={states} />
      <path class="plan-border" d={borders} />
    </g>
  );
}
