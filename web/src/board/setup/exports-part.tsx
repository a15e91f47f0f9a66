/** The board as files. */
import { getBoardCsv, getBoardGeojson, getBoardLogCsv } from '../../../../worker/schema/calls-board.ts';
import { call } from '../../client/call.ts';
import { SaidLine } from './said-line.tsx';
import { saveFile } from './save-file.ts';
import { useWriting } from './use-writing.ts';

interface ExportsPartProps {
  readonly boardId: string;
  readonly boardKey: string;
  /** The log is for those who may change the board. */
  readonly hasLog: boolean;
}

const FLIGHTS = [
  { label: 'Flights as CSV', file: 'board-flights.csv', type: 'text/csv', entry: getBoardCsv },
  {
    label: 'Flights as GeoJSON',
    file: 'board-flights.geojson',
    type: 'application/geo+json',
    entry: getBoardGeojson,
  },
] as const;
const LOG = { label: 'Log as CSV', file: 'board-log.csv', type: 'text/csv', entry: getBoardLogCsv } as const;

export function ExportsPart({ boardId, boardKey, hasLog }: ExportsPartProps) {
  const writing = useWriting();
  const files = hasLog ? [...FLIGHTS, LOG] : FLIGHTS;
  return (
    <section aria-labelledby="setup-exports">
      <h2 id="setup-exports">Files of the board</h2>
      <p class="setup-buttons">
        {files.map(({ label, file, type, entry }) => (
          <button
            key={label}
            type="button"
            disabled={writing.isBusy}
            onClick={() =>
              void writing.write(
                () => call(entry, { path: { board: boardId } }, { key: boardKey }),
                (text) => {
                  saveFile(file, type, String(text));
                  return `${file} is saved where your browser puts files.`;
                },
              )
            }
          >
            {label}
          </button>
        ))}
      </p>
      <SaidLine {...writing} />
    </section>
  );
}
