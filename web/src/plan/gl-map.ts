/** What every map of the page has in common: no tiles, no network, no turning unless asked for. */
import { Map as GlMap, type StyleSpecification, setWorkerUrl } from 'maplibre-gl';
import 'maplibre-gl/dist/maplibre-gl.css';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';
import type { Position } from './along-leg.ts';
import { lonOffsetDeg } from './mercator.ts';

setWorkerUrl(workerUrl);

interface EmptyMap {
  readonly element: HTMLElement;
  readonly sources: StyleSpecification['sources'];
  readonly label: string;
}

export function emptyMap({ element, sources, label }: EmptyMap): GlMap {
  const map = new GlMap({
    container: element,
    style: { version: 8, sources, layers: [] },
    attributionControl: false,
    cooperativeGestures: true,
    dragRotate: false,
    pitchWithRotate: true,
    touchPitch: false,
    canvasContextAttributes: { antialias: true },
  });
  map.touchZoomRotate.disableRotation();
  map.getCanvas().setAttribute('aria-label', label);
  return map;
}

/** Pixels of a place, its longitude taken the short way round from the map's middle. */
export function projectOn(map: GlMap): (place: Position) => readonly [number, number] {
  return ([lonDeg, latDeg]) => {
    const { lng } = map.getCenter();
    const { x, y } = map.project([lng + lonOffsetDeg(lonDeg, lng), latDeg]);
    return [x, y];
  };
}
