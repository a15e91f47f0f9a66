/** The ticks of a leg's line: left and arrived, each with one tap at the present time. */
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { setMark } from './acts.ts';
import { utcClock } from './leg-times.ts';

interface RowMarksProps {
  readonly flight: BoardFlight;
  /** By the tab key: of the row that the keyboard is at. */
  readonly isReachable: boolean;
  readonly canEdit: boolean;
  readonly nowMs: number;
}

export function RowMarks({ flight, isReachable, canEdit, nowMs }: RowMarksProps) {
  const { departed, arrived, cancelled, label } = flight;
  if (cancelled) return <span class="mark-done">Cancelled</span>;
  const tick = (mark: 'departed' | 'arrived', word: string) => (
    <button
      type="button"
      tabIndex={isReachable ? 0 : -1}
      aria-label={`${label}: ${word.toLowerCase()} now`}
      onClick={(event) => {
        event.stopPropagation();
        setMark(flight, mark, nowMs);
      }}
    >
      {word}
    </button>
  );
  return (
    <>
      {departed !== null && (
        <span class="mark-done">
          ✓ left {utcClock(departed.atUtc)} <span class="quiet">{departed.by}</span>
        </span>
      )}
      {departed === null && arrived === null && canEdit && tick('departed', 'Mark departed')}
      {arrived !== null && (
        <span class="mark-done">
          ✓ in {utcClock(arrived.atUtc)} <span class="quiet">{arrived.by}</span>
        </span>
      )}
      {arrived === null && canEdit && departed !== null && tick('arrived', 'Mark arrived')}
      {departed === null && arrived === null && !canEdit && <span class="quiet">not departed</span>}
    </>
  );
}
