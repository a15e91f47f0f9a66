/** For the operator of the board: its links, its audit, and names taken off the log. The key is typed and never kept. */
import { useState } from 'preact/hooks';
import { deleteBoardPerson } from '../../../../worker/schema/calls-board.ts';
import { call } from '../../client/call.ts';
import { isSendable } from '../../flight/operator-key.ts';
import { LabelledInput } from '../../labelled-input.tsx';
import { AuditPart } from './audit-part.tsx';
import { LinksPart } from './links-part.tsx';
import { SaidLine } from './said-line.tsx';
import { SureButton } from './sure-button.tsx';
import { useWriting } from './use-writing.ts';

interface OwnPartProps {
  readonly boardId: string;
  readonly operatorKey: string;
}

/** What the parts below call with. */
export interface Own {
  readonly boardId: string;
  readonly ownKey: string;
}

export function OwnPart({ boardId, operatorKey }: OwnPartProps) {
  const [typed, setTyped] = useState(operatorKey);
  const ownKey = typed.trim();
  const isWrong = ownKey !== '' && !isSendable(ownKey);
  const own = { boardId, ownKey };
  return (
    <section aria-labelledby="setup-own">
      <h2 id="setup-own">For the operator of the board</h2>
      <p>Links, audit and names need the operator’s key. It is forgotten when this view is shut.</p>
      <LabelledInput
        id="setup-operator-key"
        label="Key of the operator"
        isSecret
        value={typed}
        isWrong={isWrong}
        words={isWrong ? 'found blanks or letters that no key has, expected a key without' : ''}
        onText={setTyped}
      />
      {ownKey !== '' && !isWrong && (
        <div class="setup-own">
          <LinksPart {...own} />
          <NamePart {...own} />
          <AuditPart {...own} />
        </div>
      )}
    </section>
  );
}

function NamePart({ boardId, ownKey }: Own) {
  const [person, setPerson] = useState('');
  const writing = useWriting();
  const name = person.trim();
  return (
    <section aria-labelledby="setup-name">
      <h3 id="setup-name">A person’s name</h3>
      <p>Their entries of the log go; marks and tails stay without the name.</p>
      <LabelledInput
        id="setup-person"
        label="Name, as it stands in the log"
        value={person}
        onText={setPerson}
      />
      <SureButton
        label="Take the name off"
        question={`Take “${name}” off the board and its log for good?`}
        answer="Take it off"
        isDisabled={name === '' || writing.isBusy}
        onSure={() =>
          void writing.write(
            () =>
              call(deleteBoardPerson, { path: { board: boardId }, query: { person: name } }, { key: ownKey }),
            ({ deleted }) =>
              deleted === 0
                ? `Nothing on the board bears the name “${name}”: found 0 rows, expected it as the log writes it.`
                : `Taken off ${deleted === 1 ? '1 row' : `${deleted} rows`}.`,
          )
        }
      />
      <SaidLine {...writing} />
    </section>
  );
}
