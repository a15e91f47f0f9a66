/** Every candidate altitude as a row that stands level with that altitude in the cross-section; the stepped profile below. */

import { computed } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { considerAltitude, considerStepped } from '../consider.ts';
import { steppedOf } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { keepInPlace } from '../keep-in-place.ts';
import { type Sheet, shownCandidates } from '../section/scales.ts';
import { considered } from '../state.ts';
import { CandidateRow, type RowFrame, RunRow } from './altitude-row.tsx';
import { gaugeWords } from './cells.ts';
import {
  type Column,
  columnPx,
  columnsOf,
  gridColumns,
  headText,
  isInTable,
  type TablePlace,
} from './columns.ts';
import { ROLE } from './roles.ts';
import { gatheredRows, notShownWords, rowOf, type TableRow } from './rows.ts';

interface AltitudeTableProps {
  readonly brief: BriefMember;
  readonly sheet: Sheet;
  readonly place: TablePlace;
}

/** Two lines of text. */
const steppedRowPx = ({ rowPx }: Sheet) => Math.max(44, Math.round(rowPx * 1.6));
const NOTE_LINE_PX = 20;
/** Characters of a note on a line, for each pixel of the table's width. */
const NOTE_CHARS_PER_PX = 0.14;

export function AltitudeTable({ brief, sheet, place }: AltitudeTableProps) {
  const isLevel = place.reach !== 'plain';
  const shown = isLevel ? shownCandidates(brief, sheet.range) : brief.alternatives;
  const hidden = brief.alternatives.filter((candidate) => !shown.includes(candidate));
  const stepped = steppedOf(brief);
  const rows = [...(isLevel ? shown.map(rowOf) : gatheredRows(shown)), ...(stepped ? [rowOf(stepped)] : [])];
  const footPx = sheet.plot.bottom + 2 + (stepped ? steppedRowPx(sheet) : 0);
  const notes = [
    notShownWords(hidden),
    isInTable(place.reach, 'temperature') ? gaugeWords(brief.limits) : '',
  ].filter((note) => note !== '');
  const columns = columnsOf(place.reach);
  const frame = { brief, columns, picture: pictureSize(place, columns, sheet) };
  return (
    <>
      <table
        role={ROLE.table}
        class={`altitudes altitudes-${place.reach}${isLevel ? ' altitudes-level' : ''}`}
        style={
          isLevel
            ? {
                height: `${Math.max(sheet.heightPx, footPx + notesPx(notes, place))}px`,
                '--columns': gridColumns(columns),
              }
            : {}
        }
      >
        <caption class="for-ears">Altitude table: what each altitude meets</caption>
        <Head columns={columns} heightPx={isLevel ? sheet.plot.top : undefined} />
        <tbody role={ROLE.group}>
          <Rows rows={rows} frame={frame} placeOf={(row) => (isLevel ? placeOf(row, sheet) : {})} />
        </tbody>
      </table>
      {notes.length > 0 && (
        <div class="table-note" style={{ top: `${footPx}px` }}>
          {notes.map((note) => (
            <p key={note}>{note}</p>
          ))}
        </div>
      )}
    </>
  );
}

/** Room for notes, which may need more than a line each. */
function notesPx(notes: readonly string[], { widthPx }: TablePlace): number {
  const lines = notes.map((note) => Math.ceil(note.length / (widthPx * NOTE_CHARS_PER_PX)));
  return NOTE_LINE_PX * lines.reduce((sum, count) => sum + count, 0) + 4;
}

/** Between a picture and the column after it. */
const PICTURE_GAP_PX = 10;
const PLAIN_PICTURE = { share: 0.28, heightPx: 12 } as const;

function pictureSize(
  { reach, widthPx }: TablePlace,
  columns: readonly Column[],
  sheet: Sheet,
): RowFrame['picture'] {
  if (reach === 'plain') {
    return { widthPx: Math.round(widthPx * PLAIN_PICTURE.share), heightPx: PLAIN_PICTURE.heightPx };
  }
  return {
    widthPx: Math.max(0, Math.floor(columnPx('path', columns, widthPx)) - PICTURE_GAP_PX),
    heightPx: Math.round(sheet.rowPx * 0.46),
  };
}

interface HeadProps {
  readonly columns: readonly Column[];
  readonly heightPx: number | undefined;
}

function Head({ columns, heightPx }: HeadProps) {
  return (
    <thead role={ROLE.group} style={heightPx === undefined ? {} : { height: `${heightPx}px` }}>
      <tr role={ROLE.row}>
        <th role={ROLE.columnHeader} scope="col">
          altitude ft
        </th>
        {columns.map((column) => (
          <th key={column.id} role={ROLE.columnHeader} scope="col" class={`cell-${column.id}`}>
            {headText(column)}
          </th>
        ))}
      </tr>
    </thead>
  );
}

interface Place {
  readonly top?: string;
  readonly height?: string;
}

function placeOf(row: TableRow, sheet: Sheet): Place {
  if (row.kind === 'run') return {};
  if (row.isStepped) return { top: `${sheet.plot.bottom + 2}px`, height: `${steppedRowPx(sheet)}px` };
  return {
    top: `${sheet.y(row.candidate.altitudeFt) - sheet.rowPx / 2}px`,
    height: `${sheet.rowPx}px`,
  };
}

interface RowsProps {
  readonly frame: RowFrame;
  readonly rows: readonly TableRow[];
  readonly placeOf: (row: TableRow) => Place;
}

/** The arrow keys go on from the row that takes part in tabbing. What is considered draws two rows anew, not all. */
function Rows({ rows, frame, placeOf }: RowsProps) {
  const choosable = useMemo(() => rows.filter((row) => row.kind === 'candidate'), [rows]);
  const consideredRow = useMemo(() => computed(() => choosable.findIndex(isConsidered)), [choosable]);
  const moveTo = (index: number, event: KeyboardEvent) => {
    const next = choosable[index];
    if (next === undefined) return;
    take(next.candidate, next.isStepped);
    const body = (event.currentTarget as Element).closest('tbody');
    requestAnimationFrame(() => body?.querySelector<HTMLElement>('button[tabindex="0"]')?.focus());
  };
  return (
    <>
      {rows.map((row) => {
        if (row.kind === 'run')
          return <RunRow key={`run ${row.upperFt}`} run={row} columnCount={frame.columns.length} />;
        const { candidate, isStepped } = row;
        const index = choosable.indexOf(row);
        return (
          <CandidateRow
            key={isStepped ? 'stepped' : candidate.altitudeFt}
            frame={frame}
            candidate={candidate}
            isStepped={isStepped}
            index={index}
            consideredRow={consideredRow}
            place={placeOf(row)}
            onTake={(row) => keepInPlace(row, () => take(candidate, isStepped))}
            onArrow={(step, event) => moveTo(index + step, event)}
          />
        );
      })}
    </>
  );
}

function take(candidate: Candidate, isStepped: boolean): void {
  if (isStepped) considerStepped(candidate);
  else considerAltitude(candidate.altitudeFt);
}

function isConsidered(row: TableRow): boolean {
  if (row.kind === 'run' || row.isStepped !== considered.value.isStepped) return false;
  return row.isStepped || row.candidate.altitudeFt === considered.value.altitudeFt;
}
