/** Legs from a CSV file: chosen or dropped, looked at, stored, and every line that was not with its reason. */
import { useState } from 'preact/hooks';
import type { ImportAnswer } from '../../../../worker/schema/board.ts';
import { importBoardLegs } from '../../../../worker/schema/calls-board.ts';
import { call } from '../../client/call.ts';
import { CSV_COLUMNS, csvTemplate, rowsIn } from './csv-template.ts';
import { SaidLine } from './said-line.tsx';
import { saveFile } from './save-file.ts';
import { SureButton } from './sure-button.tsx';
import { useWriting } from './use-writing.ts';

interface ImportPartProps {
  readonly boardId: string;
  readonly boardKey: string;
  readonly timeZone: string;
  readonly aircraftId: string;
  /** On the board now; undefined while nobody knows. */
  readonly legCount: number | undefined;
  readonly onStored: () => void;
}

interface Chosen {
  readonly name: string;
  readonly csv: string;
}

/** As many bytes of CSV as the service reads. */
const MOST_BYTES = 1_048_576;
const TIMEOUT_MS = 60_000;

export function ImportPart(props: ImportPartProps) {
  const { boardId, boardKey, onStored } = props;
  const [chosen, setChosen] = useState<Chosen>();
  const [result, setResult] = useState<ImportAnswer>();
  const writing = useWriting();
  const choose = async (file: File | undefined) => {
    if (file === undefined) return;
    setResult(undefined);
    setChosen(undefined);
    if (file.size > MOST_BYTES)
      return writing.say({
        isFault: true,
        sentence: `${file.name}: found ${file.size} bytes, expected at most ${MOST_BYTES}.`,
      });
    writing.say(undefined);
    setChosen({ name: file.name, csv: await file.text() });
  };
  const store = async (replace: boolean) => {
    if (chosen === undefined) return;
    const input = { path: { board: boardId }, query: { replace }, body: chosen.csv };
    const isDone = await writing.write(async () => {
      const answer = await call(importBoardLegs, input, { key: boardKey, timeoutMs: TIMEOUT_MS });
      if (answer.kind === 'ok') setResult(answer.value);
      return answer;
    }, importWords);
    if (isDone) setChosen(undefined);
    if (isDone) onStored();
  };
  return (
    <section aria-labelledby="setup-import">
      <h2 id="setup-import">Legs from a file</h2>
      <TemplateLine {...props} />
      <FileDrop onFile={(file) => void choose(file)} />
      {chosen && (
        <ChosenFile
          chosen={chosen}
          legCount={props.legCount}
          isBusy={writing.isBusy}
          onStore={(replace) => void store(replace)}
        />
      )}
      <SaidLine {...writing} />
      {result && <RefusedLines result={result} />}
    </section>
  );
}

/** What became of a file. */
export function importWords({ stored, rejected }: ImportAnswer): string {
  const legs = (count: number) => (count === 1 ? '1 leg' : `${count} legs`);
  const refused = rejected.length === 0 ? 'no line was refused' : `${rejected.length} lines were refused`;
  if (stored === 0) return `Nothing was stored, and the schedule is as it was: ${refused}.`;
  return `${legs(stored)} stored; ${refused}.`;
}

function TemplateLine({ aircraftId, timeZone }: ImportPartProps) {
  return (
    <p>
      CSV in UTF-8 with a header of these columns, in any order: {CSV_COLUMNS.join(', ')}.{' '}
      <button
        type="button"
        class="setup-link"
        onClick={() => saveFile('legs-example.csv', 'text/csv', csvTemplate(aircraftId, timeZone))}
      >
        Take an example file
      </button>{' '}
      (its one leg is invented).
    </p>
  );
}

function FileDrop({ onFile }: { readonly onFile: (file: File | undefined) => void }) {
  const [isOver, setOver] = useState(false);
  return (
    <label
      class={isOver ? 'setup-drop setup-drop-over' : 'setup-drop'}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        onFile(event.dataTransfer?.files[0]);
      }}
    >
      <span>Choose a CSV file, or drop it here</span>
      <input
        type="file"
        accept=".csv,text/csv"
        onChange={({ currentTarget }) => {
          onFile(currentTarget.files?.[0]);
          // The same file, mended, may be chosen again.
          currentTarget.value = '';
        }}
      />
    </label>
  );
}

interface ChosenFileProps {
  readonly chosen: Chosen;
  readonly legCount: number | undefined;
  readonly isBusy: boolean;
  readonly onStore: (replace: boolean) => void;
}

function ChosenFile({ chosen, legCount, isBusy, onStore }: ChosenFileProps) {
  const rows = rowsIn(chosen.csv);
  const now = legCount === undefined ? 'all legs of the board' : `all ${legCount} legs of the board`;
  return (
    <div class="setup-chosen">
      <p>
        <b>{chosen.name}</b>: about {rows} legs. Nothing is stored yet.
      </p>
      <p class="setup-buttons">
        <button type="button" class="setup-main" disabled={isBusy} onClick={() => onStore(false)}>
          Add them
        </button>
        <SureButton
          label="Put them in the place of all legs"
          question={`Remove ${now} and store about ${rows} of this file instead?`}
          answer={`Replace ${now}`}
          isDisabled={isBusy}
          onSure={() => onStore(true)}
        />
      </p>
    </div>
  );
}

function RefusedLines({ result: { rejected } }: { readonly result: ImportAnswer }) {
  if (rejected.length === 0) return null;
  return (
    <table class="setup-table">
      <caption>Lines that were refused; the header is line 1</caption>
      <thead>
        <tr>
          <th scope="col">Line</th>
          <th scope="col">Reason</th>
        </tr>
      </thead>
      <tbody>
        {rejected.map(({ line, reason }) => (
          <tr key={`${line} ${reason}`}>
            <td>{line}</td>
            <td>{reason}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
