/** What one brief came to, as a board keeps and shows it: everything but its pictures. */
import { rounded } from '../flight/rounding.ts';
import type { Evaluation, IceEquipment, WeatherStanding } from '../schema/board.ts';
import type { Brief, BriefMember, Candidate, ExposureAnswer } from '../schema/brief.ts';
import type { BriefRequest } from '../schema/request.ts';
import type { SharedOfFlight } from '../sources/boards.ts';
import { bestCandidate } from './best-candidate.ts';
import { radioWords } from './radio.ts';
import { saidVerdict } from './said-verdict.ts';

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
  readonly inoperative: readonly IceEquipment[];
}

export function evaluationOf(brief: Brief, request: BriefRequest, context: EvaluationContext): Evaluation {
  const member = brief.brief;
  const best = bestCandidate(member);
  const arrivalMs = arrivalMsOf(brief, context.plannedMinutes);
  const fluidUnknownWhy = needsFluidFigure(member, best) ? context.fluidUnknownWhy : '';
  const { inoperative } = context;
  return {
    atUtc: new Date(context.atMs).toISOString(),
    request,
    methodVersion: context.methodVersion,
    ...saidVerdict(member, radioWords(brief), best, { fluidUnknownWhy, inoperative }),
    reasonCodes: reasonCodesOf(member),
    exposure: exposureOf(best),
    fluid: fluidOf(member),
    fluidUnknownWhy,
    destination: context.destination,
    alternate: context.alternate,
    arrivalUtc: arrivalMs === undefined ? null : new Date(arrivalMs).toISOString(),
    ...dataTimes(member),
    staleAtUtc: member.staleAtUtc,
    hasInventedData: member.data.some(({ invented }) => invented),
    line: lineOf(member),
  };
}

/** What a brief says that later ones are held against, and the weather that stood beside it. */
export function saidOf(
  { brief }: Brief,
  { destination, alternate }: Pick<Evaluation, 'destination' | 'alternate'>,
): SharedOfFlight['evaluation'] {
  return {
    verdict: brief.verdict.code,
    altitudeFt: brief.file?.altitudeFt ?? null,
    acceptFt: brief.file === null ? null : { ...brief.file.acceptFt },
    exposure: exposureOf(bestCandidate(brief)),
    reasonCodes: reasonCodesOf(brief),
    ...{ destination, alternate },
  };
}

function reasonCodesOf({ verdict }: BriefMember): string[] {
  return [...new Set(verdict.reasons.map(({ code }) => code))].sort();
}

/**
 * The later of the altitude that is spoken of and the planned minutes, which count from block to block; epoch ms, undefined where
 * neither is known.
 */
export function arrivalMsOf({ brief }: Brief, plannedMinutes: number | null): number | undefined {
  const flownMinutes = bestCandidate(brief)?.exposure?.timeMinutes;
  if (flownMinutes === undefined && plannedMinutes === null) return undefined;
  const minutes = Math.max(flownMinutes ?? 0, plannedMinutes ?? 0);
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
    fluidTripHighL: fluidTakenHighL(exposure),
  };
}

const ON_ARRIVAL: readonly string[] = ['vectors', 'approach'];

/** Trip, vectors and approach are flown every time; a hold and an alternate are planned for only. */
function fluidTakenHighL({ fluidTripL, parts }: ExposureAnswer): number | null {
  if (fluidTripL === null) return null;
  const highOf = (names: readonly string[]) =>
    parts.reduce((sum, { part, fluidL }) => sum + (names.includes(part) ? (fluidL?.high ?? 0) : 0), 0);
  const arrivalL = highOf(ON_ARRIVAL);
  // The trip's own figure has the priming in it, unless the trip needs no fluid.
  const primingL = fluidTripL.high === 0 && arrivalL > 0 ? highOf(['taxi']) : 0;
  return rounded(fluidTripL.high + arrivalL + primingL, 'fluidL', 'api');
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
