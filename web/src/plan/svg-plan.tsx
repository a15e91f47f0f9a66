/** The plan view as plain drawing: always there, in print and without WebGL too. */
import { line } from 'd3-shape';
import type { BandFeature, Brief } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { lookOf } from '../look.ts';
import { Painted } from '../section/paint.tsx';
import { consideredFt, cursorNm } from '../state.ts';
import type { BaseMap } from './base-map.ts';
import { positionAt } from './cursor-position.ts';
import { type Frame, frameOf, runsInFrame } from './mercator.ts';
import { bandsAt, runsOf } from './plan-bands.ts';
import { reportMarks, warningAreas } from './report-marks.ts';

interface SvgPlanProps {
  readonly brief: Brief;
  readonly baseMap: BaseMap | undefined;
  readonly widthPx: number;
  readonly heightPx: number;
}

type Position = readonly [number, number];
type Run = readonly Position[];

/** Names this near the picture's edge are turned inwards. */
const EDGE_PX = 50;
/** A station's name stands so far under it. */
const STATION_NAME_PX = 24;
/** Stations further off than this do not shrink the picture. */
const FARTHEST_STATION_NM = 40;

export function SvgPlan({ brief, baseMap, widthPx, heightPx }: SvgPlanProps) {
  const frame = frameOf(positionsToShow(brief), { widthPx, heightPx, marginPx: 34 });
  const bands = bandsAt(featuresOf(brief, 'icing-band'), consideredFt.value);
  return (
    <svg
      class="plan-svg"
      role="img"
      aria-label={`Plan view of the corridor at ${consideredFt.value} feet; the list after it says the same in words.`}
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
    >
      <rect class="plan-water" width={widthPx} height={heightPx} />
      {baseMap && <Base baseMap={baseMap} frame={frame} />}
      <Corridor brief={brief} bands={bands} frame={frame} />
      <Warnings brief={brief} frame={frame} />
      <Route brief={brief} frame={frame} />
      <Stations brief={brief} frame={frame} />
      <ReportMarks brief={brief} frame={frame} />
      <Here brief={brief} frame={frame} />
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

/** The whole corridor is hatched under the bands: what none covers is unknown, and so is the air beyond its ends. */
function Corridor({ brief, bands, frame }: { brief: Brief; bands: readonly BandFeature[]; frame: Frame }) {
  const corridors = featuresOf(brief, 'corridor');
  return (
    <g class="plan-corridor">
      <g shape-rendering="crispEdges">
        {corridors.map((corridor) => (
          <Painted
            key={corridor.id}
            look={{ kind: 'unknown', state: 'no-data' }}
            d={pathOf(frame, corridor.geometry)}
          />
        ))}
        {bands.map((band) => (
          <Painted
            key={band.id}
            featureId={band.id}
            look={lookOf(band.properties)}
            d={pathOf(frame, band.geometry)}
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
  const fixes = brief.brief.leg.points.filter((point) => point.fix !== null);
  return (
    <g class="plan-route">
      {featuresOf(brief, 'route').map((route) => (
        <path key={route.id} d={pathOf(frame, route.geometry)} />
      ))}
      {fixes.map((point) => {
        const [x, y] = frame.pxOf(point.lonDeg, point.latDeg);
        return (
          <g key={point.distanceNm}>
            <circle cx={x} cy={y} r="3.5" />
            <text x={x} y={y - 9} text-anchor="middle">
              {point.fix}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Stations({ brief, frame }: { brief: Brief; frame: Frame }) {
  return (
    <g class="plan-stations">
      {featuresOf(brief, 'source').map((station) => {
        const [lonDeg, latDeg] = station.geometry.coordinates;
        const [x, y] = frame.pxOf(lonDeg!, latDeg!);
        // Half a name at the edge tells nothing.
        if (x < 0 || x > frame.widthPx || y < 0 || y > frame.heightPx - STATION_NAME_PX) return null;
        return (
          <g key={station.id} data-feature-id={station.id}>
            <path d={`M${x} ${y - 7}l7 7-7 7-7-7z`} />
            <text
              x={x}
              y={y + 21}
              text-anchor={x < EDGE_PX ? 'start' : x > frame.widthPx - EDGE_PX ? 'end' : 'middle'}
            >
              {station.properties.name}
            </text>
          </g>
        );
      })}
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

/** Half the side of a mark. */
const MARK_PX = 8;

function ReportMarks({ brief, frame }: { brief: Brief; frame: Frame }) {
  return (
    <g class="plan-reports">
      {reportMarks(brief).map(({ id, lonDeg, latDeg, letter, isSerious }) => {
        const [x, y] = frame.pxOf(lonDeg, latDeg);
        return (
          <g key={id} data-feature-id={id} class={isSerious ? 'report-serious' : 'report-mark'}>
            <rect x={x - MARK_PX} y={y - MARK_PX} width={2 * MARK_PX} height={2 * MARK_PX} />
            <text x={x} y={y + 4.5} text-anchor="middle">
              {letter}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Here({ brief, frame }: { brief: Brief; frame: Frame }) {
  const here = positionAt(brief.brief.leg.points, cursorNm.value);
  if (here === undefined) return null;
  const [x, y] = frame.pxOf(here[0], here[1]);
  return <circle class="cursor-point" cx={x} cy={y} r="6" />;
}

/** Only what reaches into the frame is drawn: the atlases cover the world. */
function Base({ baseMap, frame }: { baseMap: BaseMap; frame: Frame }) {
  const land = baseMap.land.features.flatMap(({ geometry }) =>
    'coordinates' in geometry ? runsOf(geometry) : [],
  );
  return (
    <g class="plan-base">
      <path class="plan-land" d={basePath(frame, land, 'Z')} />
      <path class="plan-state" d={basePath(frame, runsOf(baseMap.states), '')} />
      <path class="plan-border" d={basePath(frame, runsOf(baseMap.borders), '')} />
    </g>
  );
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
