/** What an address without a board shows: the boards that this device opens, and how one is made. */
import { useEffect, useState } from 'preact/hooks';
import { keptBoardIds } from './board-key.ts';
import { keptBoard } from './kept-board.ts';
import { MakeBoard } from './make-board.tsx';
import './no-board.css';

export function NoBoard() {
  return (
    <main class="board-lone">
      <h1>Boards</h1>
      <p>This address names no board.</p>
      <KnownBoards />
      <MakeBoard />
    </main>
  );
}

function KnownBoards() {
  const [ids] = useState(keptBoardIds);
  const [names, setNames] = useState<ReadonlyMap<string, string>>(new Map());
  useEffect(() => {
    void Promise.all(
      ids.map(async (id) => [id, (await keptBoard(id))?.answer.board.name ?? ''] as const),
    ).then((entries) => setNames(new Map(entries)));
  }, []);
  return (
    <section class="known-boards" aria-labelledby="known-boards-title">
      <h2 id="known-boards-title">Boards of this device</h2>
      {ids.length === 0 ? (
        <p class="quiet">This device has no link to a board. Open the link that you were given.</p>
      ) : (
        <ul>
          {ids.map((id) => (
            <li key={id}>
              <a href={`/board/${id}`}>{names.get(id) || `Board ${id}, its name not kept here`}</a>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
