/** Sources and layers of the map: colors are read from the page's style sheet, so that both themes hold here too. */
import type { FeatureCollection, Geometry } from 'geojson';
import type { AddLayerObject, StyleSpecification } from 'maplibre-gl';
import type { Brief } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { lookOf, patternsOf } from '../look.ts';
import { airAlong } from './along-leg.ts';
import type { BaseMap } from './base-map.ts';
import type { BandPiece } from './plan-bands.ts';
import { warningAreas } from './report-marks.ts';

export function mapSources(brief: Brief, baseMap: BaseMap): StyleSpecification['sources'] {
  return {
    ...baseSources(baseMap),
    corridor: geojson(collection(featuresOf(brief, 'corridor'))),
    air: geojson({ type: 'Feature', properties: {}, geometry: airAlong(brief) }),
    route: geojson(collection(featuresOf(brief, 'route'))),
    bands: geojson(collection([])),
    warnings: geojson(collection(warningAreas(brief))),
    wall: geojson(collection([])),
    'wall-lines': geojson(collection([])),
  };
}

/** Land, borders and states, for any map of the page. */
export function baseSources(baseMap: BaseMap): StyleSpecification['sources'] {
  return {
    land: geojson(baseMap.land),
    states: geojson({ type: 'Feature', properties: {}, geometry: baseMap.states }),
    borders: geojson({ type: 'Feature', properties: {}, geometry: baseMap.borders }),
  };
}

export const geojson = (data: unknown) => ({ type: 'geojson' as const, data: data as FeatureCollection });

function collection(features: readonly { readonly geometry: unknown }[]): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: features.map(({ geometry }) => ({
      type: 'Feature',
      properties: {},
      geometry: geometry as Geometry,
    })),
  };
}

/** Each band with the names of its paints, so that a layer need only ask for one. */
export function paintedBands(pieces: readonly BandPiece[]) {
  return {
    type: 'FeatureCollection' as const,
    features: pieces.map(({ band, geometry }) => ({
      type: 'Feature' as const,
      geometry,
      properties: { featureId: band.id, paints: patternsOf(lookOf(band.properties)).join(' ') },
    })),
  };
}

const SOLIDS = ['paper', 'ground', 'trace', 'light', 'moderate', 'severe'] as const;
const BAND_PATTERNS = ['unknown', 'possible', 'likely', 'large-drops'] as const;
export const PATTERN_NAMES = [...BAND_PATTERNS, 'warning'] as const;

export function baseLayers(): AddLayerObject[] {
  return [
    { id: 'water', type: 'background', paint: { 'background-color': ink('--water') } },
    fill('land', '--paper'),
    { ...stroke('land', '--ink-soft', 0.8), id: 'coast' },
    stroke('states', '--rule', 1),
    stroke('borders', '--ink-soft', 1.2),
  ];
}

export function mapLayers(): AddLayerObject[] {
  return [
    ...baseLayers(),
    { id: 'air', type: 'fill', source: 'air', paint: { 'fill-pattern': 'unknown' } },
    ...SOLIDS.map(
      (name): AddLayerObject => ({
        ...fill('bands', `--paint-${name}`),
        id: `bands-${name}`,
        filter: hasPaint(name),
      }),
    ),
    ...BAND_PATTERNS.map(
      (name): AddLayerObject => ({
        id: `bands-${name}`,
        type: 'fill',
        source: 'bands',
        filter: hasPaint(name),
        paint: { 'fill-pattern': name },
      }),
    ),
    { ...stroke('corridor', '--ink', 1.2), id: 'corridor-edge' },
    { id: 'warnings', type: 'fill', source: 'warnings', paint: { 'fill-pattern': 'warning' } },
    { ...dashed('warnings', '--ink', 2), id: 'warning-edge' },
    stroke('route', '--ink', 2),
    ...WALL_LAYERS.map(
      (id): AddLayerObject => ({
        id,
        type: 'fill-extrusion',
        source: id,
        layout: { visibility: 'none' },
        paint: {
          ...(id === 'wall' ? { 'fill-extrusion-pattern': ['get', 'picture'] } : wallLinePaint()),
          'fill-extrusion-base': ['get', 'baseM'],
          'fill-extrusion-height': ['get', 'topM'],
          'fill-extrusion-vertical-gradient': false,
        },
      }),
    ),
  ];
}

/** Shown only while the map is tilted. */
export const WALL_LAYERS = ['wall', 'wall-lines'] as const;

function wallLinePaint() {
  const color = ['match', ['get', 'line'], 'rule', ink('--ink-soft'), ink('--ink')];
  return { 'fill-extrusion-color': color as unknown as string };
}

const hasPaint = (name: string) =>
  ['in', `paint-${name}`, ['get', 'paints']] as ['in', string, ['get', string]];

function fill(source: string, property: string) {
  const paint = { 'fill-color': ink(property), 'fill-antialias': false };
  return { id: source, type: 'fill' as const, source, paint };
}

export function stroke(source: string, property: string, widthPx: number) {
  const paint = { 'line-color': ink(property), 'line-width': widthPx };
  return { id: source, type: 'line' as const, source, paint };
}

function dashed(source: string, property: string, widthPx: number) {
  const { paint, ...layer } = stroke(source, property, widthPx);
  return { ...layer, paint: { ...paint, 'line-dasharray': [4, 2.5] } };
}

/** The color a custom property has now. */
export function ink(property: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(property).trim();
}
