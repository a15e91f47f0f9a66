/** What a push says of flights that got worse: verdict, flight, change, age of the data and whose decision it is. */
import type { BoardFlight } from '../schema/board.ts';
import type { VerdictCode } from '../schema/choice-words.ts';
import type { Board, PushMessage } from '../sources/boards.ts';

const VERDICTS: Readonly<Record<VerdictCode, string>> = {
  'no-ice-found': 'no ice found',
  'within-limits': 'within limits',
  'outside-limits': 'outside limits',
  unknown: 'unknown',
};

const CAUTION = 'Advice only: the pilot in command, the manuals and the official briefing decide.';
/** More than these come as one message: a new forecast can worsen hundreds. */
export const MOST_SINGLE = 3;
const MOST_NAMED = 3;
/** With all around it a notice stays under what devices show: see web/offline/push-notice.ts. */
const LONGEST_SENTENCE = 100;
const LONGEST_NAME = 40;

/** One message a flight, or one for all of them where they are many; none for none. */
export function pushMessages(board: Board, flights: readonly BoardFlight[]): PushMessage[] {
  if (flights.length > MOST_SINGLE) return [summaryOf(board, flights)];
  return flights.map((flight) => messageOf(board, flight));
}

function messageOf(board: Board, flight: BoardFlight): PushMessage {
  const sentence = (flight.change?.sentence ?? flight.why).slice(0, LONGEST_SENTENCE);
  return {
    title: `${kindOf(board)}${nameOf(flight)}: ${VERDICTS[flight.verdict]}`,
    body: [
      `${board.name.slice(0, LONGEST_NAME)}.`,
      `${sentence}.`,
      `Departs ${instantText(flight.departureUtc)}.`,
      dataOf(flight),
      CAUTION,
    ].join(' '),
    path: `/board/${board.id}`,
    topic: topicOf(flight),
  };
}

function summaryOf(board: Board, flights: readonly BoardFlight[]): PushMessage {
  const counts = (['outside-limits', 'unknown'] as const)
    .map((code) => ({ code, count: flights.filter(({ verdict }) => verdict === code).length }))
    .filter(({ count }) => count > 0)
    .map(({ code, count }) => `${count} ${VERDICTS[code]}`);
  const named = flights.slice(0, MOST_NAMED).map((flight) => `${nameOf(flight)} ${VERDICTS[flight.verdict]}`);
  const more = flights.length > MOST_NAMED ? [`${flights.length - MOST_NAMED} more`] : [];
  return {
    title: `${kindOf(board)}${flights.length} flights got worse${counts.length > 0 ? `: ${counts.join(', ')}` : ''}`,
    body: `${board.name.slice(0, LONGEST_NAME)}. ${[...named, ...more].join('; ')}. The age of each one’s data stands on the board. ${CAUTION}`,
    path: `/board/${board.id}`,
    topic: board.id,
  };
}

function kindOf({ standsMs }: Board): string {
  return standsMs === undefined ? '' : 'Training: ';
}

function nameOf({ label, from, to }: BoardFlight): string {
  return `${label} ${from}–${to}`;
}

function dataOf({ evaluation }: BoardFlight): string {
  if (evaluation === null) return 'Not worked out.';
  const { atUtc, oldestDataUtc, newestDataUtc, hasInventedData } = evaluation;
  const data =
    oldestDataUtc === null || newestDataUtc === null
      ? 'no data'
      : `data of ${instantText(oldestDataUtc)} to ${instantText(newestDataUtc)}`;
  return `Worked out ${instantText(atUtc)} on ${data}.${hasInventedData ? ' Partly invented data.' : ''}`;
}

/** "2026-01-14 11:30 UTC": a push may be read on another day. */
function instantText(utc: string): string {
  return `${utc.slice(0, 10)} ${utc.slice(11, 16)} UTC`;
}

/** A push service takes at most 32 characters of base64url: the leg's 22 and the day's six. */
function topicOf({ id, legId }: BoardFlight): string {
  return `${legId}${id.slice(-8).replaceAll('-', '')}`;
}
