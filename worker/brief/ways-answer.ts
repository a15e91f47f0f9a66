/** The ways there are: the filed route, others round, waiting, and not going, side by side in one order. Pure. */
import { isAcceptable } from '../flight/file-advice.ts';
import { HAZARD_STEP_S, icingMiddleS, rankCandidates } from '../flight/ranking.ts';
import type { CandidateResult, Exposure } from '../flight/types.ts';
import { gravityOf } from '../flight/verdict-rules.ts';
import type { Way } from '../schema/brief.ts';
import { nmFromM } from '../science/units.ts';
import { candidateAnswer } from './choice-answer.ts';
import { lackSentences } from './data-reasons.ts';
import { DEPARTURE_STEP_MS } from './later-departures.ts';
import { type ChosenLeg, usedByAir } from './leg-choice.ts';
import { roundTo } from './round-to.ts';
import { utc } from './utc.ts';

type FlownBest = CandidateResult & { readonly exposure: Exposure };
type Row = Omit<Way, 'isBest'>;

/** A row of the table, with what the order looks at where the way is known to be within limits. */
interface RankedRow {
  readonly row: Row;
  readonly acceptable: FlownBest | undefined;
}

export function waysAnswer(given: {
  readonly filed: ChosenLeg;
  readonly others: readonly ChosenLeg[];
  /** Earliest first. */
  readonly later: readonly ChosenLeg[];
}): Way[] {
  const { filed, others, later } = given;
  const going: RankedRow[] = [
    routeRow(filed, { kind: 'route', id: 'filed' }),
    ...others.map((other, index) => routeRow(other, { kind: 'route', id: `other-${index + 1}` })),
    ...(later.length === 0 ? [] : [waitRow(filed, later)]),
  ];
  const acceptable = going.flatMap(({ row, acceptable: best }) => (best ? [{ ...best, row }] : []));
  const best = rankCandidates(acceptable)[0]?.row;
  return [
    ...going.map(({ row }) => ({ ...row, isBest: row === best })),
    { ...cancelRow(going.map(({ row }) => row)), isBest: best === undefined },
  ];
}

const NO_FIGURES = {
  routeText: null,
  distanceNm: null,
  departureUtc: null,
  arrivalUtc: null,
  verdict: null,
  altitudeFt: null,
  icingMinutes: null,
  unknownMinutes: null,
  builtMm: null,
  fluidL: null,
  timeMinutes: null,
  fuelKg: null,
} as const;

function routeRow(leg: ChosenLeg, { kind, id }: Pick<Row, 'kind' | 'id'>): RankedRow {
  const { plan, choice } = leg;
  const best = choice.considered;
  const row: Row = {
    ...NO_FIGURES,
    kind,
    id,
    routeText: plan.resolved.text,
    distanceNm: roundTo(nmFromM(plan.route.distanceM.at(-1)!), 0.01),
    departureUtc: utc(plan.departureMs),
    verdict: choice.verdict.code,
    ...figuresOf(leg, best),
    sentence: [
      `${choice.verdict.sentence}${minimumWords(leg)}`,
      ...lackSentences(usedByAir(leg).flat()),
    ].join('. '),
  };
  return { row, acceptable: isFlown(best) && isAcceptable(choice.verdict.code) ? best : undefined };
}

function figuresOf({ plan, air }: ChosenLeg, best: CandidateResult | undefined): Partial<Row> {
  if (!isFlown(best)) return { arrivalUtc: utc(air.etaMs.at(-1)!) };
  const { altitudeFt, exposure } = candidateAnswer(best, {
    aircraft: plan.aircraft,
    distanceM: plan.route.distanceM,
  });
  if (exposure === null) return { altitudeFt };
  const hasKnown = exposure.iceChancePct !== null;
  return {
    arrivalUtc: utc(plan.departureMs + best.exposure.totalS * 1000),
    altitudeFt,
    icingMinutes: hasKnown ? exposure.icingMinutes : null,
    unknownMinutes: exposure.unknownMinutes,
    builtMm: hasKnown ? exposure.builtMm : null,
    fluidL: exposure.fluidL,
    timeMinutes: exposure.timeMinutes,
    fuelKg: exposure.fuelKg,
  };
}

/** A lower altitude is no better where nobody knows how low one may fly. */
function minimumWords({ reads }: ChosenLeg): string {
  const { legSource } = reads.minimum;
  if (legSource === 'unknown') return '; its minimum altitude is unknown';
  return legSource === 'partly-unknown' ? '; its minimum altitude is partly unknown' : '';
}

/** The best later departure where it is worth waiting for; else that none is. */
function waitRow(filed: ChosenLeg, later: readonly ChosenLeg[]): RankedRow {
  const within = later.flatMap((leg) => {
    const best = leg.choice.considered;
    return isFlown(best) && isAcceptable(leg.choice.verdict.code) ? [{ ...best, leg }] : [];
  });
  const best = rankCandidates(within)[0];
  if (best === undefined || !isWorthWaiting(filed, best))
    return { row: idleRow(later), acceptable: undefined };
  const { row, acceptable } = routeRow(best.leg, { kind: 'wait', id: 'wait' });
  const hours = hoursBetween(filed, best.leg);
  const sentence = `Leave ${hours} h later, at ${row.departureUtc?.slice(11, 16)} UTC. ${row.sentence}`;
  return { row: { ...row, sentence }, acceptable };
}

/** By a better verdict, or by at least five minutes less in ice or unknown air. */
function isWorthWaiting(filed: ChosenLeg, later: FlownBest): boolean {
  const now = filed.choice.considered;
  if (!isFlown(now) || gravityOf(later.verdict) < gravityOf(filed.choice.verdict.code)) return true;
  const gainS = icingMiddleS(now) - icingMiddleS(later);
  return later.verdict === filed.choice.verdict.code && gainS >= HAZARD_STEP_S;
}

function idleRow(later: readonly ChosenLeg[]): Row {
  const unknown = later.filter(({ choice }) => choice.verdict.code === 'unknown').length;
  const unknownWords = unknown === 0 ? '' : `; ${unknown} of ${later.length} later departures are unknown`;
  const sentence = `Leaving up to ${later.length} h later gains nothing${unknownWords}`;
  return { ...NO_FIGURES, kind: 'wait', id: 'wait', sentence };
}

const hoursBetween = (filed: ChosenLeg, later: ChosenLeg): number =>
  Math.round((later.plan.departureMs - filed.plan.departureMs) / DEPARTURE_STEP_MS);

/** What speaks for not going is that nothing else is known to be within limits; this is about icing alone. */
function cancelRow(rows: readonly Row[]): Row {
  const judged = rows.filter(({ verdict }) => verdict !== null);
  const count = (test: (verdict: Way['verdict']) => boolean) =>
    judged.filter(({ verdict }) => test(verdict)).length;
  const within = count((verdict) => verdict !== null && isAcceptable(verdict));
  const outside = count((verdict) => verdict === 'outside-limits');
  const sentence =
    within > 0
      ? `${within} of ${judged.length} ways within the limits of icing: whether to go is yours to decide`
      : `No way is known to be within limits: ${outside} outside limits, ${judged.length - outside} unknown`;
  return { ...NO_FIGURES, kind: 'cancel', id: 'cancel', sentence };
}

const isFlown = (candidate: CandidateResult | undefined): candidate is FlownBest =>
  candidate?.exposure !== undefined;
