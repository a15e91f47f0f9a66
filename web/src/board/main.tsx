/** Wires the board's page together; no logic. */
import { render } from 'preact';
import { boardIdOf } from './board-key.ts';
import { BoardPage } from './board-page.tsx';
import { keepBoardPageOffline } from './keep-offline.ts';
import { startBoard } from './start-board.ts';
import { readView } from './view-address.ts';
import '../styles/ink.css';
import '../styles/base.css';
import '../styles/verdict-shape.css';
import '../styles/board.css';
import '../styles/board-list.css';
import '../styles/board-beside.css';

const page = document.getElementById('board');
if (page === null) throw new Error('board.html: found no element with id board, expected one');
const boardId = boardIdOf(location.pathname);
if (boardId !== undefined) {
  readView();
  startBoard(boardId);
}
page.replaceChildren();
render(<BoardPage boardId={boardId} />, page);
keepBoardPageOffline();
