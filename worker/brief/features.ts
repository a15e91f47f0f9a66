/** Curtain to GeoJSON: the features that plan view, cross-section and API users all draw from. Meters become feet here. */

import { routeLine } from '../flight/antimeridian.ts';
import { corridorPolygon, corridorStrip } from '../flight/corridor.ts';
import type { MinimumAltitudes, RoutePoints } from '../flight/types.ts';
import { MINIMUM_SOURCES } from '../flight/types.ts';
import type { BriefFeature } from '../schema/brief.ts';
import {
  CELL_STATE,
  CELL_STATE_WORDS,
  ICE_KIND_WORDS,
  type IcingColumns,
  INTENSITY_WORDS,
  LARGE_DROPS_WORDS,
  type WeatherColumns,
} from '../science/columns.ts';
import { ftFromM, mmPerMinFromMps, nmFromM } from '../science/units.ts';
import { type CellBlock, icingCategories, tileBlocks } from './bands.ts';
import { freezingLines } from './freezing-levels.ts';
import type { UsedSource } from './gather-weather.ts';
import { roundTo } from './round-to.ts';

export interface FeatureParts {
  readonly route: RoutePoints;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly minimum: MinimumAltitudes;
  readonly used: readonly UsedSource[];
  readonly corridorHalfWidthM: number;
  readonly indicatedMinusPressureM: number;
}

/** Cloud at least this probable is drawn as cloud. */
const CLOUD_PROBABILITY = 0.5;
const COORDINATE_STEP = 1e-5;

export function briefFeatures(parts: FeatureParts): BriefFeature[] {
  const edgesM = stretchEdgesM(parts.route);
  const ground = { edgesM, footprints: makeFootprints(parts, edgesM) };
  return [
    routeFeature(parts.route),
    corridorFeature(parts),
    ...bandFeatures(parts, ground),
    ...cloudFeatures(parts, ground),
    ...freezingFeatures(parts),
    ...terrainFeatures(parts),
    ...minimumFeatures(parts),
    ...sourceFeatures(parts),
  ];
}

/** Edges of each point's stretch of the route, m: halfway to its neighbors; length pointCount + 1. */
export function stretchEdgesM(route: RoutePoints): Float64Array {
  const edges = new Float64Array(route.pointCount + 1);
  for (let point = 1; point < route.pointCount; point += 1) {
    edges[point] = (route.distanceM[point - 1]! + route.distanceM[point]!) / 2;
  }
  edges[route.pointCount] = route.distanceM[route.pointCount - 1]!;
  return edges;
}

function routeFeature(route: RoutePoints): BriefFeature {
  const coordinates = Array.from(route.latDeg, (latDeg, point) => [route.lonDeg[point]!, latDeg]);
  return {
    type: 'Feature',
    id: 'route',
    geometry: rounded(routeLine(coordinates)),
    properties: { kind: 'route', distanceNm: nm(route.distanceM[route.pointCount - 1]!) },
  };
}

function corridorFeature(parts: FeatureParts): BriefFeature {
  return {
    type: 'Feature',
    id: 'corridor',
    geometry: rounded(corridorPolygon(parts.route, parts.corridorHalfWidthM)),
    properties: { kind: 'corridor', halfWidthNm: nm(parts.corridorHalfWidthM) },
  };
}

/** Footprints of stretches of the route, each worked out once: many bands stand over the same ground. */
type Footprints = (fromPoint: number, toPoint: number) => ReturnType<typeof corridorStrip>;

function makeFootprints(parts: FeatureParts, edgesM: Float64Array): Footprints {
  const known = new Map<string, ReturnType<typeof corridorStrip>>();
  return (fromPoint, toPoint) => {
    const key = `${fromPoint}:${toPoint}`;
    const found = known.get(key);
    if (found !== undefined) return found;
    const stretch = {
      fromM: edgesM[fromPoint]!,
      toM: edgesM[toPoint + 1]!,
      halfWidthM: parts.corridorHalfWidthM,
    };
    const footprint = rounded(corridorStrip(parts.route, stretch));
    known.set(key, footprint);
    return footprint;
  };
}

/** A block's edges as they stand in properties. */
function blockEdges(parts: FeatureParts, edgesM: Float64Array, block: CellBlock) {
  return {
    fromNm: nm(edgesM[block.fromPoint]!),
    toNm: nm(edgesM[block.toPoint + 1]!),
    lowerFt: edgeFt(parts, block.lowerCell),
    upperFt: edgeFt(parts, block.upperCell + 1),
  };
}

/** What features over the ground share: the edges of the stretches and their footprints. */
interface GroundPlan {
  readonly edgesM: Float64Array;
  readonly footprints: Footprints;
}

function bandFeatures(parts: FeatureParts, { edgesM, footprints }: GroundPlan): BriefFeature[] {
  const { icing } = parts;
  return tileBlocks(icingCategories(icing), icing.columnCount, icing.axis.cellCount).map((block, number) => ({
    type: 'Feature' as const,
    id: `band-${number}`,
    geometry: footprints(block.fromPoint, block.toPoint),
    properties: {
      kind: 'icing-band' as const,
      ...blockEdges(parts, edgesM, block),
      ...bandContent(icing, block),
    },
  }));
}

function bandContent(icing: IcingColumns, block: CellBlock) {
  const first = block.fromPoint * icing.axis.cellCount + block.lowerCell;
  const state = CELL_STATE_WORDS[icing.state[first]!] ?? 'no-data';
  if (state !== 'known') {
    return {
      state,
      intensity: null,
      iceKind: null,
      probability: null,
      growthMmPerMin: null,
      largeDrops: null,
      envelopeRatio: null,
    };
  }
  const isIcy = block.category !== 0;
  return {
    state,
    intensity: isIcy ? INTENSITY_WORDS[icing.intensity[first]!]! : INTENSITY_WORDS[0],
    iceKind: isIcy ? ICE_KIND_WORDS[icing.iceKind[first]!]! : ICE_KIND_WORDS[0],
    probability: roundedDown(greatest(icing, icing.icingProbability, block)),
    growthMmPerMin: isIcy ? roundTo(mmPerMinFromMps(greatest(icing, icing.wingGrowthMps, block)), 0.01) : 0,
    largeDrops: LARGE_DROPS_WORDS[icing.largeDrops[first]!]!,
    envelopeRatio: isIcy ? roundTo(greatest(icing, icing.envelopeRatio, block), 0.01) : 0,
  };
}

function greatest(icing: IcingColumns, values: Float32Array, block: CellBlock): number {
  let most = 0;
  for (let point = block.fromPoint; point <= block.toPoint; point += 1) {
    const offset = point * icing.axis.cellCount;
    for (let cell = block.lowerCell; cell <= block.upperCell; cell += 1) {
      most = Math.max(most, values[offset + cell]!);
    }
  }
  return most;
}

function cloudFeatures(parts: FeatureParts, { edgesM, footprints }: GroundPlan): BriefFeature[] {
  const { icing } = parts;
  const category = Int32Array.from(icing.state, (state, index) =>
    state === CELL_STATE.known && icing.cloudProbability[index]! >= CLOUD_PROBABILITY ? 1 : 0,
  );
  return tileBlocks(category, icing.columnCount, icing.axis.cellCount)
    .filter((block) => block.category === 1)
    .map((block, number) => ({
      type: 'Feature' as const,
      id: `cloud-${number}`,
      geometry: footprints(block.fromPoint, block.toPoint),
      properties: {
        kind: 'cloud-band' as const,
        ...blockEdges(parts, edgesM, block),
        probability: roundTo(greatest(icing, icing.cloudProbability, block), 0.01),
      },
    }));
}

function freezingFeatures(parts: FeatureParts): BriefFeature[] {
  const { route } = parts;
  return freezingLines(parts.weather).map((line, number) => ({
    type: 'Feature' as const,
    id: `freezing-level-${number}`,
    geometry: rounded(routeLine(line.points.map((point) => [route.lonDeg[point]!, route.latDeg[point]!]))),
    properties: {
      kind: 'freezing-level' as const,
      crossing: number + 1,
      distanceNm: line.points.map((point) => nm(route.distanceM[point]!)),
      altitudeFt: line.altitudeM.map((altitudeM) =>
        roundTo(ftFromM(altitudeM + parts.indicatedMinusPressureM), 10),
      ),
    },
  }));
}

/** Neighboring points of equal value as one stretch. */
function stretches<Value>(
  count: number,
  at: (point: number) => Value,
  isSame: (a: Value, b: Value) => boolean,
): { fromPoint: number; toPoint: number; value: Value }[] {
  const found: { fromPoint: number; toPoint: number; value: Value }[] = [];
  for (let point = 0; point < count; point += 1) {
    const value = at(point);
    const last = found.at(-1);
    if (last !== undefined && isSame(last.value, value)) last.toPoint = point;
    else found.push({ fromPoint: point, toPoint: point, value });
  }
  return found;
}

function stretchLine(parts: FeatureParts, fromM: number, toM: number) {
  return rounded(corridorStripMiddle(parts.route, fromM, toM));
}

function corridorStripMiddle(route: RoutePoints, fromM: number, toM: number) {
  const inside: number[][] = [];
  for (let point = 0; point < route.pointCount; point += 1) {
    const distanceM = route.distanceM[point]!;
    if (distanceM < fromM || distanceM > toM) continue;
    inside.push([route.lonDeg[point]!, route.latDeg[point]!]);
  }
  const line = inside.length === 1 ? [inside[0]!, inside[0]!] : inside;
  return routeLine(line);
}

function terrainFeatures(parts: FeatureParts): BriefFeature[] {
  const edgesM = stretchEdgesM(parts.route);
  return stretches(
    parts.route.pointCount,
    (point) => Math.round(ftFromM(parts.minimum.terrainM[point]!)),
    (a, b) => Object.is(a, b),
  )
    .filter((stretch) => Number.isFinite(stretch.value))
    .map((stretch, number) => {
      const fromM = edgesM[stretch.fromPoint]!;
      const toM = edgesM[stretch.toPoint + 1]!;
      return {
        type: 'Feature' as const,
        id: `terrain-${number}`,
        geometry: stretchLine(parts, fromM, toM),
        properties: { kind: 'terrain' as const, fromNm: nm(fromM), toNm: nm(toM), heightFt: stretch.value },
      };
    });
}

function minimumFeatures(parts: FeatureParts): BriefFeature[] {
  const edgesM = stretchEdgesM(parts.route);
  const { minimum } = parts;
  return stretches(
    parts.route.pointCount,
    (point) => ({ altitudeM: minimum.altitudeM[point]!, source: minimum.source[point]! }),
    (a, b) => Object.is(a.altitudeM, b.altitudeM) && a.source === b.source,
  ).map(({ fromPoint, toPoint, value }, number) => {
    const fromM = edgesM[fromPoint]!;
    const toM = edgesM[toPoint + 1]!;
    return {
      type: 'Feature' as const,
      id: `minimum-altitude-${number}`,
      geometry: stretchLine(parts, fromM, toM),
      properties: {
        kind: 'minimum-altitude' as const,
        fromNm: nm(fromM),
        toNm: nm(toM),
        altitudeFt: Number.isFinite(value.altitudeM) ? Math.round(ftFromM(value.altitudeM)) : null,
        source: MINIMUM_SOURCES[value.source] ?? 'unknown',
      },
    };
  });
}

function sourceFeatures(parts: FeatureParts): BriefFeature[] {
  return parts.used.flatMap((source) =>
    source.latDeg === undefined || source.lonDeg === undefined
      ? []
      : [
          {
            type: 'Feature' as const,
            id: source.id,
            geometry: rounded({ type: 'Point' as const, coordinates: [source.lonDeg, source.latDeg] }),
            properties: {
              kind: 'source' as const,
              dataId: source.id,
              name: source.name,
              validUtc: new Date(source.validMs).toISOString(),
              distanceNm: roundTo(nmFromM(source.nearestM), 1),
            },
          },
        ],
  );
}

function edgeFt(parts: FeatureParts, cell: number): number {
  const { lowestM, cellDepthM } = parts.icing.axis;
  return Math.round(ftFromM(lowestM + cell * cellDepthM + parts.indicatedMinusPressureM));
}

const nm = (distanceM: number) => roundTo(nmFromM(distanceM), 0.01);

/** Probability in hundredths, never rounded up into the next step of the bands. */
function roundedDown(probability: number): number {
  return Math.floor(probability * 100 + 1e-6) / 100;
}

/** The same geometry with coordinates rounded to about a meter, so that equal inputs give equal bytes. */
function rounded<Geometry extends { readonly coordinates: unknown }>(geometry: Geometry): Geometry {
  const round = (value: unknown): unknown =>
    typeof value === 'number' ? roundTo(value, COORDINATE_STEP) : (value as unknown[]).map(round);
  return { ...geometry, coordinates: round(geometry.coordinates) };
}
