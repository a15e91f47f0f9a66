/** A flight of a board as flat values, the same for every export. */
import type { BoardAnswer, BoardFlight, Evaluation } from '../schema/board.ts';
import { isOverdue, worstFirst } from '../schema/board-order.ts';

/** null where nothing is to be said; what is not known is said as "unknown". */
export type ExportedValue = string | number | boolean | null;

const UNKNOWN = 'unknown';

/** Flights in the order in which they call for somebody, each with its values. */
export function exportedFlights(answer: BoardAnswer) {
  const nowMs = Date.parse(answer.asOfUtc);
  return [...answer.flights]
    .sort((a, b) => worstFirst(a, b, nowMs))
    .map((flight) => ({ flight, values: exportedValues(flight, answer, nowMs) }));
}

function exportedValues(flight: BoardFlight, { asOfUtc, cautions }: BoardAnswer, nowMs: number) {
  const held = heldOf(flight);
  return {
    label: flight.label,
    tail: flight.tail,
    from: flight.from,
    to: flight.to,
    route: flight.routeText,
    departureUtc: flight.departureUtc,
    verdict: flight.verdict,
    why: flight.why,
    ...adviceOf(held),
    ...findingsOf(held),
    ...timesOf(flight.evaluation),
    inoperative: flight.inoperative.join(' '),
    departedUtc: flight.departed?.atUtc ?? null,
    arrivedUtc: flight.arrived?.atUtc ?? null,
    overdueAtUtc: flight.overdueAtUtc,
    isOverdue: isOverdue(flight, nowMs),
    isCancelled: flight.cancelled,
    changeUtc: flight.change?.atUtc ?? null,
    change: flight.change?.sentence ?? null,
    acknowledgedBy: acknowledgedBy(flight),
    asOfUtc,
    caution: cautions.join(' '),
  } satisfies Record<string, ExportedValue>;
}

/** One that does not hold any more says nothing but when it was made: its figures would read as if they were known. */
function heldOf({ evaluation, verdict, why }: BoardFlight): Evaluation | null {
  // One of unknown that is too old is told by the sentence alone.
  const holds = evaluation?.verdict === verdict && evaluation.sentence === why;
  return holds ? evaluation : null;
}

/** Who saw what was before the change has not seen the change. */
function acknowledgedBy({ acknowledged, change }: BoardFlight): string | null {
  const isSeen = acknowledged !== null && change !== null && acknowledged.seq >= change.seq;
  return isSeen ? acknowledged.by : null;
}

function adviceOf(held: Evaluation | null) {
  return {
    altitudeFt: held?.altitudeFt ?? null,
    acceptLowerFt: held?.acceptFt?.lowerFt ?? null,
    acceptUpperFt: held?.acceptFt?.upperFt ?? null,
    radio: held?.radio ?? null,
  };
}

function findingsOf(held: Evaluation | null) {
  const exposure = held?.exposure ?? null;
  return {
    icingMinutesHigh: exposure?.icingMinutesHigh ?? null,
    unknownMinutes: exposure?.unknownMinutes ?? null,
    worstIntensity: exposure?.worstIntensity ?? UNKNOWN,
    worstLargeDrops: exposure?.worstLargeDrops ?? UNKNOWN,
    builtMmHigh: exposure?.builtMmHigh ?? null,
    ...fluidOf(held),
    destinationWeather: held?.destination.standing ?? UNKNOWN,
    destinationSentence: held?.destination.sentence ?? UNKNOWN,
    ...alternateOf(held),
  };
}

/** Empty where fluid does not matter. */
function fluidOf(held: Evaluation | null) {
  const open = held === null || held.fluidUnknownWhy !== '' ? UNKNOWN : null;
  return {
    fluidOnBoardL: held?.fluid?.onBoardL ?? open,
    fluidNeededHighL: held?.fluid?.neededHighL ?? open,
    isFluidEnough: held?.fluid?.coversHighEstimate ?? open,
    fluidUnknownWhy: held?.fluidUnknownWhy ?? UNKNOWN,
  };
}

/** Empty where none is planned. */
function alternateOf(held: Evaluation | null) {
  const open = held === null ? UNKNOWN : null;
  return {
    alternate: held?.alternate?.aerodrome ?? open,
    alternateWeather: held?.alternate?.standing ?? open,
    alternateSentence: held?.alternate?.sentence ?? open,
  };
}

function timesOf(evaluation: Evaluation | null) {
  return {
    evaluatedUtc: evaluation?.atUtc ?? null,
    arrivalUtc: evaluation?.arrivalUtc ?? null,
    newestDataUtc: evaluation?.newestDataUtc ?? null,
    oldestDataUtc: evaluation?.oldestDataUtc ?? null,
    staleAtUtc: evaluation?.staleAtUtc ?? null,
    hasInventedData: evaluation?.hasInventedData ?? null,
  };
}

export type ExportedColumn = keyof ReturnType<typeof exportedValues>;

/** In the order in which a table has them. */
export const EXPORTED_COLUMNS: readonly ExportedColumn[] = [
  ...(['label', 'tail', 'from', 'to', 'departureUtc', 'verdict', 'why'] as const),
  ...(['altitudeFt', 'acceptLowerFt', 'acceptUpperFt', 'radio'] as const),
  ...(['icingMinutesHigh', 'unknownMinutes', 'worstIntensity', 'worstLargeDrops', 'builtMmHigh'] as const),
  ...(['fluidOnBoardL', 'fluidNeededHighL', 'isFluidEnough', 'fluidUnknownWhy', 'inoperative'] as const),
  ...(['destinationWeather', 'destinationSentence'] as const),
  ...(['alternate', 'alternateWeather', 'alternateSentence'] as const),
  ...(['arrivalUtc', 'departedUtc', 'arrivedUtc', 'overdueAtUtc', 'isOverdue', 'isCancelled'] as const),
  ...(['changeUtc', 'change', 'acknowledgedBy', 'route', 'evaluatedUtc'] as const),
  ...(['newestDataUtc', 'oldestDataUtc', 'staleAtUtc', 'hasInventedData', 'asOfUtc', 'caution'] as const),
];
