/** What a shift hands to the next, as it stands on paper: words only, in UTC and in the board's own time. */
import { durationWords } from '../../../../worker/flight/words.ts';
import type { BoardAnswer, BoardFlight, WeatherStanding } from '../../../../worker/schema/board.ts';
import {
  isDone,
  isOverdue,
  VERDICTS_GRAVEST_FIRST,
  worstFirst,
} from '../../../../worker/schema/board-order.ts';
import type { VerdictCode } from '../../contract.ts';
import { feetText } from '../../numbers.ts';
import { VERDICT_WORDS } from '../../words.ts';
import { heldEvaluation } from '../held-evaluation.ts';
import { localClock, utcClock, utcMinute } from './sheet-times.ts';

/** What a cell says, line by line; the first that weigh stand out. */
export interface Line {
  readonly text: string;
  readonly isGrave?: boolean;
}

export interface SheetRow {
  readonly id: string;
  readonly verdict: VerdictCode;
  readonly time: readonly Line[];
  readonly flight: readonly Line[];
  readonly why: readonly Line[];
  readonly altitude: readonly Line[];
  readonly equipment: readonly Line[];
  readonly weather: readonly Line[];
  readonly change: readonly Line[];
}

export interface Sheet {
  readonly counts: readonly { readonly verdict: VerdictCode; readonly count: number }[];
  readonly overdue: number;
  readonly age: string;
  readonly isInvented: boolean;
  /** Worst first. */
  readonly rows: readonly SheetRow[];
  /** Arrived and cancelled, by departure. */
  readonly done: readonly string[];
}

export function sheetOf(answer: BoardAnswer): Sheet {
  const nowMs = Date.parse(answer.asOfUtc);
  const ahead = answer.flights.filter((flight) => !isDone(flight));
  const done = answer.flights
    .filter(isDone)
    .sort((a, b) => Date.parse(a.departureUtc) - Date.parse(b.departureUtc));
  return {
    counts: VERDICTS_GRAVEST_FIRST.map((verdict) => ({
      verdict,
      count: ahead.filter((flight) => flight.verdict === verdict).length,
    })),
    overdue: ahead.filter((flight) => isOverdue(flight, nowMs)).length,
    age: ageWords(ahead, nowMs),
    isInvented: answer.flights.some(({ evaluation }) => evaluation?.hasInventedData === true),
    rows: [...ahead]
      .sort((a, b) => worstFirst(a, b, nowMs))
      .map((flight) => rowOf(flight, answer.board.timeZone, nowMs)),
    done: done.map(doneWords),
  };
}

/** Of all data that an answer on the sheet rests on, and how many flights have none. */
function ageWords(flights: readonly BoardFlight[], nowMs: number): string {
  const oldest = flights
    .flatMap(({ evaluation }) => evaluation?.oldestDataUtc ?? [])
    .sort((a, b) => Date.parse(a) - Date.parse(b))[0];
  const without = flights.filter(({ evaluation }) => (evaluation?.oldestDataUtc ?? null) === null).length;
  const age =
    oldest === undefined
      ? 'No data in use'
      : `Oldest data in use ${utcMinute(oldest)}, ${durationWords(nowMs - Date.parse(oldest))} old`;
  return without === 0 ? age : `${age}; ${without} of ${flights.length} flights without data`;
}

function rowOf(flight: BoardFlight, timeZone: string, nowMs: number): SheetRow {
  return {
    id: flight.id,
    verdict: flight.verdict,
    time: timeLines(flight, timeZone, nowMs),
    flight: [
      { text: flight.label, isGrave: true },
      { text: flight.tail ?? 'no tail planned' },
      { text: `${flight.from}–${flight.to}` },
    ],
    why: whyLines(flight),
    altitude: altitudeLines(flight),
    equipment: [...fluidLines(flight), ...inoperativeLines(flight)],
    weather: weatherLines(flight),
    change: changeLines(flight),
  };
}

function timeLines(
  { departureUtc, departed, ...flight }: BoardFlight,
  timeZone: string,
  nowMs: number,
): Line[] {
  const local = localClock(departureUtc, timeZone);
  const lines: Line[] = [{ text: utcMinute(departureUtc), isGrave: true }];
  if (local !== undefined) lines.push({ text: `${local} local` });
  if (isOverdue(flight, nowMs))
    lines.push({ text: `OVERDUE since ${utcClock(flight.overdueAtUtc ?? '')}`, isGrave: true });
  lines.push({ text: departed ? `departed ${utcClock(departed.atUtc)} (${departed.by})` : 'not departed' });
  return lines;
}

function whyLines({ why, failure }: BoardFlight): Line[] {
  const lines: Line[] = [{ text: why }];
  if (failure !== null && !why.includes(failure.sentence))
    lines.push({ text: `Last attempt ${utcClock(failure.atUtc)}: ${failure.sentence}` });
  return lines;
}

/** What a verdict was worked out with before it became unknown is told as past, and no altitude of it as one to file. */
function altitudeLines(flight: BoardFlight): Line[] {
  const { evaluation } = flight;
  if (evaluation === null) return [{ text: 'none: never worked out', isGrave: true }];
  const { altitudeFt } = evaluation;
  const altitude = altitudeFt === null ? 'no altitude to file' : `${feetText(altitudeFt)} ft`;
  if (heldEvaluation(flight) === undefined) {
    const was = VERDICT_WORDS[evaluation.verdict].toLowerCase();
    return [
      { text: 'not to be held to', isGrave: true },
      { text: `at ${utcClock(evaluation.atUtc)} it was ${was}, ${altitude}` },
    ];
  }
  return [{ text: altitude, isGrave: true }, { text: `“${evaluation.radio}”` }];
}

const GONE: Line = { text: 'unknown: what was worked out is not to be held to', isGrave: true };

function fluidLines(flight: BoardFlight): Line[] {
  const evaluation = heldEvaluation(flight);
  if (evaluation === undefined && flight.evaluation !== null)
    return [{ ...GONE, text: `fluid ${GONE.text}` }];
  const fluid = evaluation?.fluid ?? null;
  if (fluid !== null) {
    const words = `fluid ${Math.floor(fluid.onBoardL)}\u00a0L, needs up to ${Math.ceil(fluid.neededHighL)}\u00a0L`;
    return fluid.coversHighEstimate ? [{ text: words }] : [{ text: `${words}: SHORT`, isGrave: true }];
  }
  const why = evaluation?.fluidUnknownWhy ?? 'never worked out';
  return why === '' ? [] : [{ text: `fluid unknown: ${why}`, isGrave: true }];
}

function inoperativeLines({ inoperative }: BoardFlight): Line[] {
  if (inoperative.length === 0) return [{ text: 'no INOP reported' }];
  const names = inoperative.map((name) => name.replaceAll('-', ' ')).join(', ');
  return [{ text: `INOP ${names}`, isGrave: true }];
}

function weatherLines(flight: BoardFlight): Line[] {
  if (flight.evaluation === null) return [{ text: 'unknown: never worked out', isGrave: true }];
  const evaluation = heldEvaluation(flight);
  if (evaluation === undefined) return [GONE];
  const { destination, alternate } = evaluation;
  return [
    weatherLine('', destination),
    alternate === null ? { text: 'no alternate' } : weatherLine('alternate ', alternate),
  ];
}

function weatherLine(start: string, { aerodrome, standing, sentence }: WeatherStanding): Line {
  const words = standing === 'unknown' ? 'unknown' : `${standing} minima`;
  return { text: `${start}${aerodrome} ${words}: ${sentence}`, isGrave: standing !== 'above' };
}

function changeLines({ change, acknowledged, shared }: BoardFlight): Line[] {
  const lines: Line[] = [];
  if (change !== null) {
    lines.push({ text: `${utcClock(change.atUtc)} ${change.sentence}` });
    const isSeen = acknowledged !== null && acknowledged.seq >= change.seq;
    lines.push(
      isSeen
        ? { text: `seen by ${acknowledged.by} ${utcClock(acknowledged.atUtc)}` }
        : { text: 'NOT ACKNOWLEDGED', isGrave: true },
    );
  }
  if (shared !== null) {
    const since =
      shared.since.length === 0
        ? 'the same verdict and altitude since'
        : `since then: ${shared.since.join('; ')}`;
    lines.push({ text: `shared ${utcClock(shared.atUtc)}, ${since}`, isGrave: shared.since.length > 0 });
  }
  return lines;
}

function doneWords(flight: BoardFlight): string {
  const { label, tail, from, to, departureUtc, arrived, cancelled } = flight;
  const end = cancelled ? 'cancelled' : `arrived ${utcClock(arrived?.atUtc ?? '')}`;
  return `${label} ${tail ?? 'no tail'} ${from}–${to} of ${utcMinute(departureUtc)}, ${end}`;
}
