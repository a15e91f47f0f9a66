/** What a person does on the board. Each says what became of it; nothing is shown as done before the service said so. */
import type { BoardFlight, Mark, PutTail } from '../../../worker/schema/board.ts';
import type { Answer } from '../client/answer.ts';
import { askEvaluation, sendAcknowledgement, sendMark, sendTail } from './board-calls.ts';
import type { BoardLink } from './board-key.ts';
import { withFlight } from './board-state.ts';
import { failureWords } from './failure-words.ts';
import { minuteUtc, utcClock } from './leg-times.ts';
import { awaitsPerson, boardState, flights, link, notice, person, seen } from './store.ts';
import { allLooked, withLooked } from './unread.ts';

/** Does it in somebody's name: asks for one first where there is none. */
export function withPerson(act: (name: string) => void): void {
  if (person.peek() === '') awaitsPerson.value = act;
  else act(person.peek());
}

const MARKED: Readonly<Record<Mark['mark'], string>> = {
  departed: 'departed',
  arrived: 'arrived',
  cancelled: 'is cancelled',
};

/** @param atMs  undefined takes the mark off. */
export function setMark(flight: BoardFlight, mark: Mark['mark'], atMs: number | undefined): void {
  withPerson((by) => {
    const atUtc = atMs === undefined ? null : minuteUtc(atMs);
    void said(
      (at) => sendMark(at, flight.id, { mark, atUtc, by }),
      (answered) => {
        takeFlight(answered);
        const clock = atUtc === null ? '' : mark === 'cancelled' ? '' : ` ${utcClock(atUtc)} UTC`;
        const text =
          atUtc === null ? `${flight.label}: mark taken off` : `${flight.label} ${MARKED[mark]}${clock}`;
        const undo = () => setMark(answered, mark, undefined);
        notice.value = { text, isBad: false, ...(atUtc === null ? {} : { undo }) };
      },
    );
  });
}

export function acknowledge(flight: BoardFlight): void {
  const { change } = flight;
  if (change === null) return;
  lookAt(flight);
  withPerson((by) => {
    void said(
      (at) => sendAcknowledgement(at, { flightId: flight.id, seq: change.seq, by }),
      (acknowledged) => {
        const held = boardState.peek()?.flights.get(flight.id)?.flight;
        if (held !== undefined) takeFlight({ ...held, acknowledged });
      },
    );
  });
}

export function evaluateAgain(flight: BoardFlight): void {
  void said(
    (at) => askEvaluation(at, flight.id),
    () => {
      notice.value = { text: `${flight.label} is being worked out again`, isBad: false };
    },
  );
}

/** @returns  Whether it was taken. */
export async function enterTail(tail: string, state: Omit<PutTail, 'by'>, by: string): Promise<boolean> {
  return said(
    (at) => sendTail(at, tail, { ...state, by }),
    (answered) => {
      const board = boardState.peek();
      if (board === undefined) return;
      boardState.value = { ...board, tails: new Map(board.tails).set(answered.tail, answered) };
      notice.value = { text: `${tail} entered: its legs are being worked out again`, isBad: false };
    },
  );
}

/** It was looked at on this device. */
export function lookAt(flight: BoardFlight): void {
  seen.value = withLooked(seen.peek(), flight);
}

export function lookAtAll(): void {
  const state = boardState.peek();
  if (state !== undefined) seen.value = allLooked(state.seq, flights.peek());
}

function takeFlight(flight: BoardFlight): void {
  const state = boardState.peek();
  if (state !== undefined) boardState.value = withFlight(state, flight);
}

async function said<T>(
  send: (at: BoardLink) => Promise<Answer<T>>,
  take: (value: T) => void,
): Promise<boolean> {
  const at = link.peek();
  if (at === undefined) return false;
  const answer = await send(at);
  if (answer.kind === 'ok') take(answer.value);
  else notice.value = { text: `Not done: ${failureWords(answer)}`, isBad: true };
  return answer.kind === 'ok';
}
