/** Curtain to GeoJSON: the features that plan view, cross-section and API users all draw from. Meters become feet here. */

import { routeLine } from '../flight/antimeridian.ts';
import { corridorPolygon, corridorStrip } from '../flight/corridor.ts';
import type { MinimumAltitudes, RoutePoints } from '../flight/types.ts';
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
import { ftFromM, mmPerMinFromMps } from '../science/units.ts';
import { type CellBlock, icingCategories, tileBlocks } from './bands.ts';
import { roundedNm as nm, rounded, stretchEdgesM } from './feature-geometry.ts';
import type { UsedSource } from './gather-weather.ts';
import { hazardFeatures } from './hazard-features.ts';
import type { LegHazard } from './leg-hazards.ts';
import type { LegNotes } from './leg-notes.ts';
import { freezingFeatures, minimumFeatures, sourceFeatures, terrainFeatures } from './line-features.ts';
import { noteFeatures } from './note-features.ts';
import { roundTo } from './round-to.ts';

export interface FeatureParts {
  readonly route: RoutePoints;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly minimum: MinimumAltitudes;
  readonly used: readonly UsedSource[];
  readonly hazards: readonly LegHazard[];
  readonly notes: LegNotes;
  readonly departureMs: number;
  readonly corridorHalfWidthM: number;
  readonly indicatedMinusPressureM: number;
}

/** Cloud at least this probable is drawn as cloud. */
const CLOUD_PROBABILITY = 0.5;

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
    ...hazardFeatures(parts),
    ...noteFeatures(parts),
  ];
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

function edgeFt(parts: FeatureParts, cell: number): number {
  const { lowestM, cellDepthM } = parts.icing.axis;
  return Math.round(ftFromM(lowestM + cell * cellDepthM + parts.indicatedMinusPressureM));
}

/** Probability in hundredths, never rounded up into the next step of the bands. */
function roundedDown(probability: number): number {
  return Math.floor(probability * 100 + 1e-6) / 100;
}
