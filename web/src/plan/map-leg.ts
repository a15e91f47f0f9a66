/** The map on which a leg is picked: land, borders, and the line between both ends. */
import type { GeoJSONSource } from 'maplibre-gl';
import type { Position } from './along-leg.ts';
import type { BaseMap } from './base-map.ts';
import { emptyMap, projectOn } from './gl-map.ts';
import { baseLayers, baseSources, geojson, stroke } from './map-layers.ts';
import type { Box } from './pick-leg.ts';

export interface LegGlMap {
  readonly project: (place: Position) => readonly [number, number];
  zoomBy(levels: number): void;
  showLine(ends: readonly Position[]): void;
  /** What is seen, in [-180, 180]. */
  seen(): Box;
  close(): void;
}

interface LegMapInput {
  readonly element: HTMLElement;
  readonly baseMap: BaseMap;
  readonly box: Box;
  readonly onReady: () => void;
  readonly onLost: () => void;
  readonly onMove: () => void;
  readonly onRest: () => void;
  readonly onTap: (x: number, y: number) => void;
}

export function openLegMap(input: LegMapInput): LegGlMap {
  const { element, baseMap, box, onReady, onLost, onMove, onRest, onTap } = input;
  const sources = { ...baseSources(baseMap), picked: geojson(lineOf([])) };
  const map = emptyMap({ element, sources, label: 'Map of aerodromes: Enter takes the one in the middle' });
  map.fitBounds([...box], { animate: false });
  const paint = () => {
    for (const { id } of map.getStyle().layers) map.removeLayer(id);
    for (const layer of [...baseLayers(), stroke('picked', '--ink', 2)]) map.addLayer(layer);
  };
  const scheme = matchMedia('(prefers-color-scheme: dark)');
  map.on('load', () => {
    paint();
    scheme.addEventListener('change', paint);
    onReady();
    onRest();
  });
  map.on('error', onLost);
  map.on('webglcontextlost', onLost);
  map.on('move', onMove);
  map.on('resize', onMove);
  map.on('moveend', onRest);
  map.on('click', ({ point }) => onTap(point.x, point.y));
  map.getCanvas().addEventListener('keydown', ({ key }) => {
    if (key === 'Enter') onTap(element.clientWidth / 2, element.clientHeight / 2);
  });
  return {
    project: projectOn(map),
    zoomBy: (levels) => void map.easeTo({ zoom: map.getZoom() + levels }),
    showLine: (ends) => void map.getSource<GeoJSONSource>('picked')?.setData(lineOf(ends)),
    seen() {
      const bounds = map.getBounds();
      return [
        bounds.getSouthWest().wrap().lng,
        Math.max(-90, bounds.getSouth()),
        bounds.getNorthEast().wrap().lng,
        Math.min(90, bounds.getNorth()),
      ];
    },
    close() {
      scheme.removeEventListener('change', paint);
      map.remove();
    },
  };
}

/** Straight on the map: only a hint of the leg, whose brief draws the true line. */
function lineOf(ends: readonly Position[]) {
  const geometry = { type: 'LineString' as const, coordinates: ends.map((end) => [...end]) };
  return { type: 'Feature' as const, properties: {}, geometry };
}
