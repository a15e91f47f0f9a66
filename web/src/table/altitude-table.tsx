/** Every candidate altitude as a row that stands level with that altitude in the cross-section; the stepped profile below. */
import { steppedOf } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { keepInPlace } from '../keep-in-place.ts';
import { type Sheet, shownCandidates } from '../section/scales.ts';
import { considerAltitude, considered, considerStepped } from '../state.ts';
import { CandidateRow, RunRow } from './altitude-row.tsx';
import { gatheredRows, notShownWords, rowOf, type TableRow } from './rows.ts';

interface AltitudeTableProps {
  readonly brief: BriefMember;
  readonly sheet: Sheet;
  /** Rows placed on the altitude axis; otherwise one under the other. */
  readonly isLevel: boolean;
}

/** Two lines of text. */
const STEPPED_ROW_PX = 44;
const NOTE_PX = 22;

export function AltitudeTable({ brief, sheet, isLevel }: AltitudeTableProps) {
  const shown = isLevel ? shownCandidates(brief, sheet.range) : brief.alternatives;
  const hidden = brief.alternatives.filter((candidate) => !shown.includes(candidate));
  const stepped = steppedOf(brief);
  const rows = [...(isLevel ? shown.map(rowOf) : gatheredRows(shown)), ...(stepped ? [rowOf(stepped)] : [])];
  const footPx = sheet.plot.bottom + 2 + (stepped ? STEPPED_ROW_PX : 0);
  const note = notShownWords(hidden);
  return (
    <>
      <table
        class={isLevel ? 'altitudes altitudes-level' : 'altitudes'}
        style={isLevel ? { height: `${Math.max(sheet.heightPx, footPx + NOTE_PX)}px` } : {}}
      >
        <caption class="for-ears">Altitude table: what each altitude meets</caption>
        <Head heightPx={isLevel ? sheet.plot.top : undefined} />
        <tbody>
          <Rows rows={rows} placeOf={(row) => (isLevel ? placeOf(row, sheet) : {})} />
        </tbody>
      </table>
      {note !== '' && (
        <p class="table-note" style={{ top: `${footPx}px` }}>
          {note}
        </p>
      )}
    </>
  );
}

function Head({ heightPx }: { readonly heightPx: number | undefined }) {
  return (
    <thead style={heightPx === undefined ? {} : { height: `${heightPx}px` }}>
      <tr>
        <th scope="col">altitude ft</th>
        <th scope="col">ice min</th>
        <th scope="col">unknown min</th>
        <th scope="col">built mm</th>
        <th scope="col">fluid L</th>
        <th scope="col">time h:min</th>
        <th scope="col" class="wide-only">
          fuel kg
        </th>
        <th scope="col" class="wide-only">
          wind kt
        </th>
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
  if (row.isStepped) return { top: `${sheet.plot.bottom + 2}px`, height: `${STEPPED_ROW_PX}px` };
  return {
    top: `${sheet.y(row.candidate.altitudeFt) - sheet.rowPx / 2}px`,
    height: `${sheet.rowPx}px`,
  };
}

interface RowsProps {
  readonly rows: readonly TableRow[];
  readonly placeOf: (row: TableRow) => Place;
}

/** One row takes part in tabbing: the considered one, or the first when none is. The arrow keys go on from there. */
function Rows({ rows, placeOf }: RowsProps) {
  const choosable = rows.filter((row) => row.kind === 'candidate');
  const stop = Math.max(0, choosable.findIndex(isConsidered));
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
        if (row.kind === 'run') return <RunRow key={`run ${row.upperFt}`} run={row} />;
        const { candidate, isStepped } = row;
        const index = choosable.indexOf(row);
        return (
          <CandidateRow
            key={isStepped ? 'stepped' : candidate.altitudeFt}
            candidate={candidate}
            isStepped={isStepped}
            isConsidered={isConsidered(row)}
            isTabStop={index === stop}
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
