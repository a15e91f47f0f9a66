/** The leg's brief: the main page itself at the very same leg, so that both desks look at one picture. */
import { useSignal } from '@preact/signals';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { briefAddress } from './brief-address.ts';
import { utcClock } from './leg-times.ts';

interface LegBriefProps {
  readonly flight: BoardFlight;
  readonly boardId: string;
}

export function LegBrief({ flight, boardId }: LegBriefProps) {
  const { evaluation, failure } = flight;
  /** What is open: a newer one never takes its place under the reader. */
  const opened = useSignal(evaluation?.atUtc);
  const address = useSignal(briefAddress(flight, boardId));
  const isLoaded = useSignal(false);
  const load = () => {
    opened.value = evaluation?.atUtc;
    address.value = briefAddress(flight, boardId);
    isLoaded.value = false;
  };
  if (evaluation === null)
    return (
      <section class="leg-brief leg-brief-none">
        <p class="unknown-place">
          <span>Unknown: this leg was not worked out yet</span>
        </p>
        <p>
          Known of it: {flight.routeText}, departing {utcClock(flight.departureUtc)} UTC.
          {failure === null
            ? ''
            : ` The last attempt failed at ${utcClock(failure.atUtc)} UTC: ${failure.sentence}`}
        </p>
      </section>
    );
  const isNewer = opened.value !== evaluation.atUtc;
  return (
    <section class="leg-brief">
      {isNewer && (
        <p class="brief-newer" role="status">
          {opened.value === undefined
            ? 'Worked out by now'
            : `Worked out again at ${utcClock(evaluation.atUtc)} UTC`}
          .{' '}
          <button type="button" onClick={load}>
            Load its brief
          </button>
        </p>
      )}
      {!isLoaded.value && address.value !== undefined && (
        <p class="brief-loading" role="status">
          Opening the brief
        </p>
      )}
      {address.value !== undefined && (
        <iframe
          key={`${opened.value} ${address.value}`}
          src={address.value}
          title={`Brief of ${flight.label}, ${flight.from} to ${flight.to}`}
          onLoad={() => (isLoaded.value = true)}
        />
      )}
      <p class="quiet">
        <a href={briefAddress(flight, boardId)!} target="_blank" rel="noreferrer">
          The brief on a page of its own
        </a>
      </p>
    </section>
  );
}
