/** Reports and warnings around a leg: read once, laid over its points and times, and placed on the earth. */
import type { MultiPolygon, Point, Polygon } from 'geojson';
import { ringPolygon } from '../flight/antimeridian.ts';
import { besideRoute } from '../flight/beside-route.ts';
import { bufferPolygon } from '../flight/corridor.ts';
import { alongGreatCircles, type HazardArea } from '../flight/hazard-areas.ts';
import {
  type Hazard,
  type HazardFact,
  type HazardLeg,
  hazardsOnLeg,
  LONGEST_TOLERANCE_MS,
  widestReachM,
} from '../flight/hazards.ts';
import { destination, type Position } from '../science/great-circle.ts';
import type { BriefReads } from '../sources/ports.ts';
import {
  type FoundReports,
  type ReportKind,
  type StoredReport,
  standingReports,
} from '../sources/reports.ts';
import { boxAround, type ReadingWindow } from './leg-data.ts';

/** A hazard with what it is drawn and listed by. */
export interface LegHazard {
  readonly hazard: Hazard;
  /** undefined for the notice that reports are left out. */
  readonly reportKind: ReportKind | undefined;
  /** null where nobody knows the place, or how far it goes. */
  readonly geometry: Polygon | MultiPolygon | Point | null;
  /** Least distance of a reported place from the route, m; undefined where it is not known, and of warnings. */
  readonly fromRouteM: number | undefined;
}

export interface ReportWindow extends Omit<ReadingWindow, 'leg'> {
  readonly corridorHalfWidthM: number;
}

/** Everything that may bear on the leg, whenever within the window the aeroplane comes by. */
export function readLegReports(
  { reports }: Pick<BriefReads, 'reports'>,
  { route, earliestMs, latestMs, laterByMs, operators, corridorHalfWidthM }: ReportWindow,
): Promise<FoundReports> {
  return reports.find({
    operators,
    fromMs: Math.min(...earliestMs) - LONGEST_TOLERANCE_MS,
    toMs: Math.max(...latestMs) + laterByMs + LONGEST_TOLERANCE_MS,
    ...boxAround(route, widestReachM(corridorHalfWidthM)),
  });
}

/**
 * What holds on the leg, in an order that does not hang on that of the store.
 *
 * @checked tests/brief/leg-hazards.test.ts
 */
export function legHazards({ reports, isPartial }: FoundReports, leg: HazardLeg): LegHazard[] {
  const standing = standingReports(reports).toSorted(
    (a, b) => b.issuedMs - a.issuedMs || compare(a.id, b.id) || compare(a.operator, b.operator),
  );
  const told = standing.flatMap((report) => {
    const hazards = hazardsOnLeg(factsOf(report), leg);
    if (hazards.length === 0) return [];
    const isPlace = report.hazardKind !== 'warning';
    const place = {
      reportKind: report.kind,
      geometry: geometryOf(report),
      fromRouteM: isPlace ? besideRoute(report.areas, leg.route)?.distanceM : undefined,
    };
    return hazards.map((hazard) => ({ hazard, ...place }));
  });
  const said = new Set<string>();
  const once = told.filter(({ hazard }) => {
    const words = wordsOf(hazard);
    const isNew = !said.has(words);
    said.add(words);
    return isNew;
  });
  return isPartial ? [...once, ...partialNotice(leg)] : once;
}

/** Everything but the identifier: the same words in two bulletins, or of two operators, are one hazard. */
const wordsOf = ({ id: _, ...hazard }: Hazard) => Object.values(hazard).join();

const compare = (a: string, b: string) => (a < b ? -1 : Number(a > b));

function factsOf({ operator, id, hazardKind, issuedMs, areas, ice }: StoredReport): HazardFact[] {
  return ice.map(({ severity, sentence, fromMs, toMs, lower, upper }, number) => ({
    id: `report-${operator}-${id}-${number + 1}`,
    kind: hazardKind,
    severity,
    sentence,
    validFromMs: fromMs,
    validToMs: toMs,
    issuedMs,
    areas,
    lower,
    upper,
  }));
}

/** What was left out may have told of ice anywhere on the leg. */
function partialNotice(leg: HazardLeg): LegHazard[] {
  const fact: HazardFact = {
    id: 'reports-left-out',
    kind: 'warning',
    severity: 'unstated',
    sentence: 'Some reports around the leg could not be read',
    validFromMs: Math.min(...leg.etaMs),
    validToMs: Math.max(...leg.etaMs),
    issuedMs: Math.min(...leg.etaMs),
    areas: [{ kind: 'unknown', box: undefined }],
    lower: { kind: 'open' },
    upper: { kind: 'open' },
  };
  const nowhere = { reportKind: undefined, geometry: null, fromRouteM: undefined };
  return hazardsOnLeg([fact], leg).map((hazard) => ({ hazard, ...nowhere }));
}

function geometryOf({ hazardKind, areas }: StoredReport): LegHazard['geometry'] {
  if (hazardKind !== 'warning') return pointOf(areas[0]!);
  const polygons = areas.flatMap((area) => polygonOf(area) ?? []);
  if (polygons.length < areas.length) return null;
  if (polygons.length === 1) return polygons[0]!;
  const coordinates = polygons.flatMap((each) =>
    each.type === 'Polygon' ? [each.coordinates] : each.coordinates,
  );
  return { type: 'MultiPolygon', coordinates };
}

/** Of a line its middle point. */
export function pointOf(area: HazardArea): Point | null {
  if (area.kind === 'circle') return { type: 'Point', coordinates: positionOf(area.center) };
  if (area.kind !== 'line') return null;
  return { type: 'Point', coordinates: positionOf(area.points[Math.floor(area.points.length / 2)]!) };
}

const CIRCLE_POINTS = 48;

function polygonOf(area: HazardArea): Polygon | MultiPolygon | undefined {
  if (area.kind === 'polygon') return ringPolygon(alongGreatCircles(area.ring).map(positionOf));
  if (area.kind === 'line')
    return bufferPolygon(alongGreatCircles(area.points).map(positionOf), area.halfWidthM);
  if (area.kind !== 'circle') return undefined;
  const ring = Array.from({ length: CIRCLE_POINTS }, (_, index) =>
    destination(area.center, (2 * Math.PI * index) / CIRCLE_POINTS, area.radiusM),
  );
  return ringPolygon(ring.map(positionOf));
}

const positionOf = ({ latDeg, lonDeg }: Position) => [lonDeg, latDeg];
