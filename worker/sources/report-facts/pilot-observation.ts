/**
 * A pilot's report as an observation that forecasts can be compared with: where and when, what it says of ice, and cloud tops.
 * What cannot be compared is kept and says why; nothing is guessed to make a report count.
 */
import type {
  AltitudeBand,
  IcingIntensity,
  IcingLayer,
  LocatedPoint,
  PilotReport,
} from '../../formats/pilot-reports/report.ts';
import { isNullIcing } from '../../formats/pilot-reports/report.ts';
import { greatCircleDistanceM, type Position } from '../../science/great-circle.ts';
import { mFromNm, nmFromM } from '../../science/units.ts';
import { LARGE_DROPS } from './pilot-facts.ts';

export const SAID = ['ice', 'no-ice', 'nothing'] as const;
export type Said = (typeof SAID)[number];

/** Altitudes as a pilot reads them, ft; the lower is 0 where he says "below" alone. */
export interface ObservedBand {
  readonly lowerFt: number;
  readonly upperFt: number;
}

export interface PilotObservation {
  /** Epoch ms; undefined where it is not told. */
  readonly timeMs: number | undefined;
  /** One for a place, two or more for the ends of legs, none where the place is not known. */
  readonly points: readonly Position[];
  /** "BTV", "ALB 090/20": as the report names it; empty where it does not. */
  readonly placeWords: string;
  /** Of the heaviest ice, or of what is denied; undefined where no altitude is known. */
  readonly band: ObservedBand | undefined;
  /** `nothing`: no element of icing, or none that can be read, or one that denies what other words name. */
  readonly said: Said;
  /** undefined where no ice is said. */
  readonly heaviest: Exclude<IcingIntensity, 'none'> | undefined;
  /** Highest cloud top that is stated, ft. */
  readonly topFt: number | undefined;
  /** Freezing precipitation or large drops are named. */
  readonly isLargeDrops: boolean;
  /** Why nothing can be compared: where or when is not known. */
  readonly whyUnplaced: string | undefined;
  /** Why what it says of ice cannot be scored, whatever the forecast; undefined where it can. */
  readonly whyUnscored: string | undefined;
}

/** Reports are timed to minutes and clocks differ; one from later than this was given a wrong time, ms. */
const MOST_AHEAD_MS = 10 * 60_000;
/** Ice somewhere on longer legs together is ice nowhere in particular (judgement), NM. */
const LONGEST_LEGS_NM = 100;
/** Higher reports tell of ice crystals and are left out. @source common practice of verification, from memory */
const HIGHEST_FT = 30_000;

/**
 * @param receivedMs  when the report came in, epoch ms.
 * @checked           tests/sources/report-facts/pilot-observation.test.ts
 */
export function pilotObservation(report: PilotReport, receivedMs: number): PilotObservation {
  const said = saidBy(report);
  const layer = layerOf(report, said);
  const band = layer === undefined ? undefined : bandAround(layer.band);
  return {
    timeMs: report.timeMs,
    points:
      report.place.kind === 'unknown'
        ? []
        : report.place.points.map(({ latDeg, lonDeg }) => ({ latDeg, lonDeg })),
    placeWords: placeWords(report),
    band,
    said,
    heaviest: said === 'ice' && layer?.heaviest !== 'none' ? layer?.heaviest : undefined,
    topFt: highestTopFt(report),
    isLargeDrops: namesLargeDrops(report),
    whyUnplaced: whyUnplaced(report, receivedMs),
    whyUnscored: whyUnscored(report, said, band),
  };
}

function saidBy({ icing, icingMentions }: PilotReport): Said {
  if (icing.kind !== 'reported') return 'nothing';
  if (icing.layers.some(({ heaviest }) => heaviest !== 'none')) return 'ice';
  return isNullIcing({ icing, icingMentions }) ? 'no-ice' : 'nothing';
}

const HEAVIER: readonly IcingIntensity[] = ['none', 'unstated', 'trace', 'light', 'moderate', 'severe'];

/** Of ice the heaviest layer, one of known altitude before another; of none the layer that spans most. */
function layerOf({ icing }: PilotReport, said: Said): IcingLayer | undefined {
  if (icing.kind !== 'reported' || said === 'nothing') return undefined;
  const depthFt = ({ band }: IcingLayer) => {
    const around = bandAround(band);
    return around === undefined ? -1 : around.upperFt - around.lowerFt;
  };
  return icing.layers.toSorted(
    (a, b) => HEAVIER.indexOf(b.heaviest) - HEAVIER.indexOf(a.heaviest) || depthFt(b) - depthFt(a),
  )[0];
}

/** Of "above" nobody knows how far up. */
function bandAround(band: AltitudeBand): ObservedBand | undefined {
  if (band.kind === 'layer') return { lowerFt: band.lowerFt, upperFt: band.upperFt };
  return band.kind === 'below' ? { lowerFt: 0, upperFt: band.upperFt } : undefined;
}

function highestTopFt({ sky }: PilotReport): number | undefined {
  const topsFt = (sky.kind === 'reported' ? sky.layers : []).flatMap(({ top }) => top?.upperFt ?? []);
  return topsFt.length === 0 ? undefined : Math.max(...topsFt);
}

function namesLargeDrops({ weather, icingMentions, remarks }: PilotReport): boolean {
  const words = [...icingMentions.map(({ text }) => text), remarks ?? ''].join(' ');
  return weather.phenomena.some((each) => /FZ(?:RA|DZ|UP)|PL/.test(each)) || LARGE_DROPS.test(words);
}

function whyUnplaced({ timeMs, place }: PilotReport, receivedMs: number): string | undefined {
  if (timeMs === undefined) return 'no time that can be read';
  if (timeMs > receivedMs + MOST_AHEAD_MS) return 'its time is later than the report came in';
  if (place.kind === 'unknown') return `no place: ${place.reason}`;
  const legsM = place.points.slice(1).map((to, index) => greatCircleDistanceM(place.points[index]!, to));
  const legsNm = nmFromM(legsM.reduce((sum, legM) => sum + legM, 0));
  if (legsNm <= LONGEST_LEGS_NM) return undefined;
  const what = legsM.length === 1 ? 'a leg' : `a chain of ${legsM.length} legs`;
  return `${what} of ${Math.round(legsNm)} NM is no place`;
}

function whyUnscored(report: PilotReport, said: Said, band: ObservedBand | undefined): string | undefined {
  const { icing } = report;
  if (icing.kind === 'unreadable') return 'its words on icing cannot be read';
  if (icing.kind === 'not-reported') return 'it says nothing of icing';
  if (said === 'nothing') return 'it denies icing and names it';
  if (band === undefined) return 'no altitude of what it says of icing';
  if (band.lowerFt > HIGHEST_FT) return 'above FL300';
  // Cloud that builds is told by no column of air for its minute and mile.
  return report.weather.phenomena.some((each) => each.includes('TS')) ? 'in a thunderstorm' : undefined;
}

function placeWords({ location, station }: PilotReport): string {
  if (location.kind === 'at-station') return station ?? '';
  return location.kind === 'points' ? location.points.map(pointWords).join('-') : '';
}

const inNm = (distanceM: number) => Math.round(distanceM / mFromNm(1));
const threeFigures = (deg: number) => String(Math.round(deg)).padStart(3, '0');

function pointWords(point: LocatedPoint): string {
  switch (point.kind) {
    case 'fix':
      return point.identifier;
    case 'radial':
      return `${point.identifier} ${threeFigures(point.radialDeg)}/${inNm(point.distanceM)}`;
    case 'direction':
      return `${inNm(point.distanceM)} NM ${threeFigures(point.bearingDeg)} of ${point.identifier}`;
    case 'coordinates':
      return `${point.latDeg.toFixed(2)} ${point.lonDeg.toFixed(2)}`;
  }
}
