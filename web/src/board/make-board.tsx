/** Makes a board, for who has an operator's key. That key is asked for each time and never kept. */
import { useState } from 'preact/hooks';
import { type CreatedBoard, createBoardSchema } from '../../../worker/schema/board.ts';
import { postBoards } from '../../../worker/schema/calls-board.ts';
import { call } from '../client/call.ts';
import { LabelledInput } from '../labelled-input.tsx';
import { keepKey } from './board-key.ts';
import { failureWords } from './failure-words.ts';

const ownZone = () => Intl.DateTimeFormat().resolvedOptions().timeZone;

export function MakeBoard() {
  const [created, setCreated] = useState<CreatedBoard>();
  return (
    <section class="make-board" aria-labelledby="make-board-title">
      <h2 id="make-board-title">Make a board</h2>
      {created === undefined ? <Asked onCreated={setCreated} /> : <Created created={created} />}
    </section>
  );
}

function Asked({ onCreated }: { readonly onCreated: (created: CreatedBoard) => void }) {
  const [name, setName] = useState('');
  const [timeZone, setTimeZone] = useState(ownZone);
  const [key, setKey] = useState('');
  const [words, setWords] = useState('');
  const [isBusy, setBusy] = useState(false);
  const body = createBoardSchema.safeParse({ name, timeZone: timeZone.trim() }).data;
  const isZone = createBoardSchema.shape.timeZone.safeParse(timeZone.trim()).success;
  const make = async () => {
    if (body === undefined || isBusy) return;
    setBusy(true);
    setWords('One moment…');
    const answer = await call(postBoards, { body }, { key: key.trim() });
    setBusy(false);
    if (answer.kind !== 'ok') return setWords(`Not made: ${failureWords(answer)}`);
    keepEditKey(answer.value);
    onCreated(answer.value);
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void make();
      }}
    >
      <p class="quiet">For who has an operator’s key. The key is not kept on this device.</p>
      <LabelledInput id="make-name" label="Name" value={name} onText={setName} />
      <LabelledInput
        id="make-zone"
        label="Time zone"
        value={timeZone}
        isWrong={!isZone}
        words={isZone ? '' : 'An IANA time zone such as America/New_York'}
        onText={setTimeZone}
      />
      <LabelledInput id="make-key" label="Operator’s key" value={key} isSecret onText={setKey} />
      <button type="submit" disabled={isBusy || body === undefined || key.trim() === ''}>
        Make the board
      </button>
      <p role="status" class={isBusy ? 'quiet' : 'complaint'}>
        {words}
      </p>
    </form>
  );
}

/** The link that may change the board opens it on this device from now on. */
function keepEditKey({ id, links }: CreatedBoard): void {
  const link = links.find(({ access }) => access === 'edit') ?? links[0];
  if (link !== undefined) keepKey({ boardId: id, key: link.key });
}

const LINK_WORDS = {
  edit: 'Who has this link may change the board',
  view: 'Who has this link may look at it',
};

function Created({ created: { id, links } }: { readonly created: CreatedBoard }) {
  return (
    <>
      <p role="status">
        The board is made. Keep both links now: nobody can show them again. This device keeps the one that may
        change it.
      </p>
      {links.map(({ keyId, access, link }) => (
        <LinkLine key={keyId} words={LINK_WORDS[access]} link={new URL(link, location.origin).href} />
      ))}
      <p>
        <a class="make-open" href={`/board/${id}`}>
          Open the board
        </a>
      </p>
    </>
  );
}

function LinkLine({ words, link }: { readonly words: string; readonly link: string }) {
  const [isCopied, setCopied] = useState(false);
  const copy = () =>
    void navigator.clipboard?.writeText(link).then(
      () => setCopied(true),
      () => undefined,
    );
  return (
    <p class="make-link">
      <span>{words}:</span>
      <code>{link}</code>
      <button type="button" aria-label={`${isCopied ? 'Copied' : 'Copy'}: ${words}`} onClick={copy}>
        {isCopied ? 'Copied' : 'Copy'}
      </button>
    </p>
  );
}
