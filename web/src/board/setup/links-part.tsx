/** The links that open the board: which there are, a new one, and taking one back. */
import { useState } from 'preact/hooks';
import {
  type BoardAccess,
  boardAccess,
  type CreatedLink,
  type LinksAnswer,
} from '../../../../worker/schema/board.ts';
import { deleteBoardLink, getBoardLinks, postBoardLink } from '../../../../worker/schema/calls-board.ts';
import { call } from '../../client/call.ts';
import { LabelledInput } from '../../labelled-input.tsx';
import { datedText } from '../../numbers.ts';
import type { Own } from './own-part.tsx';
import { SaidLine } from './said-line.tsx';
import { SureButton } from './sure-button.tsx';
import { useWriting } from './use-writing.ts';

const ACCESS_WORDS: Readonly<Record<BoardAccess, string>> = { view: 'may look', edit: 'may change' };

export function LinksPart({ boardId, ownKey }: Own) {
  const [links, setLinks] = useState<LinksAnswer['links']>();
  const [created, setCreated] = useState<CreatedLink>();
  const writing = useWriting();
  const options = { key: ownKey };
  const path = { board: boardId };
  const load = async () => {
    const answer = await call(getBoardLinks, { path }, options);
    if (answer.kind === 'ok') setLinks(answer.value.links);
    return answer;
  };
  const show = () =>
    void writing.write(load, ({ links: found }) =>
      found.length === 1 ? '1 link.' : `${found.length} links.`,
    );
  const make = async (access: BoardAccess, label: string) => {
    const isMade = await writing.write(
      async () => {
        const answer = await call(postBoardLink, { path, body: { access, label } }, options);
        if (answer.kind === 'ok') setCreated(answer.value);
        return answer;
      },
      () => 'The link is made. It is shown this once.',
    );
    if (isMade) await load();
  };
  const revoke = async (keyId: string, label: string) => {
    const isDone = await writing.write(
      () => call(deleteBoardLink, { path: { ...path, keyId } }, options),
      () => `Taken back: “${label}” opens nothing any more.`,
    );
    if (isDone) await load();
  };
  return (
    <section aria-labelledby="setup-links">
      <h3 id="setup-links">Links</h3>
      <NewLink isBusy={writing.isBusy} onMake={(access, label) => void make(access, label)} />
      {created && <CreatedLine created={created} onDone={() => setCreated(undefined)} />}
      {links === undefined && (
        <button type="button" disabled={writing.isBusy} onClick={show}>
          Show all links
        </button>
      )}
      <SaidLine {...writing} />
      <ul class="setup-links">
        {links?.map(({ keyId, access, label, createdUtc, revokedUtc }) => (
          <li key={keyId}>
            <span>
              <b>{label}</b>, {ACCESS_WORDS[access]}, made {datedText(createdUtc)}
              {revokedUtc !== null && `, taken back ${datedText(revokedUtc)}`}
            </span>
            {revokedUtc === null && (
              <SureButton
                label="Take back"
                question={`Take back “${label}”? Whoever uses it is shut out at once.`}
                answer="Take it back"
                isDisabled={writing.isBusy}
                onSure={() => void revoke(keyId, label)}
              />
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface NewLinkProps {
  readonly isBusy: boolean;
  readonly onMake: (access: BoardAccess, label: string) => void;
}

function NewLink({ isBusy, onMake }: NewLinkProps) {
  const [label, setLabel] = useState('');
  const [access, setAccess] = useState<BoardAccess>('view');
  return (
    <form
      class="setup-new-link"
      onSubmit={(event) => {
        event.preventDefault();
        if (label.trim() !== '') onMake(access, label.trim());
      }}
    >
      <LabelledInput
        id="setup-link-label"
        label="Whom a new link is for"
        hint="night desk"
        value={label}
        onText={setLabel}
      />
      <fieldset class="setup-days">
        <legend>It</legend>
        {boardAccess.map((one) => (
          <button key={one} type="button" aria-pressed={one === access} onClick={() => setAccess(one)}>
            {ACCESS_WORDS[one]}
          </button>
        ))}
      </fieldset>
      <button type="submit" class="setup-main" disabled={isBusy || label.trim() === ''}>
        Make the link
      </button>
    </form>
  );
}

/** Its secret is told this once. */
function CreatedLine({ created, onDone }: { readonly created: CreatedLink; readonly onDone: () => void }) {
  const [isCopied, setCopied] = useState(false);
  const link = new URL(created.link, location.origin).href;
  const copy = () =>
    void navigator.clipboard?.writeText(link).then(
      () => setCopied(true),
      () => undefined,
    );
  return (
    <div class="setup-created">
      <p>
        Give it to whom it is for, now: nobody can show it again. Whoever has it{' '}
        {ACCESS_WORDS[created.access]} {created.access === 'view' ? 'at the board' : 'the board'}.
      </p>
      <p>
        <code>{link}</code>
      </p>
      <p class="setup-buttons">
        <button type="button" onClick={copy}>
          {isCopied ? 'Copied' : 'Copy the link'}
        </button>
        <button type="button" onClick={onDone}>
          Hide it
        </button>
      </p>
    </div>
  );
}
