/** The head of a leg that is open: which, when, and how it stands. */
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { VERDICT_WORDS } from '../words.ts';
import { departsWords, utcClock, zoneClock } from './leg-times.ts';
import { boardState, nowMs } from './store.ts';

export function LegTitle({ flight }: { readonly flight: BoardFlight | undefined }) {
  if (flight === undefined) return <h2>Leg</h2>;
  return (
    <div class="leg-title">
      <VerdictShape code={flight.verdict} sizePx={30} />
      <h2>
        {flight.label}{' '}
        <span class="leg-title-way">
          {flight.from} → {flight.to}
        </span>
      </h2>
      <p>
        <b>{VERDICT_WORDS[flight.verdict]}</b>
        <span>
          {utcClock(flight.departureUtc)} UTC,{' '}
          {zoneClock(flight.departureUtc, boardState.value!.board.timeZone)},{' '}
          {departsWords(flight, nowMs.value)}
        </span>
      </p>
    </div>
  );
}
