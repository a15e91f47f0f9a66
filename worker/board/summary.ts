/** What one brief came to, as a board keeps and shows it: everything but its pictures. */
import type { Evaluation, WeatherStanding } from '../schema/board.ts';
import type { Brief, BriefMember, Candidate } from '../schema/brief.ts';
import type { BriefRequest } from '../schema/request.ts';
import { bestCandidate } from './best-candidate.ts';
import { radioWords } from './radio.ts';

const MS_PER_MIN = 60_000;

export interface EvaluationContext {
  /** When its reading began, epoch ms. */
  readonly atMs: number;
  readonly methodVersion: string;
  readonly plannedMinutes: number | null;
  readonly destination: WeatherStanding;
  readonly alternate: WeatherStanding | null;
  /** Empty where the fluid on board is known. */
  readonly fluidUnknownWhy: string;
}

export function evaluationOf(brief: Brief, request: BriefRequest, context: EvaluationContext): Evaluation {
  const member = brief.brief;
  const best = bestCandidate(member);
  const arrivalMs = arrivalMsOf(brief, context.plannedMinutes);
  return {
    atUtc: new Date(context.atMs).toISOString(),
    request,
    methodVersion: context.methodVersion,
    verdict: member.verdict.code,
    sentence: member.verdict.sentence,
    radio: radioWords(brief),
    altitudeFt: member.file?.altitudeFt ?? null,
    acceptFt: member.file === null ? null : { ...member.file.acceptFt },
    exposure: exposureOf(best),
    fluid: fluidOf(member),
    fluidUnknownWhy: needsFluidFigure(member, best) ? context.fluidUnknownWhy : '',
    destination: context.destination,
    alternate: context.alternate,
    arrivalUtc: arrivalMs === undefined ? null : new Date(arrivalMs).toISOString(),
    ...dataTimes(member),
    staleAtUtc: member.staleAtUtc,
    hasInventedData: member.data.some(({ invented }) => invented),
    line: lineOf(member),
  };
}

/** What a brief says that later ones are held against. */
export function saidOf({ brief }: Brief): Pick<Evaluation, 'verdict' | 'altitudeFt' | 'exposure'> {
  return {
    verdict: brief.verdict.code,
    altitudeFt: brief.file?.altitudeFt ?? null,
    exposure: exposureOf(bestCandidate(brief)),
  };
}

/** By the altitude that is spoken of, else by the planned minutes, epoch ms; undefined where neither is known. */
export function arrivalMsOf({ brief }: Brief, plannedMinutes: number | null): number | undefined {
  const minutes = bestCandidate(brief)?.exposure?.timeMinutes ?? plannedMinutes;
  if (minutes === null) return undefined;
  return Date.parse(brief.leg.departureUtc) + Math.round(minutes * MS_PER_MIN);
}

function exposureOf(best: Candidate | undefined): Evaluation['exposure'] {
  const exposure = best?.exposure ?? null;
  if (best === undefined || exposure === null) return null;
  return {
    altitudeFt: best.altitudeFt,
    timeMinutes: exposure.timeMinutes,
    icingMinutesHigh: exposure.icingMinutes.high,
    unknownMinutes: exposure.unknownMinutes,
    builtMmHigh: exposure.builtMm.high,
    worstIntensity: exposure.worstIntensity,
    worstLargeDrops: exposure.worstLargeDrops,
    fluidTripHighL: exposure.fluidTripL?.high ?? null,
  };
}

function fluidOf({ fluid }: BriefMember): Evaluation['fluid'] {
  if (fluid === null) return null;
  const { onBoardL, neededL, coversHighEstimate } = fluid;
  return { onBoardL, neededHighL: neededL.high, coversHighEstimate };
}

/** Not where it was given, nor for an aeroplane without a fluid system. */
function needsFluidFigure({ limits }: BriefMember, best: Candidate | undefined): boolean {
  const exposure = best?.exposure ?? null;
  return limits.fluidOnBoardL === null && (exposure === null || exposure.fluidL !== null);
}

/** Instants that data are valid from: of a forecast its run, of an ascent its time. */
function dataTimes({ data }: BriefMember): Pick<Evaluation, 'newestDataUtc' | 'oldestDataUtc'> {
  const instants = data.map(({ runUtc, validUtc }) => runUtc ?? validUtc).sort();
  return { newestDataUtc: instants.at(-1) ?? null, oldestDataUtc: instants[0] ?? null };
}

const MOST_LINE_POINTS = 60;

/** Ends and fixes, and between them as many points as make a line of sixty; a thousandth of a degree is enough. */
function lineOf({ leg: { points } }: BriefMember): [number, number][] {
  const isEnd = (index: number) => index === 0 || index === points.length - 1;
  const fixes = points.filter(({ fix }, index) => isEnd(index) || fix !== null).length;
  // More fixes than that are told by every so many points alone.
  const hasRoom = fixes < MOST_LINE_POINTS;
  const step = Math.ceil(points.length / (hasRoom ? MOST_LINE_POINTS - fixes : MOST_LINE_POINTS - 1));
  return points
    .filter(({ fix }, index) => isEnd(index) || index % step === 0 || (hasRoom && fix !== null))
    .map(({ lonDeg, latDeg }) => [thousandth(lonDeg), thousandth(latDeg)]);
}

const thousandth = (deg: number) => Math.round(deg * 1000) / 1000 + 0;
