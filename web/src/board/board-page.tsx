/** The board: what it says in all, what went bad, the legs worst first, and what is open beside them. */
import { useEffect } from 'preact/hooks';
import { durationWords } from '../../../worker/flight/words.ts';
import { datedText } from '../numbers.ts';
import { ADVICE } from '../words.ts';
import { BadNews } from './bad-news.tsx';
import { BesidePane } from './beside-pane.tsx';
import { BoardHeadLine } from './board-head.tsx';
import { FilterBar } from './filter-bar.tsx';
import { FlightList } from './flight-list.tsx';
import { hasInventedData } from './head-words.ts';
import { KeyEntry } from './key-entry.tsx';
import { utcClock } from './leg-times.ts';
import { NoBoard } from './no-board.tsx';
import { NoticeBar } from './notice-bar.tsx';
import { PersonDialog } from './person-dialog.tsx';
import { beside, boardState, deviceMs, flights, keptMs, opening } from './store.ts';
import { isWide } from './wide.ts';

export function BoardPage({ boardId }: { readonly boardId: string | undefined }) {
  const state = boardState.value;
  const name = state?.board.name;
  useEffect(() => {
    document.title = name === undefined ? 'Board · Rimeway' : `${name} · Rimeway`;
  }, [name]);
  if (boardId === undefined)
    return (
      <>
        <NoBoard />
        <Cautions cautions={[]} />
      </>
    );
  if (state === undefined) return <NotOpen boardId={boardId} />;
  const isCovered = beside.value !== undefined && !isWide.value;
  return (
    <>
      <main class={`board-main${beside.value === undefined ? '' : ' board-has-beside'}`}>
        <div class="board-legs" inert={isCovered}>
          <BoardHeadLine />
          <Bands />
          <BadNews />
          <FilterBar />
          <FlightList />
          <MoreCautions cautions={state.cautions} />
        </div>
        <BesidePane boardId={boardId} />
      </main>
      <NoticeBar />
      <PersonDialog />
      <Cautions cautions={state.cautions} />
    </>
  );
}

function NotOpen({ boardId }: { readonly boardId: string }) {
  const now = opening.value;
  return (
    <>
      <main class="board-lone">
        <h1>Board</h1>
        {now.kind === 'asking' && <p role="status">Asking for the board: nothing is known of any leg yet.</p>}
        {now.kind === 'failed' && (
          <p role="status">{now.sentence}. Nothing is known of any leg. It is asked for again by itself.</p>
        )}
        {now.kind === 'refused' && (
          <p role="status">
            The link was refused: it opens this board no more, or never did. Nothing is known of any leg.
          </p>
        )}
        {now.kind === 'no-key' && (
          <p>This device has no link to this board. The address alone opens nothing.</p>
        )}
        {(now.kind === 'no-key' || now.kind === 'refused') && <KeyEntry boardId={boardId} />}
      </main>
      <Cautions cautions={[]} />
    </>
  );
}

/** What is to be known of the whole board before anything of it is read. */
function Bands() {
  const state = boardState.value!;
  const { standsAtUtc } = state.board;
  const ageMs = keptMs.value === undefined ? undefined : deviceMs.value - keptMs.value;
  return (
    <>
      {ageMs !== undefined && (
        <p class="board-band board-band-strong" role="status">
          From this device, as of {utcClock(state.asOfMs)} UTC
          {ageMs < 0 ? ', age unknown' : `, ${durationWords(ageMs)} old`}; what changed since is unknown.
        </p>
      )}
      {standsAtUtc !== null && (
        <p class="board-band">
          Training: this board stands at {datedText(standsAtUtc)}
          {hasInventedData(flights.value) ? ', on invented data' : ''}.
        </p>
      )}
      {standsAtUtc === null && hasInventedData(flights.value) && (
        <p class="board-band">Invented data, for trying only.</p>
      )}
    </>
  );
}

/** So many of the cautions stand at the foot of the screen all along; the others under the list. */
const ALL_ALONG = 2;

function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  const lines = cautions.some((line) => line.includes('Advice only')) ? cautions : [ADVICE, ...cautions];
  return (
    <footer class="board-cautions">
      <p>{lines.slice(0, ALL_ALONG).join(' ')}</p>
    </footer>
  );
}

function MoreCautions({ cautions }: { readonly cautions: readonly string[] }) {
  return (
    <div class="board-notes">
      {cautions.slice(ALL_ALONG).map((line) => (
        <p key={line}>{line}</p>
      ))}
    </div>
  );
}
