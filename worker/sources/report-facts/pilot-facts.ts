/** Pilots' reports as facts that bear on legs. One that says that no ice was met holds none, and takes none away. */
import type { HazardArea } from '../../flight/hazard-areas.ts';
import type { HazardLevel } from '../../flight/hazard-levels.ts';
import type { HazardSeverity } from '../../flight/hazards.ts';
import { findFix } from '../../formats/pilot-reports/fix-places.ts';
import type {
  AltitudeBand,
  IcingIntensity,
  PilotReport,
  ReportLevel,
} from '../../formats/pilot-reports/report.ts';
import { mFromFt, mFromNm } from '../../science/units.ts';
import { bandWords } from './band-words.ts';
import {
  clockWords,
  type FactContext,
  fromUnknownPlace,
  type NewReport,
  OPEN,
  somewhereIn,
} from './make-report.ts';
import { FRESH_MS } from './metar-facts.ts';
import { pilotSaid } from './pilot-said.ts';

/** Ice is met a little above and below where a pilot says (a judgement). */
const LEVEL_MARGIN_M = mFromFt(2000);
/** A report is sent through the weather station nearest to it: so far around it at most (a judgement). */
const STATION_REACH_M = mFromNm(100);
export const LARGE_DROPS =
  /SLD|FZ(?:RA|DZ|UP)|(?:FRZG?|FZ|FREEZING) ?(?:RA|DZ|DRZL|PRECIP)|(?<![A-Z])Z[RL](?![A-Z])/;

interface Told {
  readonly severity: HazardSeverity;
  readonly words: string;
  readonly band: AltitudeBand | ReportLevel;
}

export function pilotFacts(report: PilotReport, context: FactContext): NewReport {
  const { form, station, text } = report;
  const timeMs = report.timeMs ?? context.nowMs;
  const toMs = timeMs + FRESH_MS;
  const place = placeOf(report, context);
  const ice = toldIn(report).map(({ severity, words, band }) => ({
    severity,
    sentence: `Pilot report: ${words}${bandWords(band)} at ${clockWords(timeMs)}`,
    fromMs: timeMs,
    toMs,
    lower: edgeOf(band, 'lowerFt'),
    upper: edgeOf(band, 'upperFt'),
  }));
  return {
    kind: form,
    hazardKind: 'pilot-report',
    series: `${form} ${station ?? report.aircraft ?? '-'} ${timeMs}`,
    rank: 0,
    issuedMs: timeMs,
    validFromMs: timeMs,
    validToMs: toMs,
    text,
    areas: [place.area],
    ice: place.isKnown ? ice : fromUnknownPlace(ice),
    cancels: undefined,
    isDoubtful: false,
    said: pilotSaid(report, ice.length > 0),
  };
}

function placeOf(report: PilotReport, context: FactContext): { area: HazardArea; isKnown: boolean } {
  const { place, station } = report;
  if (place.kind !== 'unknown') {
    const points = place.points.map(({ latDeg, lonDeg }) => ({ latDeg, lonDeg }));
    const [first, ...others] = points;
    if (others.length > 0) return { area: { kind: 'line', points, halfWidthM: 0 }, isKnown: true };
    return { area: { kind: 'circle', center: first!, radiusM: 0 }, isKnown: true };
  }
  const found = station === undefined ? undefined : findFix(station, { fixes: context.fixes });
  if (found?.kind !== 'found') return { area: somewhereIn(station), isKnown: false };
  const { latDeg, lonDeg } = found.fix;
  return { area: { kind: 'circle', center: { latDeg, lonDeg }, radiusM: STATION_REACH_M }, isKnown: true };
}

const SEVERITY: Readonly<Record<Exclude<IcingIntensity, 'none'>, HazardSeverity>> = {
  unstated: 'unstated',
  trace: 'unstated',
  light: 'unstated',
  moderate: 'moderate',
  severe: 'severe',
};

/** Layers of ice, freezing precipitation, and words about ice that no rule reads. */
function toldIn({ icing, icingMentions, weather, level, remarks }: PilotReport): Told[] {
  const told: Told[] = [];
  if (icing.kind === 'unreadable')
    told.push({ severity: 'unstated', words: 'icing that cannot be read', band: level });
  for (const { heaviest, what, band } of icing.kind === 'reported' ? icing.layers : []) {
    if (heaviest === 'none') continue;
    const words = [heaviest, what].filter((word) => word !== 'unstated').join(' ');
    told.push({ severity: SEVERITY[heaviest], words: `${words} ice`.trim(), band });
  }
  const freezing = weather.phenomena.some((each) => /FZ(?:RA|DZ|UP)|PL/.test(each));
  const mentions = icingMentions.map(({ text }) => text);
  const isLarge = LARGE_DROPS.test([...mentions, remarks ?? ''].join(' '));
  if (freezing || isLarge)
    told.push({ severity: 'large-drops', words: 'freezing precipitation', band: level });
  else if (mentions.length > 0)
    told.push({ severity: 'unstated', words: 'ice among its words', band: level });
  return told;
}

type Edge = 'lowerFt' | 'upperFt';

function edgeOf(band: Told['band'], edge: Edge): HazardLevel {
  const altitudeFt =
    band.kind === 'altitude' ? band.altitudeFt : edge in band ? band[edge as never] : undefined;
  if (altitudeFt === undefined) return OPEN;
  return { kind: 'altitude', altitudeM: mFromFt(altitudeFt), marginM: LEVEL_MARGIN_M };
}
