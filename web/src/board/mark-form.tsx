/** Departed, arrived, cancelled: each with its time, which may be set right, and the way back. */
import { useSignal } from '@preact/signals';
import type { BoardFlight, Mark } from '../../../worker/schema/board.ts';
import { setMark } from './acts.ts';
import { instantNear, utcClock } from './leg-times.ts';
import { nowMs } from './store.ts';

export function MarkForm({ flight }: { readonly flight: BoardFlight }) {
  return (
    <section class="panel-part">
      <h3>Marks</h3>
      <TimedMark flight={flight} mark="departed" word="Departed" />
      <TimedMark flight={flight} mark="arrived" word="Arrived" />
      <p class="mark-line">
        <button
          type="button"
          aria-pressed={flight.cancelled}
          onClick={() => setMark(flight, 'cancelled', flight.cancelled ? undefined : nowMs.peek())}
        >
          {flight.cancelled ? 'Cancelled: take it off' : 'Cancel the leg'}
        </button>
      </p>
    </section>
  );
}

interface TimedMarkProps {
  readonly flight: BoardFlight;
  readonly mark: Exclude<Mark['mark'], 'cancelled'>;
  readonly word: string;
}

function TimedMark({ flight, mark, word }: TimedMarkProps) {
  const made = flight[mark];
  const typed = useSignal<string | undefined>(undefined);
  const now = nowMs.value;
  const clock = typed.value ?? utcClock(made?.atUtc ?? now);
  const nearMs = made === null ? now : Date.parse(made.atUtc);
  const atMs = instantNear(clock, nearMs);
  const isSame = made !== null && atMs !== undefined && utcClock(atMs) === utcClock(made.atUtc);
  const id = `mark-${mark}`;
  return (
    <p class="mark-line">
      <label for={id}>{word}, UTC</label>
      <input
        id={id}
        inputmode="numeric"
        autocomplete="off"
        maxlength={5}
        aria-invalid={atMs === undefined}
        value={clock}
        onInput={(event) => (typed.value = event.currentTarget.value)}
      />
      <button
        type="button"
        disabled={atMs === undefined || isSame}
        onClick={() => {
          if (atMs === undefined) return;
          typed.value = undefined;
          setMark(flight, mark, atMs);
        }}
      >
        {made === null ? 'Mark' : 'Set right'}
      </button>
      {made !== null && (
        <>
          <button
            type="button"
            onClick={() => {
              typed.value = undefined;
              setMark(flight, mark, undefined);
            }}
          >
            Undo
          </button>
          <span class="quiet">by {made.by}</span>
        </>
      )}
    </p>
  );
}
