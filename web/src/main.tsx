/** Wires the page together; no logic. */
import './start-first-ask.ts';
import { render } from 'preact';
import { App } from './app.tsx';
import { keepPageOffline } from './offline.ts';
import { fitPrintsToPaper } from './share/fit-paper.ts';
import { startPage } from './start-page.ts';
import './styles/ink.css';
import './styles/base.css';
import './styles/verdict-shape.css';
import './styles/page.css';
import './styles/given.css';
import './styles/answer.css';
import './styles/entry.css';
import './styles/kept.css';
import './styles/sheet.css';
import './styles/table.css';
import './styles/strips.css';
import './styles/later.css';
import './styles/plan.css';
import './styles/print.css';

const page = document.getElementById('page');
if (page === null) throw new Error('index.html: found no element with id page, expected one');
startPage();
fitPrintsToPaper(page);
page.replaceChildren();
render(<App />, page);
keepPageOffline();
