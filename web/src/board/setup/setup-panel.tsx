/** The set-up of a board: its legs, files in and out, and for its operator the links that open it. */
import { useState } from 'preact/hooks';
import type { BoardAccess } from '../../../../worker/schema/board.ts';
import { ExportsPart } from './exports-part.tsx';
import { faultWords } from './fault-words.ts';
import { ImportPart } from './import-part.tsx';
import { LegForm } from './leg-form.tsx';
import { LegList } from './leg-list.tsx';
import { OwnPart } from './own-part.tsx';
import { SaidLine } from './said-line.tsx';
import './setup.css';
import { useAircraft } from './use-aircraft.ts';
import { useLegs } from './use-legs.ts';

export interface SetupPanelProps {
  readonly boardId: string;
  readonly boardKey: string;
  readonly access: BoardAccess;
  /** The board's own. */
  readonly timeZone: string;
  /** Where the page has one at hand; else it is typed, and never kept. */
  readonly operatorKey?: string | undefined;
}

export function SetupPanel(props: SetupPanelProps) {
  const { boardId, boardKey, access, timeZone, operatorKey = '' } = props;
  const legs = useLegs(boardId, boardKey);
  const aircraft = useAircraft();
  const [editing, setEditing] = useState<string>();
  const mayEdit = access === 'edit';
  const edit = (which: string | undefined) => {
    legs.writing.say(undefined);
    setEditing(which);
  };
  const known = legs.answer?.kind === 'ok' ? legs.answer.value.legs : [];
  const edited = known.find(({ id }) => id === editing);
  const isOpen = mayEdit && (editing === 'new' || edited !== undefined);
  return (
    <div class="setup">
      <section aria-labelledby="setup-legs">
        <h2 id="setup-legs">Legs of the schedule</h2>
        <LegsState answer={legs.answer} />
        {mayEdit && !isOpen && (
          <button type="button" class="setup-main" onClick={() => edit('new')}>
            Add a leg
          </button>
        )}
        {isOpen && (
          <LegForm
            key={editing}
            stored={edited}
            aircraft={aircraft}
            timeZone={timeZone}
            isBusy={legs.writing.isBusy}
            onSave={async (leg) => {
              if (await (edited === undefined ? legs.add(leg) : legs.change(edited.id, leg)))
                setEditing(undefined);
            }}
            onClose={() => edit(undefined)}
          />
        )}
        <SaidLine {...legs.writing} />
        <LegList legs={known} {...(mayEdit ? { onEdit: edit, onRemove: legs.remove } : {})} />
      </section>
      {mayEdit && (
        <ImportPart
          boardId={boardId}
          boardKey={boardKey}
          timeZone={timeZone}
          aircraftId={aircraft[0]?.id ?? 'id-of-an-aircraft'}
          legCount={legs.answer?.kind === 'ok' ? known.length : undefined}
          onStored={legs.reload}
        />
      )}
      <ExportsPart boardId={boardId} boardKey={boardKey} hasLog={mayEdit} />
      {mayEdit && <OwnPart boardId={boardId} operatorKey={operatorKey} />}
    </div>
  );
}

function LegsState({ answer }: Pick<ReturnType<typeof useLegs>, 'answer'>) {
  if (answer === undefined) return <p role="status">Asking for the legs…</p>;
  if (answer.kind === 'abandoned') return null;
  if (answer.kind !== 'ok')
    return (
      <p class="complaint" role="status">
        The legs are not known: {faultWords(answer)}
      </p>
    );
  const { length } = answer.value.legs;
  if (length === 0) return <p role="status">The schedule has no leg yet: the board stays empty.</p>;
  return <p class="quiet">{length === 1 ? '1 leg' : `${length} legs`} on the schedule.</p>;
}
