/** The hand-over of a shift: everything the next one takes on, worst first, for paper and black ink. */
import type { BoardAnswer } from '../../../../worker/schema/board.ts';
import { VerdictShape } from '../../answer/verdict-shape.tsx';
import { ADVICE, VERDICT_WORDS } from '../../words.ts';
import './handover.css';
import './handover-print.css';
import { type Line, type Sheet, type SheetRow, sheetOf } from './sheet.ts';
import { localClock, utcMinute } from './sheet-times.ts';

/** @param board  With what the page itself knows of ages already in its verdicts. */
export function HandoverSheet({ board }: { readonly board: BoardAnswer }) {
  const sheet = sheetOf(board);
  return (
    <article class="handover-sheet" aria-labelledby="handover-title">
      <SheetHead board={board} sheet={sheet} />
      {sheet.rows.length === 0 ? (
        <p>No flight is ahead on this board.</p>
      ) : (
        <FlightTable {...{ board, sheet }} />
      )}
      {sheet.done.length > 0 && (
        <section class="handover-done">
          <h3>Arrived or cancelled</h3>
          <ul>
            {sheet.done.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </section>
      )}
      <Signatures />
    </article>
  );
}

interface SheetProps {
  readonly board: BoardAnswer;
  readonly sheet: Sheet;
}

function SheetHead({ board, sheet }: SheetProps) {
  const { asOfUtc, cautions } = board;
  const { standsAtUtc, timeZone } = board.board;
  const said = cautions.some((line) => line.includes('Advice only')) ? cautions : [ADVICE, ...cautions];
  return (
    <header class="handover-head">
      <div class="handover-title">
        <h2 id="handover-title">Shift hand-over: {board.board.name}</h2>
        <button type="button" class="handover-print" onClick={() => window.print()}>
          Print
        </button>
      </div>
      <p>
        As of <b>{utcMinute(asOfUtc)}</b> ({localClock(asOfUtc, timeZone) ?? '?'} {timeZone}).{' '}
        {standsAtUtc !== null && <b>For training: the board stands at this instant. </b>}
        {sheet.isInvented && <b>Invented data, for trying only. </b>}
        {sheet.age}.{board.waiting > 0 && ` ${board.waiting} flights wait to be worked out again.`}
      </p>
      <ul class="handover-counts" aria-label="Flights by verdict">
        {sheet.counts.map(({ verdict, count }) => (
          <li key={verdict}>
            <VerdictShape code={verdict} sizePx={18} />
            <span>
              {VERDICT_WORDS[verdict]}: <b>{count}</b>
            </span>
          </li>
        ))}
        <li>
          Overdue: <b>{sheet.overdue}</b>
        </li>
      </ul>
      <p class="handover-cautions">{said.join(' ')}</p>
    </header>
  );
}

/** Heads of the columns; on a phone they stand before their cells. */
const COLUMNS = [
  'Departs',
  'Flight',
  'Verdict',
  'Altitude, radio',
  'Fluid, equipment',
  'Destination, alternate',
  'Last change',
  'Remarks',
] as const;

function FlightTable({ board, sheet }: SheetProps) {
  return (
    <table class="handover-flights">
      <colgroup>
        {COLUMNS.map((name) => (
          <col key={name} />
        ))}
      </colgroup>
      <thead>
        <tr class="handover-running">
          <td colSpan={COLUMNS.length}>
            {board.board.name}, as of {utcMinute(board.asOfUtc)}. {sheet.age}. {ADVICE}
          </td>
        </tr>
        <tr>
          {COLUMNS.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {sheet.rows.map((row) => (
          <FlightRow key={row.id} row={row} />
        ))}
      </tbody>
    </table>
  );
}

function FlightRow({ row }: { readonly row: SheetRow }) {
  const { verdict } = row;
  return (
    <tr class={`handover-${verdict}`}>
      <Cell label={COLUMNS[0]} lines={row.time} />
      <Cell label={COLUMNS[1]} lines={row.flight} />
      <td data-label={COLUMNS[2]}>
        <p class="handover-verdict">
          <VerdictShape code={verdict} sizePx={18} />
          <b>{VERDICT_WORDS[verdict]}</b>
        </p>
        <Lines lines={row.why} />
      </td>
      <Cell label={COLUMNS[3]} lines={row.altitude} />
      <Cell label={COLUMNS[4]} lines={row.equipment} />
      <Cell label={COLUMNS[5]} lines={row.weather} />
      <Cell label={COLUMNS[6]} lines={row.change} />
      <td class="handover-remarks" />
    </tr>
  );
}

function Cell({ label, lines }: { readonly label: string; readonly lines: readonly Line[] }) {
  return (
    <td data-label={label}>
      <Lines lines={lines} />
    </td>
  );
}

function Lines({ lines }: { readonly lines: readonly Line[] }) {
  return (
    <>
      {lines.map(({ text, isGrave }) => (
        <p key={text}>{isGrave === true ? <b>{text}</b> : text}</p>
      ))}
    </>
  );
}

const SIGNED = ['Handed over by', 'At (UTC)', 'Taken over by', 'At (UTC)'] as const;

function Signatures() {
  return (
    <section class="handover-signed">
      <h3>Remarks and names of the shift</h3>
      <div class="handover-lines" aria-hidden="true">
        <span />
        <span />
        <span />
      </div>
      <dl>
        {SIGNED.map((name, at) => (
          <div key={`${name} ${at}`}>
            <dt>{name}</dt>
            <dd />
          </div>
        ))}
      </dl>
    </section>
  );
}
