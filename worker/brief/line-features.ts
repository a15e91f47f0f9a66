/** Lines and points of the brief: freezing levels, ground, minimum altitudes, stations. */
import { routeLine } from '../flight/antimeridian.ts';
import { MINIMUM_SOURCES, type RoutePoints } from '../flight/types.ts';
import type { BriefFeature } from '../schema/brief.ts';
import { ftFromM, nmFromM } from '../science/units.ts';
import { roundedNm as nm, rounded, stretchEdgesM } from './feature-geometry.ts';
import type { FeatureParts } from './features.ts';
import { freezingLines } from './freezing-levels.ts';
import { roundTo } from './round-to.ts';

export function freezingFeatures(parts: FeatureParts): BriefFeature[] {
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

export function terrainFeatures(parts: FeatureParts): BriefFeature[] {
  const edgesM = stretchEdgesM(parts.route);
  const { terrainM, terrainSource } = parts.minimum;
  const known = stretches(
    parts.route.pointCount,
    (point) => ({
      heightFt: Math.round(ftFromM(terrainM[point]!)),
      source: groundSourceOf(terrainSource[point]!),
    }),
    (a, b) => Object.is(a.heightFt, b.heightFt) && a.source === b.source,
  ).flatMap(({ value: { heightFt, source }, ...points }) =>
    source === undefined ? [] : [{ ...points, heightFt, source }],
  );
  return known.map(({ fromPoint, toPoint, heightFt, source }, number) => {
    const fromM = edgesM[fromPoint]!;
    const toM = edgesM[toPoint + 1]!;
    return {
      type: 'Feature' as const,
      id: `terrain-${number}`,
      geometry: stretchLine(parts, fromM, toM),
      properties: { kind: 'terrain' as const, fromNm: nm(fromM), toNm: nm(toM), heightFt, source },
    };
  });
}

/** undefined where no ground is known. */
function groundSourceOf(code: number) {
  const source = MINIMUM_SOURCES[code];
  return source === 'entered' || source === 'unknown' ? undefined : source;
}

export function minimumFeatures(parts: FeatureParts): BriefFeature[] {
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

export function sourceFeatures(parts: FeatureParts): BriefFeature[] {
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
