/** The plan view as a map that can be moved: the same features, the same paints, no tiles and no network. */
import type { FeatureCollection } from 'geojson';
import {
  type GeoJSONSource,
  Map as GlMap,
  type LngLatLike,
  Marker,
  NavigationControl,
  setWorkerUrl,
} from 'maplibre-gl';
import 'maplibre-gl/dist/maplibre-gl.css';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';
import type { Brief } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { cursorNm } from '../state.ts';
import type { BaseMap } from './base-map.ts';
import { nearestDistanceNm, positionAt } from './cursor-position.ts';
import { mapLayers, mapSources, paintedBands } from './map-layers.ts';
import { addPatterns } from './map-patterns.ts';
import { bandsAt } from './plan-bands.ts';
import { reportMarks } from './report-marks.ts';

setWorkerUrl(workerUrl);

export interface MapPlan {
  show(altitudeFt: number, distanceNm: number): void;
  close(): void;
}

interface MapInput {
  readonly element: HTMLElement;
  readonly brief: Brief;
  readonly baseMap: BaseMap;
  readonly onReady: () => void;
  readonly onLost: () => void;
}

export function openMap({ element, brief, baseMap, onReady, onLost }: MapInput): MapPlan {
  const map = new GlMap({
    container: element,
    style: { version: 8, sources: mapSources(brief, baseMap), layers: [] },
    bounds: boundsOf(brief),
    fitBoundsOptions: { padding: 48 },
    attributionControl: false,
    cooperativeGestures: true,
    dragRotate: false,
    pitchWithRotate: false,
  });
  map.getCanvas().setAttribute('aria-label', 'Map of the corridor');
  map.addControl(new NavigationControl({ showCompass: false }), 'top-right');
  const here = new Marker({ element: dot('map-here') });
  addMarks(map, brief);
  let shown: { altitudeFt: number; distanceNm: number } | undefined;
  const draw = () => {
    if (shown === undefined || map.getLayer('route') === undefined) return;
    const bands = bandsAt(featuresOf(brief, 'icing-band'), shown.altitudeFt);
    map.getSource<GeoJSONSource>('bands')?.setData(paintedBands(bands) as FeatureCollection);
    const position = positionAt(brief.brief.leg.points, shown.distanceNm);
    if (position) here.setLngLat(position as LngLatLike).addTo(map);
  };
  const paint = () => {
    for (const { id } of map.getStyle().layers) map.removeLayer(id);
    addPatterns(map);
    for (const layer of mapLayers()) map.addLayer(layer);
    draw();
  };
  const scheme = matchMedia('(prefers-color-scheme: dark)');
  map.on('load', () => {
    paint();
    scheme.addEventListener('change', paint);
    map.once('idle', onReady);
  });
  map.on('error', onLost);
  map.on('webglcontextlost', onLost);
  map.on('click', ({ lngLat }) => {
    cursorNm.value = nearestDistanceNm(brief.brief.leg.points, lngLat.lng, lngLat.lat);
  });
  return {
    show(altitudeFt, distanceNm) {
      shown = { altitudeFt, distanceNm };
      draw();
    },
    close() {
      scheme.removeEventListener('change', paint);
      map.remove();
    },
  };
}

/** Names stand on the map as elements: letters drawn by the map itself would need fonts from a network. */
function addMarks(map: GlMap, brief: Brief): void {
  for (const point of brief.brief.leg.points) {
    if (point.fix === null) continue;
    const element = dot('map-fix', point.fix);
    new Marker({ element }).setLngLat([point.lonDeg, point.latDeg]).addTo(map);
  }
  for (const station of featuresOf(brief, 'source')) {
    const [lonDeg, latDeg] = station.geometry.coordinates;
    const element = dot('map-station', station.properties.name);
    new Marker({ element }).setLngLat([lonDeg!, latDeg!]).addTo(map);
  }
  for (const { lonDeg, latDeg, letter, isSerious } of reportMarks(brief)) {
    const element = dot(isSerious ? 'map-report map-report-serious' : 'map-report', letter);
    new Marker({ element }).setLngLat([lonDeg, latDeg]).addTo(map);
  }
}

function dot(className: string, name = ''): HTMLElement {
  const element = document.createElement('div');
  element.className = className;
  element.setAttribute('aria-hidden', 'true');
  if (name !== '') element.append(Object.assign(document.createElement('span'), { textContent: name }));
  return element;
}

function boundsOf(brief: Brief): [number, number, number, number] {
  const [west, south, east, north] =
    brief.bbox.length === 6 ? [0, 1, 3, 4].map((at) => brief.bbox[at]!) : brief.bbox;
  return [west!, south!, east! < west! ? east! + 360 : east!, north!];
}
