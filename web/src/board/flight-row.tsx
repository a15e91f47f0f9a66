/** One leg's line: a row of the ledger on a wide display, a card on a narrow one. Nothing of it is behind a menu. */
import { useMemo } from 'preact/hooks';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { isDone } from '../../../worker/schema/board-order.ts';
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { inUnits } from '../units.ts';
import { VERDICT_WORDS } from '../words.ts';
import { CELL, rowAt } from './grid-roles.ts';
import { heldEvaluation } from './held-evaluation.ts';
import { departsWords, otherDay, overdueMs, utcClock, zoneClock } from './leg-times.ts';
import { RowMarks } from './row-marks.tsx';
import {
  acceptWords,
  acknowledgedBy,
  altitudeSaid,
  builtWords,
  changeWords,
  fluidSaid,
  iceSaid,
  inoperativeWords,
  leastBadWords,
  type Said,
  sharedSaid,
  unknownStretchSaid,
  weathersSaid,
} from './row-words.ts';

interface FlightRowProps {
  readonly id: string;
  readonly index: number;
  readonly topPx: number;
  /** undefined for one that is no more, while its place is held. */
  readonly flight: BoardFlight | undefined;
  readonly isActive: boolean;
  readonly isOpen: boolean;
  readonly isUnread: boolean;
  readonly canEdit: boolean;
  readonly timeZone: string;
  readonly nowMs: number;
  readonly onOpen: (flight: BoardFlight) => void;
}

const MINUTE_MS = 60_000;

/** Drawn again only where something of it changed: a list that scrolls draws new rows alone. */
export function FlightRow(props: FlightRowProps) {
  const { flight, isActive, isOpen, isUnread, canEdit, timeZone, index, topPx } = props;
  const minute = Math.floor(props.nowMs / MINUTE_MS);
  return useMemo(
    () => <Row {...props} />,
    [flight, isActive, isOpen, isUnread, canEdit, timeZone, index, topPx, minute],
  );
}

function Row({ flight, ...props }: FlightRowProps) {
  const { index, topPx, isActive, isOpen, isUnread, onOpen } = props;
  const position = { transform: `translateY(${topPx}px)` };
  if (flight === undefined)
    return (
      <div {...rowAt(index + 2)} class="flight-row row-gone" style={position} tabIndex={-1}>
        <span role={CELL}>No more on the schedule</span>
      </div>
    );
  const marks = [
    `row-${flight.verdict}`,
    isOpen ? 'row-open' : '',
    isUnread ? 'row-unread' : '',
    isDone(flight) ? 'row-done' : '',
  ];
  // The keys are the list's: it knows which row is next.
  const behaves = { ...rowAt(index + 2), 'aria-selected': isOpen, onClick: () => onOpen(flight) };
  return (
    <div
      {...behaves}
      class={`flight-row ${marks.filter(Boolean).join(' ')}`}
      style={position}
      tabIndex={isActive ? 0 : -1}
    >
      <Cells flight={flight} {...props} />
    </div>
  );
}

type CellsProps = Omit<FlightRowProps, 'flight'> & { readonly flight: BoardFlight };

function Cells({ flight, isActive, isUnread, canEdit, timeZone, nowMs }: CellsProps) {
  const day = otherDay(flight.departureUtc, nowMs);
  return (
    <>
      <span role={CELL} class="cell-verdict">
        <VerdictShape code={flight.verdict} sizePx={34} />
        <b>{VERDICT_WORDS[flight.verdict]}</b>
      </span>
      <span role={CELL} class="cell-leg">
        <span class="leg-name">
          <b class="leg-label">{flight.label}</b> <span class="leg-tail">{flight.tail ?? 'no tail'}</span>
        </span>
        <span class="leg-way">
          {flight.from} → {flight.to}
        </span>
      </span>
      <span role={CELL} class="cell-departs">
        <b>{departsWords(flight, nowMs)}</b>
        <span>
          {day === '' ? '' : `${day} `}
          {utcClock(flight.departureUtc)} UTC
        </span>
        <span class="quiet">{zoneClock(flight.departureUtc, timeZone)}</span>
        <Overdue flight={flight} nowMs={nowMs} />
      </span>
      <AirCells flight={flight} />
      <Changed flight={flight} nowMs={nowMs} isUnread={isUnread} />
      <span role={CELL} class="cell-marks">
        <RowMarks flight={flight} isReachable={isActive} canEdit={canEdit} nowMs={nowMs} />
      </span>
    </>
  );
}

function Overdue({ flight, nowMs }: { readonly flight: BoardFlight; readonly nowMs: number }) {
  const overMs = overdueMs(flight, nowMs);
  if (overMs === undefined) return null;
  const minutes = Math.floor(overMs / MINUTE_MS);
  return <strong class="tag-overdue">{minutes === 0 ? 'Overdue' : `Overdue ${minutes} min`}</strong>;
}

function AirCells({ flight }: { readonly flight: BoardFlight }) {
  const { departureUtc } = flight;
  const held = heldEvaluation(flight);
  const why = inUnits(flight.why, departureUtc);
  const inoperative = inoperativeWords(flight.inoperative);
  return (
    <>
      <span role={CELL} class="cell-file">
        <Word said={altitudeSaid(flight)} isLarge />
        <span class="quiet">{acceptWords(flight)}</span>
      </span>
      <span role={CELL} class="cell-why" title={why}>
        {inoperative !== '' && <strong class="tag-inoperative">{inoperative}</strong>}
        {held !== undefined && <b class="radio">{inUnits(held.radio, departureUtc)}</b>}
        {/* Where there is little room the ten words stand for it. */}
        <span class={held === undefined ? 'why' : 'why why-said'}>{why}</span>
      </span>
      <span role={CELL} class="cell-ice">
        <Word said={iceSaid(flight)} />
        <span class="quiet">{[builtWords(flight), leastBadWords(flight)].filter(Boolean).join(', ')}</span>
        <Word said={unknownStretchSaid(flight)} />
      </span>
      <span role={CELL} class="cell-fluid" title={held?.fluidUnknownWhy}>
        <Word said={fluidSaid(flight)} />
      </span>
      <span role={CELL} class="cell-weather">
        {weathersSaid(flight).map((said) => (
          <Word key={said.text} said={said} />
        ))}
      </span>
    </>
  );
}

interface ChangedProps {
  readonly flight: BoardFlight;
  readonly nowMs: number;
  readonly isUnread: boolean;
}

function Changed({ flight, nowMs, isUnread }: ChangedProps) {
  const { change, departureUtc } = flight;
  const by = acknowledgedBy(flight);
  const sentence = change === null ? '' : inUnits(change.sentence, departureUtc);
  return (
    <span role={CELL} class="cell-changed" title={sentence}>
      {change === null ? (
        <span class="quiet">no change</span>
      ) : (
        <>
          <span class="changed-when">
            <b>{changeWords(change, nowMs)}</b>
            {isUnread && <span class="tag-unread">not looked at</span>}
            {by !== undefined && <span class="changed-by">seen by {by}</span>}
          </span>
          <span class="changed-what">{sentence}</span>
        </>
      )}
      <Word said={sharedSaid(flight)} />
    </span>
  );
}

function Word({ said, isLarge = false }: { readonly said: Said | undefined; readonly isLarge?: boolean }) {
  if (said === undefined) return null;
  return (
    <span class={`word word-${said.weight}${isLarge ? ' word-large' : ''}`} title={said.text}>
      <span>{said.text}</span>
    </span>
  );
}
