/** The plan view as a map that can be moved and tilted: the same features, the same paints, no tiles and no network. */

import type { FeatureCollection } from 'geojson';
import { type EaseToOptions, type GeoJSONSource, type Map as GlMap, MercatorCoordinate } from 'maplibre-gl';
import { placeCursorAt } from '../consider.ts';
import type { Brief } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { lookOf, patternsOf } from '../look.ts';
import { type Position, wholeCourseRad } from './along-leg.ts';
import type { BaseMap } from './base-map.ts';
import { nearestDistanceNm } from './cursor-position.ts';
import { GROUND_PAINTS, wallFeatures, wallLines, wallOf } from './curtain-wall.ts';
import { emptyMap, projectOn } from './gl-map.ts';
import { mapLayers, mapSources, paintedBands, WALL_LAYERS } from './map-layers.ts';
import { addPatterns, addWallPictures } from './map-patterns.ts';
import { lonOffsetDeg } from './mercator.ts';
import type { BandPiece, Level } from './plan-bands.ts';

export interface ShownOnMap {
  readonly pieces: readonly BandPiece[];
  readonly levels: readonly Level[];
  readonly distanceNm: number;
}

export interface MapPlan {
  show(shown: ShownOnMap): void;
  /** The curtain stands up with the departure to the left, or the map lies flat again with north up. */
  tilt(isTilted: boolean): void;
  zoomBy(levels: number): void;
  project(place: Position): readonly [number, number];
  close(): void;
}

interface MapInput {
  readonly element: HTMLElement;
  readonly brief: Brief;
  readonly baseMap: BaseMap;
  readonly onReady: () => void;
  readonly onLost: () => void;
  readonly onMove: () => void;
}

const PADDING_PX = 40;
const TILT_DEG = 62;
/** Room beside the wall, which comes nearer with its top, of the width; its foot stands under the middle, of the height. */
const ROOM_BESIDE_LEG = 0.18;
const DOWN_BY = 0.16;
/** Width of the world at zoom 0. */
const WORLD_PX = 512;
const DEG_PER_RAD = 180 / Math.PI;

export function openMap({ element, brief, baseMap, onReady, onLost, onMove }: MapInput): MapPlan {
  const map = emptyMap({ element, sources: mapSources(brief, baseMap), label: 'Map of the corridor' });
  map.fitBounds(boundsOf(brief), { padding: PADDING_PX, animate: false });
  const wall = wallOf(brief);
  let shown: ShownOnMap | undefined;
  let isTilted = false;
  const draw = () => {
    if (shown === undefined || map.getLayer('route') === undefined) return;
    const set = (source: string, data: FeatureCollection) =>
      map.getSource<GeoJSONSource>(source)?.setData(data);
    set('bands', paintedBands(shown.pieces) as FeatureCollection);
    if (isTilted) set('wall-lines', wallLines(wall, shown.levels, shown.distanceNm));
  };
  const standUp = () => {
    if (map.getLayer('wall') === undefined) return;
    if (isTilted) map.getSource<GeoJSONSource>('wall')?.setData(wallFeatures(brief, wall));
    for (const layer of WALL_LAYERS)
      map.setLayoutProperty(layer, 'visibility', isTilted ? 'visible' : 'none');
    draw();
  };
  const paint = () => {
    for (const { id } of map.getStyle().layers) map.removeLayer(id);
    addPatterns(map);
    addWallPictures(map, wallLooks(brief));
    for (const layer of mapLayers()) map.addLayer(layer);
    map.setLight({ intensity: 0 });
    standUp();
  };
  const scheme = matchMedia('(prefers-color-scheme: dark)');
  map.on('load', () => {
    paint();
    scheme.addEventListener('change', paint);
    map.once('idle', onReady);
  });
  map.on('error', onLost);
  map.on('webglcontextlost', onLost);
  map.on('idle', () => nameFeatures(map, isTilted ? 'wall' : 'bands'));
  map.on('move', onMove);
  map.on('resize', onMove);
  map.on('click', ({ lngLat }) => {
    placeCursorAt(nearestDistanceNm(brief.brief.leg.points, lngLat.lng, lngLat.lat));
  });
  return {
    show(next) {
      shown = next;
      draw();
    },
    tilt(next) {
      if (next === isTilted) return;
      isTilted = next;
      standUp();
      look(map, brief, isTilted);
    },
    zoomBy: (levels) => void map.easeTo({ zoom: map.getZoom() + levels }),
    project: projectOn(map),
    close() {
      scheme.removeEventListener('change', paint);
      map.remove();
    },
  };
}

/** What is asked to move less does not: the library leaves the way out then. */
function look(map: GlMap, brief: Brief, isTilted: boolean): void {
  for (const turning of [map.dragRotate, map.touchPitch]) turning[isTilted ? 'enable' : 'disable']();
  map.touchZoomRotate[isTilted ? 'enableRotation' : 'disableRotation']();
  if (isTilted) map.easeTo(besideWall(map, brief));
  else
    map.easeTo({
      ...map.cameraForBounds(boundsOf(brief), { bearing: 0, padding: PADDING_PX }),
      bearing: 0,
      pitch: 0,
    });
}

/** From the side, with the departure to the left, as near as the wall has room. */
function besideWall(map: GlMap, { brief }: Brief): EaseToOptions {
  const { points } = brief.leg;
  const courseRad = wholeCourseRad(points);
  const { clientHeight: heightPx, clientWidth: widthPx } = map.getContainer();
  const first = points[0]!;
  const places = points.map(({ lonDeg, latDeg }) =>
    MercatorCoordinate.fromLngLat([first.lonDeg + lonOffsetDeg(lonDeg, first.lonDeg), latDeg]),
  );
  const right = [Math.sin(courseRad), -Math.cos(courseRad)] as const;
  const along = places.map(({ x, y }) => x * right[0] + y * right[1]);
  const away = places.map(({ x, y }) => -x * right[1] + y * right[0]);
  const [alongMiddle, awayMiddle] = [middleOf(along), middleOf(away)];
  const middle = new MercatorCoordinate(
    alongMiddle * right[0] - awayMiddle * right[1],
    alongMiddle * right[1] + awayMiddle * right[0],
  );
  const roomPx = widthPx * (1 - 2 * ROOM_BESIDE_LEG);
  return {
    center: middle.toLngLat(),
    zoom: Math.log2(roomPx / WORLD_PX / (Math.max(...along) - Math.min(...along))),
    bearing: courseRad * DEG_PER_RAD - 90,
    pitch: TILT_DEG,
    offset: [0, DOWN_BY * heightPx],
  };
}

const middleOf = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2;

/** As in the drawings, an element carries the identities of the features that it shows. */
function nameFeatures(map: GlMap, source: string): void {
  const ids = map.querySourceFeatures(source).flatMap(({ properties }) => properties.featureId ?? []);
  map.getContainer().dataset.featureIds = [...new Set<string>(ids)].join(' ');
}

function wallLooks(brief: Brief): string[][] {
  const looks = featuresOf(brief, 'icing-band').map(({ properties }) => patternsOf(lookOf(properties)));
  return [
    ...new Map(
      [['paint-unknown'], [...GROUND_PAINTS], ...looks].map((paints) => [paints.join(), paints]),
    ).values(),
  ];
}

function boundsOf(brief: Brief): [number, number, number, number] {
  const [west, south, east, north] =
    brief.bbox.length === 6 ? [0, 1, 3, 4].map((at) => brief.bbox[at]!) : brief.bbox;
  return [west!, south!, east! < west! ? east! + 360 : east!, north!];
}
