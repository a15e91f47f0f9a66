/** A table of the flight manual as rows: altitude and value, with a weight where the manual has tables by weight. */
import { type DraftRow, emptyRow } from './aircraft-draft.ts';
import type { FigureTable } from './aircraft-figures.ts';

interface PerformanceRowsProps {
  readonly table: FigureTable;
  readonly rows: readonly DraftRow[];
  /** By place in the profile. */
  readonly complaints: Readonly<Record<string, string>>;
  readonly onRows: (rows: readonly DraftRow[]) => void;
}

const COLUMNS = ['weightKg', 'pressureAltitudeFt', 'value'] as const;

export function PerformanceRows({ table, rows, complaints, onRows }: PerformanceRowsProps) {
  const { path, label, unit } = table;
  const heads = { weightKg: 'weight, kg', pressureAltitudeFt: 'pressure altitude, ft', value: unit };
  const setCell = (index: number, column: keyof DraftRow, text: string) =>
    onRows(rows.map((row, at) => (at === index ? { ...row, [column]: text } : row)));
  return (
    <fieldset class="performance">
      <legend>{label}</legend>
      {complaints[path] !== undefined && <p class="complaint">{complaints[path]}</p>}
      <table>
        <thead>
          <tr>
            {COLUMNS.map((column) => (
              <th key={column} scope="col">
                {heads[column]}
              </th>
            ))}
            <th scope="col">
              <span class="for-ears">row</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, index) => (
            <tr key={index}>
              {COLUMNS.map((column) => (
                <Cell
                  key={column}
                  label={`${label}, row ${index + 1}, ${heads[column]}`}
                  value={row[column]}
                  complaint={complaints[`${path}.${index}.${column}`]}
                  onValue={(text) => setCell(index, column, text)}
                />
              ))}
              <td>
                <button
                  type="button"
                  disabled={rows.length === 1}
                  aria-label={`Remove row ${index + 1} of ${label}`}
                  onClick={() => onRows(rows.filter((_, at) => at !== index))}
                >
                  remove
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <button type="button" class="row-add" onClick={() => onRows([...rows, emptyRow()])}>
        Add a row to {label.toLowerCase()}
      </button>
    </fieldset>
  );
}

interface CellProps {
  readonly label: string;
  readonly value: string;
  readonly complaint: string | undefined;
  readonly onValue: (text: string) => void;
}

function Cell({ label, value, complaint, onValue }: CellProps) {
  return (
    <td>
      <input
        type="text"
        autocomplete="off"
        aria-label={label}
        value={value}
        onInput={(event) => onValue(event.currentTarget.value)}
        aria-invalid={complaint !== undefined}
      />
      {complaint !== undefined && <span class="complaint">{complaint}</span>}
    </td>
  );
}
