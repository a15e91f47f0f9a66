/** SIGMET and AIRMET as facts that bear on legs. */
import type { Box, HazardArea, OpenSide } from '../../flight/hazard-areas.ts';
import type { HazardLevel } from '../../flight/hazard-levels.ts';
import type { HazardSeverity } from '../../flight/hazards.ts';
import { withThousands } from '../../flight/words.ts';
import { compassDeg } from '../../formats/pilot-reports/compass.ts';
import type {
  LevelBand,
  Movement,
  PlacedBoundary,
  Warning,
  WarningArea,
  WarningGeometry,
  WarningLevel,
} from '../../formats/warnings/warning.ts';
import { destination, type Position, RAD_PER_DEG } from '../../science/great-circle.ts';
import { mFromFt, mFromNm, mpsFromKt } from '../../science/units.ts';
import { regionBox } from '../region-boxes.ts';
import type { ReportedIce } from '../reports.ts';
import { statesBox } from '../state-boxes.ts';
import { clockWords, type FactContext, MS_PER_HOUR, type NewReport, OPEN } from './make-report.ts';

/** The longest that any of them holds: for one whose end cannot be read. */
const LONGEST_MS = 6 * MS_PER_HOUR;
/** Around a warning for one position: a judgement, since it says nothing of its extent. */
const POSITION_RADIUS_M = mFromNm(30);
/** Around a warning for one level (a judgement). */
const LEVEL_MARGIN_M = mFromFt(1000);
/** Of a movement without a speed: that of a fast winter low (a judgement), since an area too large hides no ice. */
const UNSTATED_SPEED_MPS = mpsFromKt(40);
/** A moving area is laid down again so often, m, at most so many times. */
const STEP_M = mFromNm(30);
const MOST_STEPS = 12;
/** Areas of the bulletins for the contiguous United States, and a location indicator of theirs. */
const CONTIGUOUS = new Set(['BOS', 'MIA', 'CHI', 'DFW', 'SLC', 'SFO']);
const CONTIGUOUS_INDICATOR = 'KKCI';

/** A warning, or why it is none: an exercise or a test. */
export function warningFacts(warning: Warning, { nowMs }: FactContext): NewReport | string {
  if (warning.status !== 'operational')
    return `status: found ${warning.status}, expected an operational warning`;
  const { form, action, text } = warning;
  const issuedMs = warning.validFromMs ?? nowMs;
  const validToMs = warning.validToMs ?? issuedMs + LONGEST_MS;
  const common = { kind: form, hazardKind: 'warning', rank: 0, issuedMs, text } as const;
  if (action.kind === 'cancel') {
    const fromMs = Math.min(issuedMs, action.validFromMs ?? issuedMs - LONGEST_MS);
    return {
      ...common,
      series: `${seriesOf(warning, warning.identification)} cancels`,
      validFromMs: fromMs,
      validToMs: action.validToMs ?? issuedMs + LONGEST_MS,
      areas: [{ kind: 'unknown', box: undefined }],
      ice: [],
      cancels: { series: seriesOf(warning, action.identification), validToMs: action.validToMs },
      // Without any time it may mean an earlier one of the name.
      isDoubtful: action.validToMs === undefined && warning.validFromMs === undefined,
    };
  }
  return {
    ...common,
    series: seriesOf(warning, warning.identification),
    validFromMs: issuedMs,
    validToMs,
    areas: areasOf(warning, validToMs - issuedMs),
    ice: iceOf(warning, issuedMs, validToMs),
    cancels: undefined,
    isDoubtful: false,
  };
}

function seriesOf({ form, style, office, region }: Warning, identification: string): string {
  return [form, style, office ?? '-', region?.indicator ?? '-', identification].join(' ');
}

function iceOf(warning: Warning, fromMs: number, toMs: number): ReportedIce[] {
  const told = severityOf(warning);
  if (told === undefined) return [];
  const { form, identification, levels, isOutlook } = warning;
  const name = `${form.toUpperCase()} ${identification}${isOutlook ? ' outlook' : ''}`;
  const height = levels === undefined ? '' : ` ${bandWords(levels)}`;
  return [
    {
      severity: isOutlook && told.severity !== 'large-drops' ? 'unstated' : told.severity,
      sentence: `${name}: ${told.words}${height} until ${clockWords(toMs)}`,
      fromMs,
      toMs,
      ...edgesOf(levels),
    },
  ];
}

/** Freezing precipitation that is named counts as large drops, whatever the warning is for. */
function severityOf(
  warning: Warning,
): { readonly severity: HazardSeverity; readonly words: string } | undefined {
  const { phenomenon, freezingPrecipitation } = warning;
  const named = freezingPrecipitation[0];
  if (named !== undefined) return { severity: 'large-drops', words: named.replace('-', ' ') };
  if (phenomenon.kind === 'icing') {
    const { intensity } = phenomenon;
    return { severity: intensity, words: intensity === 'unstated' ? 'icing' : `${intensity} icing` };
  }
  if (phenomenon.kind === 'not-stated') return { severity: 'unstated', words: 'hazard that cannot be read' };
  return undefined;
}

function bandWords(band: LevelBand): string {
  if (band.kind === 'at') return `at ${levelWords(band.level)}`;
  if (band.kind === 'layer') return `${levelWords(band.lower)} to ${levelWords(band.upper)}`;
  if (band.kind === 'above') return `above ${levelWords(band.lower)}`;
  if (band.kind === 'below') return `below ${levelWords(band.upper)}`;
  return `top ${band.top === 'at' ? '' : `${band.top} `}${levelWords(band.upper)}`;
}

function levelWords(level: WarningLevel): string {
  if (level.kind === 'surface') return 'surface';
  if (level.kind === 'freezing-level') return 'freezing level';
  if (level.kind === 'flight-level')
    return `FL${String(Math.round(level.altitudeFt / 100)).padStart(3, '0')}`;
  return `${withThousands(level.altitudeFt)} ft`;
}

/** Open where the text gives no edge, or says that it lies further on. */
function edgesOf(band: LevelBand | undefined): Pick<ReportedIce, 'lower' | 'upper'> {
  switch (band?.kind) {
    case 'at':
      return { lower: edgeOf(band.level, LEVEL_MARGIN_M), upper: edgeOf(band.level, LEVEL_MARGIN_M) };
    case 'layer':
      return { lower: edgeOf(band.lower, 0), upper: edgeOf(band.upper, 0) };
    case 'above':
      return { lower: edgeOf(band.lower, 0), upper: OPEN };
    case 'below':
      return { lower: OPEN, upper: edgeOf(band.upper, 0) };
    case 'top':
      return { lower: OPEN, upper: band.top === 'above' ? OPEN : edgeOf(band.upper, 0) };
    default:
      return { lower: OPEN, upper: OPEN };
  }
}

function edgeOf(level: WarningLevel, marginM: number): HazardLevel {
  if (level.kind === 'surface') return OPEN;
  if (level.kind === 'freezing-level') {
    const { lowestFt, highestFt } = level;
    return {
      kind: 'freezing-level',
      ...(lowestFt === undefined ? {} : { lowestM: mFromFt(lowestFt) }),
      ...(highestFt === undefined ? {} : { highestM: mFromFt(highestFt) }),
    };
  }
  const altitudeM = mFromFt(level.altitudeFt);
  return { kind: level.kind === 'flight-level' ? 'pressure-altitude' : 'altitude', altitudeM, marginM };
}

/** Where it is and where it moves from there, and where it is expected later; anywhere in its region if nobody can tell. */
function areasOf(warning: Warning, durationMs: number): HazardArea[] {
  const { areas, movement, later } = warning;
  const box = regionOf(warning);
  const placed = (told: readonly WarningArea[]) => told.map(({ geometry }) => areaOf(geometry, box));
  const first: HazardArea[] = areas.length === 0 ? [{ kind: 'unknown', box }] : placed(areas);
  return [...first.flatMap((area) => swept(area, movement, durationMs)), ...placed(later?.areas ?? [])];
}

/** Around all that it may speak for: the states that it names, else the region of its indicator. */
function regionOf({ style, office, region, places }: Warning): Box | undefined {
  if (style === 'icao') return regionBox(region?.indicator ?? office);
  // BOSZ for the AIRMET of ice, BOSP for a SIGMET.
  if (!CONTIGUOUS.has((office ?? '').slice(0, 3))) return undefined;
  return statesBox(places) ?? regionBox(CONTIGUOUS_INDICATOR);
}

function areaOf(geometry: WarningGeometry, box: Box | undefined): HazardArea {
  switch (geometry.kind) {
    case 'polygon':
    case 'line':
    case 'circle':
      return geometry;
    case 'point':
      return { kind: 'circle', center: geometry.point, radiusM: POSITION_RADIUS_M };
    case 'sides':
      return { kind: 'sides', sides: geometry.boundaries.flatMap(sideOf), box };
    case 'unknown':
      return { kind: 'unknown', box };
  }
}

/** A side whose direction is no word of the compass shuts nothing out. */
function sideOf(boundary: PlacedBoundary): OpenSide[] {
  if (boundary.kind !== 'line') return [boundary];
  const bearingDeg = compassDeg(boundary.side);
  return bearingDeg === undefined ? [] : [{ kind: 'line', bearingDeg, points: boundary.points }];
}

function swept(area: HazardArea, movement: Movement | undefined, durationMs: number): HazardArea[] {
  if (movement?.kind !== 'moving' || area.kind === 'sides' || area.kind === 'unknown') return [area];
  const furthestM = ((movement.speedMps ?? UNSTATED_SPEED_MPS) * durationMs) / 1000;
  const count = Math.min(MOST_STEPS, Math.ceil(furthestM / STEP_M));
  const courseRad = movement.towardDeg * RAD_PER_DEG;
  return Array.from({ length: count + 1 }, (_, step) =>
    shifted(area, (place) => destination(place, courseRad, count === 0 ? 0 : (furthestM * step) / count)),
  );
}

function shifted(
  area: Extract<HazardArea, { readonly kind: 'polygon' | 'line' | 'circle' }>,
  shift: (place: Position) => Position,
): HazardArea {
  if (area.kind === 'polygon') return { ...area, ring: area.ring.map(shift) };
  if (area.kind === 'line') return { ...area, points: area.points.map(shift) };
  return { ...area, center: shift(area.center) };
}
